import type { Stretch } from './strips.ts';

/** What garments will cut off the free length of a piece, and all that is free of it, in ticks. */
export interface NeededLength {
  readonly lotId: number;
  readonly neededTicks: number;
  readonly freeTicks: number;
}

/**
 * By piece, what is needed of it: what is free less what the garments leave (`shareOut`). A strip is cut straight down
 * from the free end, so that what is left is one length; a piece of which nothing is needed has no entry.
 */
export function neededOf(free: readonly Stretch[], left: readonly Stretch[]): Map<number, NeededLength> {
  const leftOf = new Map(left.map(({ pieceId, lengthTicks }) => [pieceId, lengthTicks]));
  const needed = new Map<number, NeededLength>();
  for (const { pieceId, lotId, lengthTicks: freeTicks } of free) {
    const neededTicks = freeTicks - (leftOf.get(pieceId) ?? 0);
    if (neededTicks > 0) needed.set(pieceId, { lotId, neededTicks, freeTicks });
  }
  return needed;
}

/** Some pieces of one lot: how many are free, all that is free, and the longest of them, in ticks. */
export interface LotSum {
  readonly lotId: number;
  readonly freeTicks: number;
  readonly longestFreeTicks: number;
  readonly freePieces: number;
}

/** What may be taken of some cloth without breaking what is promised or needed. Lengths in ticks. */
export interface Spare {
  readonly neededTicks: number;
  readonly spareTicks: number;
  /** the longest single length */
  readonly longestTicks: number;
  /** pieces and lots that the length lies in */
  readonly pieces: number;
  readonly lots: number;
}

/**
 * What is to spare of some lots: free less needed. `needed` has the pieces of these lots that something is needed of,
 * `longestBeside` by lot the longest free piece that nothing is needed of, where the lot is among theirs.
 */
export function spareOf(
  lots: readonly LotSum[],
  needed: Iterable<NeededLength>,
  longestBeside: ReadonlyMap<number, number>,
): Spare {
  const neededOfLot = new Map<number, NeededLength[]>();
  for (const one of needed) neededOfLot.set(one.lotId, [...(neededOfLot.get(one.lotId) ?? []), one]);
  let [neededTicks, spareTicks, longestTicks, pieceCount, lotCount] = [0, 0, 0, 0, 0];
  for (const { lotId, freeTicks, longestFreeTicks, freePieces } of lots) {
    const pieces = neededOfLot.get(lotId) ?? [];
    const taken = pieces.reduce((sum, piece) => sum + piece.neededTicks, 0);
    const rests = pieces.map((piece) => piece.freeTicks - piece.neededTicks);
    const longest =
      pieces.length === 0 ? longestFreeTicks : Math.max(longestBeside.get(lotId) ?? 0, ...rests);
    neededTicks += taken;
    spareTicks += freeTicks - taken;
    longestTicks = Math.max(longestTicks, longest);
    pieceCount += freePieces - rests.filter((rest) => rest === 0).length;
    if (freeTicks > taken) lotCount += 1;
  }
  return { neededTicks, spareTicks, longestTicks, pieces: pieceCount, lots: lotCount };
}
