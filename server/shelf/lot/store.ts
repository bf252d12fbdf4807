import { type LotColour, lotsThatMeet } from '../../../src/fit/lots.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';

const lotColours = prepared((db, lotIds: Param<readonly number[]>) =>
  db.selectFrom('lot_colour').selectAll().where('lot_id', 'in', inList(lotIds)),
);

/** Colours of lots of these cloths, as they were recorded of the lots themselves. */
export function readLotColours(reader: Reader, lotIds: readonly number[]): LotColour[] {
  if (lotIds.length === 0) return [];
  const rows = reader.all(lotColours([...lotIds]));
  return rows.map((row) => ({ lotId: row.lot_id, lab: { l: row.lab_l, a: row.lab_a, b: row.lab_b } }));
}

/** Which of some lots may meet in a garment. */
export function readMeets(reader: Reader, lotIds: readonly number[], mostCentiDeltaE: number) {
  return lotsThatMeet(readLotColours(reader, lotIds), mostCentiDeltaE);
}
