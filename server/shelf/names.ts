import type { Reader } from '../database/book.ts';
import { shadeColour } from '../kit/chip.ts';

export interface ClothName {
  readonly id: number;
  readonly name: string;
  readonly usableWidthTicks: number;
}

export function readClothNames(reader: Reader, clothIds: readonly number[]): Map<number, ClothName> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('cloth')
      .select(['id', 'name', 'usable_width_ticks as usableWidthTicks'])
      .where('id', 'in', clothIds),
  );
  return new Map(rows.map((row) => [row.id, row]));
}

export interface ShadeName {
  readonly id: number;
  readonly name: string;
  /** '#rrggbb', or null where no colour was recorded */
  readonly colour: string | null;
  /** undyed, and so what other shades are dyed from */
  readonly ground: boolean;
}

/** All shades by id: there are few, and every page that names one may name another. */
export function readShadeNames(reader: Reader): Map<number, ShadeName> {
  const rows = reader.all(
    reader.db.selectFrom('shade').select(['id', 'name', 'ground', 'lab_l', 'lab_a', 'lab_b']),
  );
  return new Map(
    rows.map((row) => [
      row.id,
      { id: row.id, name: row.name, colour: shadeColour(row), ground: row.ground === 1 },
    ]),
  );
}

export function readLotCodes(reader: Reader, lotIds: readonly number[]): Map<number, string> {
  if (lotIds.length === 0) return new Map();
  const rows = reader.all(reader.db.selectFrom('lot').select(['id', 'code']).where('id', 'in', lotIds));
  return new Map(rows.map((row) => [row.id, row.code]));
}
