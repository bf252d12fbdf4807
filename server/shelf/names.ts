import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { shadeColour } from '../kit/chip.ts';

export interface ClothName {
  readonly id: number;
  readonly name: string;
  readonly usableWidthTicks: number;
}

const clothNames = prepared((db, clothIds: Param<readonly number[]>) =>
  db
    .selectFrom('cloth')
    .select(['id', 'name', 'usable_width_ticks as usableWidthTicks'])
    .where('id', 'in', inList(clothIds)),
);

export function readClothNames(reader: Reader, clothIds: readonly number[]): Map<number, ClothName> {
  if (clothIds.length === 0) return new Map();
  const rows = reader.all(clothNames(clothIds));
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

const shadeNames = prepared((db) =>
  db.selectFrom('shade').select(['id', 'name', 'ground', 'lab_l', 'lab_a', 'lab_b']),
);

/** All shades by id: there are few, and every page that names one may name another. */
export function readShadeNames(reader: Reader): Map<number, ShadeName> {
  const rows = reader.all(shadeNames());
  return new Map(
    rows.map((row) => [
      row.id,
      { id: row.id, name: row.name, colour: shadeColour(row), ground: row.ground === 1 },
    ]),
  );
}

const lotCodes = prepared((db, lotIds: Param<readonly number[]>) =>
  db
    .selectFrom('lot')
    .select(['id', 'code', 'joined_to_id'])
    .where((of) => of.or([of('id', 'in', inList(lotIds)), of('joined_to_id', 'in', inList(lotIds))]))
    .orderBy('id'),
);

export function readLotCodes(reader: Reader, lotIds: readonly number[]): Map<number, string> {
  if (lotIds.length === 0) return new Map();
  const rows = reader.all(lotCodes(lotIds));
  return new Map(
    lotIds.flatMap((id) => {
      const own = rows.find((row) => row.id === id);
      const joined = rows.filter(({ joined_to_id }) => joined_to_id === id);
      return own ? [[id, [own, ...joined].map(({ code }) => code).join(' + ')] as const] : [];
    }),
  );
}
