import type { StripDemand } from '../garment/need.ts';
import { fitStrips, type Stretch } from './strips.ts';

/** What some lots that may meet give of a need, by the careful hand rule. */
export interface SetFit {
  readonly lotIds: readonly number[];
  readonly madeStrips: number;
  readonly missingStrips: number;
  /** length of all cut lengths, in ticks */
  readonly usedTicks: number;
}

/**
 * What each set of lots gives of a need by itself, the best first: fewest strips missing, then the least cloth, then the fewest
 * lots. `lotIds` of an answer are those that its cut lengths are cut from.
 */
export function fitsOfSets(
  demands: readonly StripDemand[],
  free: readonly Stretch[],
  sets: readonly (readonly number[])[],
): SetFit[] {
  const fits = sets.map((set) => {
    const fit = fitStrips(
      demands,
      free.filter(({ lotId }) => set.includes(lotId)),
      'any',
    );
    const { madeStrips, missingStrips, usedTicks } = fit;
    return { lotIds: fit.lotIds.toSorted((a, b) => a - b), madeStrips, missingStrips, usedTicks };
  });
  const distinct = new Map(
    fits.filter(({ madeStrips }) => madeStrips > 0).map((fit) => [fit.lotIds.join(), fit]),
  );
  return [...distinct.values()].sort(
    (one, other) =>
      one.missingStrips - other.missingStrips ||
      one.usedTicks - other.usedTicks ||
      one.lotIds.length - other.lotIds.length,
  );
}
