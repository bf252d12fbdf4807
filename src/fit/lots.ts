import { deltaE00, type Lab } from '../colour/lab.ts';

/** A lot whose own colour was recorded. */
export interface LotColour {
  readonly lotId: number;
  readonly lab: Lab;
}

/**
 * Pairs of lots that may meet in one garment: their recorded colours differ by at most `mostCentiDeltaE` hundredths of
 * a unit of CIEDE2000 (ISO/CIE 11664-6). A lot without a colour is in no pair. Lower id first, in order of ids.
 */
export function lotsThatMeet(
  lots: readonly LotColour[],
  mostCentiDeltaE: number,
): (readonly [number, number])[] {
  const sorted = [...lots].sort((a, b) => a.lotId - b.lotId);
  return sorted.flatMap((one, i) =>
    sorted
      .slice(i + 1)
      .filter((other) => deltaE00(one.lab, other.lab) * 100 <= mostCentiDeltaE)
      .map((other) => [one.lotId, other.lotId] as const),
  );
}

/** Whether two lots are one, or one of the pairs. */
export function mayMeet(pairs: readonly (readonly [number, number])[], a: number, b: number): boolean {
  return a === b || pairs.some(([x, y]) => (x === a && y === b) || (x === b && y === a));
}

/** Sets of lots in which every lot may meet every other: for each lot the set that grows from it in order of ids. */
export function meetingSets(
  lotIds: readonly number[],
  pairs: readonly (readonly [number, number])[],
): readonly (readonly number[])[] {
  const sets = lotIds.map((first) => {
    const set = [first];
    for (const next of lotIds) {
      if (next !== first && set.every((lot) => mayMeet(pairs, lot, next))) set.push(next);
    }
    return set.sort((a, b) => a - b);
  });
  return [...new Map(sets.map((set) => [set.join(), set])).values()];
}
