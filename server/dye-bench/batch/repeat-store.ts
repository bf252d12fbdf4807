import type { Reader } from '../../database/book.ts';
import { batchPath } from '../../kit/paths.ts';
import type { LogRow } from '../pot/log-store.ts';

/** The batch that a batch repeats. */
export function readRepeated(
  reader: Reader,
  batchId: number,
): { readonly id: number; readonly code: string; readonly href: string } | null {
  const row = reader.first(
    reader.db
      .selectFrom('batch_repeat')
      .innerJoin('batch', 'batch.id', 'batch_repeat.of_id')
      .select(['batch.id', 'batch.code'])
      .where('batch_repeat.batch_id', '=', batchId),
  );
  return row ? { ...row, href: batchPath(row.code) } : null;
}

/** The lots of the dyes that were weighed, by name. */
export function lotsWeighed(log: readonly LogRow[]): ReadonlyMap<string, string> {
  const weighed = log.filter(({ kind, dyeLot }) => kind === 'weighed' && dyeLot !== '');
  return new Map(weighed.map(({ what, dyeLot }) => [what, dyeLot]));
}

/** Dyes that came from another lot than in the batch that is repeated: their shade may differ. */
export function otherLots(log: readonly LogRow[], before: readonly LogRow[]): string[] {
  const was = lotsWeighed(before);
  return [...lotsWeighed(log)].flatMap(([name, lot]) => {
    const old = was.get(name);
    return old === undefined || old === lot ? [] : [`${name}: lot ${lot} here, ${old} there`];
  });
}
