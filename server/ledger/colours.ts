import type { Reader, Tx } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { conflict } from '../refusal.ts';

/**
 * Which of these requests kept readings of colours, judgements or dyed swatches that still stand. A reading that came with a verdict on a
 * swatch stays with it.
 */
export function whichColoursCanUndo(reader: Reader, requestKeys: readonly string[]): string[] {
  if (requestKeys.length === 0) return [];
  const rows = [
    ...reader.all(readingsOf(requestKeys)),
    ...reader.all(judgementsOf(requestKeys)),
    ...reader.all(swatchesOf(requestKeys)),
  ];
  const standing = rows.filter(({ undone_key: key }) => key === null);
  return [...new Set(standing.flatMap(({ request_key: key }) => key ?? []))];
}

/**
 * Takes back the readings, judgements and dyed swatches of a request. False where it kept none.
 * @throws {Refusal} conflict where they were taken back already
 */
export function undoColours(tx: Tx, requestKey: string): boolean {
  const undone = { undone_key: tx.requestKey };
  const readings = tx.all(readingsOf([requestKey]));
  const judgements = tx.all(judgementsOf([requestKey]));
  const swatches = tx.all(swatchesOf([requestKey]));
  const kept = [...readings, ...judgements, ...swatches];
  if (kept.some(({ undone_key: key }) => key !== null)) throw conflict('This was undone already.');
  for (const { id } of readings) tx.run(tx.db.updateTable('colour_reading').set(undone).where('id', '=', id));
  for (const { id } of judgements)
    tx.run(tx.db.updateTable('pair_judgement').set(undone).where('id', '=', id));
  for (const { id } of swatches) tx.run(tx.db.updateTable('dyed_swatch').set(undone).where('id', '=', id));
  return kept.length > 0;
}

const readingsOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('colour_reading')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', inList(keys))
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('swatch_result')
            .select('swatch_result.id')
            .whereRef('swatch_result.reading_id', '=', 'colour_reading.id'),
        ),
      ),
    ),
);

const judgementsOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('pair_judgement')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', inList(keys)),
);

const swatchesOf = prepared((db, keys: Param<readonly string[]>) =>
  db
    .selectFrom('dyed_swatch')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', inList(keys)),
);
