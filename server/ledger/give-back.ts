import type { Tx } from '../database/book.ts';
import { type Param, prepared } from '../database/statements.ts';
import { inForce } from './standing.ts';
import { giveBackWeighed } from './supplies.ts';

/** A start that is undone takes its log along, and what was weighed for it goes back to the stock. */
export function giveBackLogs(
  tx: Tx,
  entries: readonly { readonly kind: string; readonly batch_id: number | null }[],
): void {
  const batchIds = entries.flatMap(({ kind, batch_id: id }) =>
    kind === 'sent-to-dye' && id !== null ? [id] : [],
  );
  for (const id of new Set(batchIds))
    if (tx.first(stillSent(id)) === undefined) giveBackWeighed(tx, logOf(tx, id));
}

const stillSent = prepared((db, batchId: Param<number>) =>
  db
    .selectFrom('entry')
    .select('entry.id')
    .where('entry.batch_id', '=', batchId)
    .where('entry.kind', '=', 'sent-to-dye')
    .where(inForce('entry')),
);
const logOfBatch = prepared((db, batchId: Param<number>) =>
  db.selectFrom('batch_log').select('id').where('batch_id', '=', batchId).where('kind', '=', 'weighed'),
);

function logOf(tx: Tx, batchId: number): number[] {
  return tx.all(logOfBatch(batchId)).map(({ id }) => id);
}
