import { sql } from 'kysely';
import { showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { address } from '../../kit/address.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
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
  const chips = new Map<number, Chip>();
  const chipOf = (row: PieceRecord) => {
    const chip =
      chips.get(row.shade_id) ?? shadeChip(row, { href: address('/shelf', { shade: row.shade_id }) });
    chips.set(row.shade_id, chip);
    return chip;
  };
  return rows.map((row) => {
    const neededTicks = needed.ofPieces.get(row.id)?.neededTicks ?? 0;
    return shapePiece(row, { neededTicks, chip: chipOf(row), flaws: flaws.get(row.id) ?? [] }, units, scale);
  });
}

/** The longest of a list in ticks; a list of empty pieces has a scale all the same. */
export function longest(rows: readonly { readonly on_hand_ticks: number }[]): number {
  return Math.max(1, ...rows.map((row) => row.on_hand_ticks));
}

/** One piece in a list. Lengths are told twice: as ticks of 1/160 mm, and as the reader reads them. */
function shapePiece(
  row: PieceRecord,
  {
    neededTicks,
    chip,
    flaws,
  }: { readonly neededTicks: number; readonly chip: Chip; readonly flaws: readonly PieceFlaw[] },
  units: Units,
  maxTicks: number,
) {
  const freeTicks = row.on_hand_ticks - row.held_ticks;
  const free = showLength(freeTicks, units, 'down');
  return {
    id: row.id,
    code: row.code,
    href: piecePath(row.code),
    kind: row.kind,
    onHandTicks: row.on_hand_ticks,
    heldTicks: row.held_ticks,
    freeTicks,
    neededTicks,
    spareTicks: freeTicks - neededTicks,
    usableWidthTicks: row.usable_width_ticks,
    onHand: row.held_ticks === 0 ? free : showLength(row.on_hand_ticks, units, 'down'),
    /** '' where nothing is held */
    held: row.held_ticks === 0 ? '' : showLength(row.held_ticks, units, 'down'),
    free,
    /** '' where nothing is needed */
    needed: neededTicks === 0 ? '' : showLength(neededTicks, units, 'up'),
    spare: neededTicks === 0 ? free : showLength(freeTicks - neededTicks, units, 'down'),
    usableWidth: showSize(row.usable_width_ticks, units, 'down'),
    place: row.place_name ?? '',
    chip,
    cloth: { name: row.cloth_name, href: clothPath(row.cloth_id) },
    lot: { code: row.lot_code, href: lotPath(row.lot_code) },
    tape: shapeTape({
      name: row.code,
      onHandTicks: row.on_hand_ticks,
      heldTicks: row.held_ticks,
      neededTicks,
      flawsAtTicks: flaws.map(middleOf),
      maxTicks,
      units,
    }),
  };
}

export type PieceRow = ReturnType<typeof shapePiece>;

/** What some pieces on hand come to. Lengths in ticks. */
export interface PieceSums {
  readonly pieces: number;
  readonly lots: number;
  readonly shades: number;
  readonly free_pieces: number;
  readonly longest_free: number;
  readonly free: number;
}

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
