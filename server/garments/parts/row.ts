import type { Tx } from '../../database/book.ts';
import { readGarment } from '../garment/records.ts';
import { readUsableWidths, workGarment } from '../garment/worked.ts';
import { keepSizeOf } from '../tier/store.ts';
import { clothOfPart, clothsOfParts, nameOfSize, sizesOfPart } from './cut.ts';

// What a row of the table must have, and a part has otherwise or not at all.
const NOT_OF_A_PART = {
  hangs: 'form' as const,
  drop_ticks: 0,
  on_tier_id: null,
  depth_ticks: 1,
  fullness_milli: 1000,
  ring: 0,
  seam_ticks: 0,
  end_ticks: 0,
  heading_ticks: 0,
  hem_ticks: 0,
  strip_length_ticks: null,
  finish_repeat: 0,
  typed: '{}',
};

/** Behind all tiers. */
const LAST_POSITION = 1000;

/**
 * Keeps the rows that strips of a garment's parts are held and cut for: each part has one as soon as it is known what it is
 * cut of, under its own name, and one more for each further size that it is cut in. What size is cut from now on is kept with it, as of tiers.
 */
export function keepRows(tx: Tx, code: string): void {
  const garment = readGarment(tx, code);
  const widths = readUsableWidths(tx, [...new Set(clothsOfParts(garment))]);
  const changed = { changed_at: tx.at, changed_by_id: tx.personId };
  for (const part of garment.parts) {
    const columns = { taken_out_at: part.takenOutAt, ...changed };
    for (const { id, size } of part.rows)
      tx.run(
        tx.db
          .updateTable('tier')
          .set({ ...columns, name: nameOfSize(part, size) })
          .where('id', '=', id),
      );
    const sizes = ['', ...sizesOfPart(garment, part, widths).flatMap(({ cut }) => cut.size ?? [])];
    for (const size of sizes) {
      const clothId = clothOfPart(garment, part, size)?.clothId;
      if (clothId === undefined || part.rows.some((row) => row.size === size)) continue;
      const of = { garment_id: garment.id, garment_part_id: part.id, part_size: size, cloth_id: clothId };
      const row = {
        ...NOT_OF_A_PART,
        ...columns,
        ...of,
        name: nameOfSize(part, size),
        position: LAST_POSITION,
      };
      tx.run(tx.db.insertInto('tier').values(row));
    }
  }
  for (const { tierId, clothId, depthTicks, lengthTicks } of workGarment(tx, code).parts)
    keepSizeOf(tx, tierId, clothId, { cut_depth_ticks: depthTicks, strip_length_ticks: lengthTicks });
}
