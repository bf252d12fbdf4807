import { sql } from 'kysely';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { address } from '../../kit/address.ts';
import { shadeChip } from '../../kit/chip.ts';
import { clothPath, lotPath, piecePath } from '../../kit/paths.ts';
import { shapeTape } from '../../kit/tape.ts';
import { countOf } from '../../kit/words.ts';
import type { Needed } from '../lengths.ts';
import { middleOf, type PieceFlaw, readFlaws } from './flaws.ts';

/** Pieces with their lots, cloths, shades and places, not yet ordered. */
export function selectPieces(db: Reader['db']) {
  return db
    .selectFrom('piece')
    .innerJoin('lot', 'lot.id', 'piece.lot_id')
    .innerJoin('cloth', 'cloth.id', 'lot.cloth_id')
    .innerJoin('shade', 'shade.id', 'lot.shade_id')
    .leftJoin('place', 'place.id', 'piece.place_id')
    .select([
      'piece.id',
      'piece.code',
      'piece.kind',
      'piece.usable_width_ticks',
      'piece.on_hand_ticks',
      'piece.held_ticks',
      'lot.id as lot_id',
      'lot.code as lot_code',
      'lot.origin',
      'lot.mill_lot',
      'cloth.id as cloth_id',
      'cloth.name as cloth_name',
      'shade.id as shade_id',
      'shade.name',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
      'place.name as place_name',
    ]);
}

type Query = ReturnType<typeof selectPieces>;
export type PieceRecord = Query extends { execute(): Promise<(infer R)[]> } ? R : never;

/** Length that nobody holds, longest first, for ordering a list of pieces. */
export function longestFreeFirst(query: Query): Query {
  return query.orderBy(sql`piece.on_hand_ticks - piece.held_ticks`, 'desc').orderBy('piece.id');
}

/** Shapes a list of pieces with what is needed of them, and their tapes on one scale: `maxTicks`, or the longest. */
export function shapeShelfPieces(
  reader: Reader,
  rows: readonly PieceRecord[],
  units: Units,
  needed: Needed,
  maxTicks?: number,
) {
  const scale = maxTicks ?? longest(rows);
  const flaws = readFlaws(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => {
    const neededTicks = needed.ofPieces.get(row.id)?.neededTicks ?? 0;
    return shapePiece({ ...row, neededTicks }, flaws.get(row.id) ?? [], units, scale);
  });
}

/** The longest of a list in ticks; a list of empty pieces has a scale all the same. */
export function longest(rows: readonly { readonly on_hand_ticks: number }[]): number {
  return Math.max(1, ...rows.map((row) => row.on_hand_ticks));
}

/** One piece in a list. Lengths are told twice: as ticks of 1/160 mm, and as the reader reads them. */
function shapePiece(
  row: PieceRecord & { readonly neededTicks: number },
  flaws: readonly PieceFlaw[],
  units: Units,
  maxTicks: number,
) {
  const freeTicks = row.on_hand_ticks - row.held_ticks;
  return {
    id: row.id,
    code: row.code,
    href: piecePath(row.code),
    kind: row.kind,
    onHandTicks: row.on_hand_ticks,
    heldTicks: row.held_ticks,
    freeTicks,
    neededTicks: row.neededTicks,
    spareTicks: freeTicks - row.neededTicks,
    usableWidthTicks: row.usable_width_ticks,
    onHand: showLength(row.on_hand_ticks, units, 'down'),
    /** '' where nothing is held */
    held: row.held_ticks === 0 ? '' : showLength(row.held_ticks, units, 'down'),
    free: showLength(freeTicks, units, 'down'),
    /** '' where nothing is needed */
    needed: row.neededTicks === 0 ? '' : showLength(row.neededTicks, units, 'up'),
    spare: showLength(freeTicks - row.neededTicks, units, 'down'),
    usableWidth: showSize(row.usable_width_ticks, units, 'down'),
    place: row.place_name ?? '',
    chip: shadeChip(row, { href: address('/shelf', { shade: row.shade_id }) }),
    cloth: { name: row.cloth_name, href: clothPath(row.cloth_id) },
    lot: { code: row.lot_code, href: lotPath(row.lot_code) },
    tape: shapeTape({
      name: row.code,
      onHandTicks: row.on_hand_ticks,
      heldTicks: row.held_ticks,
      neededTicks: row.neededTicks,
      flawsAtTicks: flaws.map(middleOf),
      maxTicks,
      units,
    }),
  };
}

export type PieceRow = ReturnType<typeof shapePiece>;

/** The columns of sums, over whatever pieces a query has. */
export const SUMS = [
  sql<number>`count(*)`.as('pieces'),
  sql<number>`count(distinct lot.id)`.as('lots'),
  sql<number>`count(distinct lot.shade_id)`.as('shades'),
  sql<number>`coalesce(sum(piece.on_hand_ticks > piece.held_ticks), 0)`.as('free_pieces'),
  sql<number>`coalesce(max(piece.on_hand_ticks - piece.held_ticks), 0)`.as('longest_free'),
  sql<number>`coalesce(sum(piece.on_hand_ticks - piece.held_ticks), 0)`.as('free'),
] as const;

function sumsBy(column: 'cloth.id' | 'shade.id' | 'lot.id') {
  return prepared((db, id: Param<number>) =>
    selectPieces(db).clearSelect().select(SUMS).where(column, '=', id).where('piece.on_hand_ticks', '>', 0),
  );
}

const SUMS_BY = {
  'cloth.id': sumsBy('cloth.id'),
  'shade.id': sumsBy('shade.id'),
  'lot.id': sumsBy('lot.id'),
};

/** What the pieces on hand of a cloth, a shade or a lot come to. */
export function readSums(reader: Reader, column: keyof typeof SUMS_BY, id: number) {
  const sums = reader.first(SUMS_BY[column](id));
  if (!sums) throw new Error('a sum has always one row');
  return sums;
}

export type PieceSums = ReturnType<typeof readSums>;

/** What a set of pieces comes to. A sum of lengths is never told without the number of pieces it lies in. */
export function shapeTotals(sums: PieceSums, units: Units) {
  return {
    pieces: sums.pieces,
    lots: sums.lots,
    shades: sums.shades,
    longestFreeTicks: sums.longest_free,
    longestFree: showLength(sums.longest_free, units, 'down'),
    /** e.g. "31.2 m in 3 pieces" */
    freeInAll: `${showLength(sums.free, units, 'down')} in ${count(sums.free_pieces, 'piece')}`,
  };
}

export type Totals = ReturnType<typeof shapeTotals>;

/** "1 piece", "3 pieces". */
export function count(number: number, noun: string): string {
  return countOf(number, noun, `${noun}s`);
}
