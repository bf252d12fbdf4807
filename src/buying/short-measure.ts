import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import { WHOLE_SHARE_BP } from '../quantity/whole.ts';

/** What is missing on a length that was bought. */
export interface ShortMeasure {
  /** ticks missing, 0 where as much or more came */
  readonly shortTicks: number;
  /** the same in hundredths of a percent of what was bought, rounded to the nearest */
  readonly shortBp: number;
  /** true where more is missing than the tolerance allows, judged before any rounding */
  readonly beyond: boolean;
}

/**
 * Compares what was measured with what was ordered or marked on the bolt, both in ticks. A tolerance of 2.5 % is a
 * usual one in trade terms (one seller's printed terms: ±2.5 % a shade). Throws RangeError where nothing was ordered.
 */
export function shortMeasure(
  length: { readonly orderedTicks: number; readonly measuredTicks: number },
  toleranceBp: number,
): ShortMeasure {
  const { orderedTicks, measuredTicks } = length;
  if (orderedTicks <= 0) throw new RangeError('A length that was ordered is above nought.');
  const shortTicks = Math.max(0, orderedTicks - measuredTicks);
  const share = exactly(shortTicks) * BigInt(WHOLE_SHARE_BP);
  return {
    shortTicks,
    shortBp: stored(divideRounded(share, exactly(orderedTicks), 'near')),
    beyond: share > exactly(toleranceBp) * exactly(orderedTicks),
  };
}
