import { sql } from 'kysely';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { shadeChip } from '../../kit/chip.ts';
import { lotPath } from '../../kit/paths.ts';
import { countsAs } from '../../ledger/joined-lots.ts';
import { readLotCodes } from '../names.ts';

const lotsOnHand = prepared((db, clothId: Param<number>, shadeId: Param<number>) =>
  db
    .selectFrom('lot')
    .innerJoin('piece', 'piece.lot_id', 'lot.id')
    .select([
      countsAs().as('lotId'),
      sql<number>`sum(piece.on_hand_ticks - piece.held_ticks)`.as('freeTicks'),
    ])
    .where('lot.cloth_id', '=', clothId)
    .where('lot.shade_id', '=', shadeId)
    .where('piece.on_hand_ticks', '>', 0)
    .groupBy(countsAs())
    .orderBy(countsAs()),
);

/** A lot on the shelf, with those that count as one with it. */
export interface ComparedLot {
  readonly id: number;
  /** "L3", "L3 + L9" where lots count as one */
  readonly code: string;
  /** of its page */
  readonly href: string;
  readonly freeTicks: number;
}

/** The lots of a cloth and shade that lie on the shelf, and others that are asked for; in the order in which they came. */
export function readLotsToCompare(
  reader: Reader,
  of: { readonly clothId: number; readonly shadeId: number },
  alsoIds: readonly number[] = [],
): ComparedLot[] {
  const free = new Map(
    reader.all(lotsOnHand(of.clothId, of.shadeId)).map(({ lotId, freeTicks }) => [lotId, freeTicks]),
  );
  const ids = [...new Set([...free.keys(), ...alsoIds])].sort((a, b) => a - b);
  const codes = readLotCodes(reader, ids);
  return ids.flatMap((id) => {
    const code = codes.get(id);
    return code === undefined
      ? []
      : [{ id, code, href: lotPath(code.split(' + ')[0] ?? code), freeTicks: free.get(id) ?? 0 }];
  });
}

const lotsNamed = prepared((db, lotCodes: Param<readonly string[]>) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select([
      'lot.id',
      'lot.code',
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
      'cloth.name as cloth',
      'shade.name',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
    ])
    .where('lot.code', 'in', inList(lotCodes)),
);

/** Lots by their codes, with cloth and shade. */
export function readLotsNamed(reader: Reader, codes: readonly string[]) {
  return reader.all(lotsNamed(codes)).map((row) => ({
    id: row.id,
    code: row.code,
    href: lotPath(row.code),
    clothId: row.clothId,
    shadeId: row.shadeId,
    cloth: row.cloth,
    chip: shadeChip(row, { lot: row.code, href: lotPath(row.code) }),
  }));
}

const severalLots = prepared((db, most: Param<number>) =>
  db
    .selectFrom('lot')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .select([
      'lot.cloth_id as clothId',
      'lot.shade_id as shadeId',
      'cloth.name as cloth',
      'shade.name',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
      sql<number>`count(DISTINCT ${countsAs()})`.as('lots'),
    ])
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('piece')
          .select('piece.id')
          .whereRef('piece.lot_id', '=', 'lot.id')
          .where('piece.on_hand_ticks', '>', 0),
      ),
    )
    .groupBy(['lot.cloth_id', 'lot.shade_id'])
    .having(sql<number>`count(DISTINCT ${countsAs()})`, '>', 1)
    .orderBy('cloth.name')
    .orderBy('shade.name')
    .limit(most),
);
const MOST_CHOICES = 200;

/** Cloths and shades of which more than one lot lies on the shelf. */
export function readWhereLotsDiffer(reader: Reader) {
  return reader.all(severalLots(MOST_CHOICES));
}
