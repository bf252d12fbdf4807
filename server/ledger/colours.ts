import type { Reader, Tx } from '../database/book.ts';
import { conflict } from '../refusal.ts';

/**
 * Which of these requests kept readings of colours, judgements or dyed swatches that still stand. A reading that came with a verdict on a
 * swatch stays with it.
 */
export function whichColoursCanUndo(reader: Reader, requestKeys: readonly string[]): string[] {
  if (requestKeys.length === 0) return [];
  const rows = [
    ...reader.all(selectReadings(reader, requestKeys).where('undone_key', 'is', null)),
    ...reader.all(selectJudgements(reader, requestKeys).where('undone_key', 'is', null)),
    ...reader.all(selectSwatches(reader, requestKeys).where('undone_key', 'is', null)),
  ];
  return [...new Set(rows.flatMap(({ request_key: key }) => key ?? []))];
}

/**
 * Takes back the readings, judgements and dyed swatches of a request. False where it kept none.
 * @throws {Refusal} conflict where they were taken back already
 */
export function undoColours(tx: Tx, requestKey: string): boolean {
  const undone = { undone_key: tx.requestKey };
  const readings = tx.all(selectReadings(tx, [requestKey]));
  const judgements = tx.all(selectJudgements(tx, [requestKey]));
  const swatches = tx.all(selectSwatches(tx, [requestKey]));
  const kept = [...readings, ...judgements, ...swatches];
  if (kept.some(({ undone_key: key }) => key !== null)) throw conflict('This was undone already.');
  for (const { id } of readings) tx.run(tx.db.updateTable('colour_reading').set(undone).where('id', '=', id));
  for (const { id } of judgements)
    tx.run(tx.db.updateTable('pair_judgement').set(undone).where('id', '=', id));
  for (const { id } of swatches) tx.run(tx.db.updateTable('dyed_swatch').set(undone).where('id', '=', id));
  return kept.length > 0;
}

function selectReadings({ db }: Reader, requestKeys: readonly string[]) {
  return db
    .selectFrom('colour_reading')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', requestKeys)
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('swatch_result')
            .select('swatch_result.id')
            .whereRef('swatch_result.reading_id', '=', 'colour_reading.id'),
        ),
      ),
    );
}

function selectJudgements({ db }: Reader, requestKeys: readonly string[]) {
  return db
    .selectFrom('pair_judgement')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', requestKeys);
}

function selectSwatches({ db }: Reader, requestKeys: readonly string[]) {
  return db
    .selectFrom('dyed_swatch')
    .select(['id', 'request_key', 'undone_key'])
    .where('request_key', 'in', requestKeys);
}
