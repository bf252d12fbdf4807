/** How a long edge is gathered: rows, marks, and what each thread is pulled over. Lengths in ticks. */
import { TICKS_PER } from '../../quantity/length.ts';

export interface GatheringPlan {
  /** from one mark to the next, on the flat edge and on what it is sewn to */
  readonly flatTicks: number;
  readonly finishedTicks: number;
  readonly sections: number;
  readonly rows: number;
  /** for all rows, with a tail at both ends of each section */
  readonly threadTicks: number;
  readonly cordTicks: number;
}

/** What is usual: two rows (The Workwoman's Guide, 1838, p. 2), and a pull of 3 m or 3 yd at most (common practice). */
export const USUAL_ROWS = 2;
export const USUAL_PULL_TICKS = { metric: 3 * TICKS_PER.m, imperial: 3 * TICKS_PER.yd } as const;

/** A tail is 10 cm at each end of a section (common practice). */
export const TAIL_TICKS = 16_000;

/**
 * Quarters at the least, and so many more that no thread is pulled over more than `mostTicks` of flat cloth (no published
 * limit was found: common practice). Thread: rows × flat × 2.5 for a lockstitch, and tails; cord: flat and tails.
 * Throws RangeError for lengths or rows that are not above 0.
 */
export function planGathering(
  flatTicks: number,
  finishedTicks: number,
  { rows, mostTicks }: { readonly rows: number; readonly mostTicks: number },
): GatheringPlan {
  if (!(flatTicks > 0 && finishedTicks > 0 && rows > 0 && mostTicks > 0))
    throw new RangeError('lengths above 0');
  const sections = 4 * Math.max(1, Math.ceil(flatTicks / mostTicks / 4));
  const tails = 2 * TAIL_TICKS * sections;
  return {
    flatTicks: Math.round(flatTicks / sections),
    finishedTicks: Math.round(finishedTicks / sections),
    sections,
    rows,
    threadTicks: Math.ceil(rows * (flatTicks * 2.5 + tails)),
    cordTicks: flatTicks + tails,
  };
}
