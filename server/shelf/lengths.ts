import type { NeededLength } from '../../src/fit/needed.ts';
import { showLength, type Units } from '../../src/quantity/length-show.ts';
import { showDay } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';

/** What open garments need of the pieces on the shelf, as Short shares it out. */
export interface Needed {
  /** by piece; one that nothing is needed of has no entry */
  readonly ofPieces: ReadonlyMap<number, NeededLength>;
  /** cloths and shades that are still being worked out, so that nothing is known of their pieces */
  readonly waiting: number;
}

/** Of what the lengths are asked: of a lot, or of a cloth, a shade, or both. */
export interface LengthsOf {
  readonly clothId?: number;
  readonly shadeId?: number;
  readonly lotId?: number;
}

/** The five lengths of some cloth, in ticks: free is what is on hand less what is held. */
export interface Lengths {
  readonly onHandTicks: number;
  readonly heldTicks: number;
  /** what open garments take of what is free, by due day */
  readonly neededTicks: number;
  /** what is free and not needed, the longest single length of it, and the pieces and lots that it lies in */
  readonly spareTicks: number;
  readonly longestSpareTicks: number;
  readonly sparePieces: number;
  readonly spareLots: number;
  readonly coming: readonly ComingLength[];
}

/** Cloth that is not on the shelf yet. */
export interface ComingLength {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lengthTicks: number;
  readonly how: 'on order' | 'in the pot' | 'to be dyed';
  /** the order or batch that brings it */
  readonly code: string;
  readonly href: string;
  /** the day it is expected; null where nobody said */
  readonly on: string | null;
}

/** The five lengths as a page shows them. A sum is told with the lots that it lies in. */
export function shapeLengths(lengths: Lengths, units: Units) {
  const show = (ticks: number) => showLength(ticks, units, 'down');
  const { onHandTicks, heldTicks, neededTicks, longestSpareTicks, coming } = lengths;
  return {
    ...lengths,
    onHand: show(onHandTicks),
    held: heldTicks === 0 ? '' : show(heldTicks),
    needed: neededTicks === 0 ? '' : showLength(neededTicks, units, 'up'),
    spare: saySpare(lengths, units),
    longestSpare: show(longestSpareTicks),
    coming: coming.map(({ lengthTicks, how, code, href, on }) => ({
      text: `${show(lengthTicks)} ${how}, ${code}${on === null ? '' : `, expected ${showDay(on)}`}`,
      href,
    })),
  };
}

/** "31.2 m in 4 pieces of 2 lots": a sum is never told without the pieces and lots that it lies in. */
function saySpare({ spareTicks, sparePieces, spareLots }: Lengths, units: Units): string {
  const length = showLength(spareTicks, units, 'down');
  if (sparePieces < 2) return length;
  const pieces = `${length} in ${countOf(sparePieces, 'piece', 'pieces')}`;
  return spareLots < 2 ? pieces : `${pieces} of ${countOf(spareLots, 'lot', 'lots')}`;
}

export type ShownLengths = ReturnType<typeof shapeLengths>;
