import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/cut-plan/random.ts';
import { mayMeet, meetingSets } from '../../../src/fit/lots.ts';

describe('lots that may meet', () => {
  it('meet themselves, and each other either way round', () => {
    expect(mayMeet([], 3, 3)).toBe(true);
    expect(mayMeet([[1, 2]], 2, 1)).toBe(true);
    expect(mayMeet([[1, 2]], 1, 3)).toBe(false);
  });

  it('make sets in which every lot meets every other: neighbours of a neighbour do not', () => {
    // 1 meets 2 and 2 meets 3, but 1 does not meet 3.
    const pairs = [
      [1, 2],
      [2, 3],
    ] as const;
    expect(meetingSets([1, 2, 3], pairs)).toEqual([
      [1, 2],
      [2, 3],
    ]);
    expect(meetingSets([4], pairs)).toEqual([[4]]);
    expect(meetingSets([], [])).toEqual([]);
  });

  it('make every set that no further lot could join, against all subsets', () => {
    const random = seededRandom(7);
    for (let set = 0; set < 200; set++) {
      const lots = Array.from({ length: 1 + Math.floor(random() * 8) }, (_, lot) => lot + 1);
      const pairs = lots.flatMap((one) =>
        lots.filter((other) => other > one && random() < 0.6).map((other) => [one, other] as const),
      );
      const sound = Array.from({ length: 1 << lots.length }, (_, bits) =>
        lots.filter((lot) => (bits & (1 << (lot - 1))) !== 0),
      ).filter(
        (each) => each.length > 0 && each.every((one) => each.every((other) => mayMeet(pairs, one, other))),
      );
      const largest = sound.filter(
        (each) => !sound.some((more) => more.length > each.length && each.every((lot) => more.includes(lot))),
      );
      const said = (sets: readonly (readonly number[])[]) => sets.map((each) => each.join()).sort();
      expect(said(meetingSets(lots, pairs))).toEqual(said(largest));
    }
  });

  it('give each lot one set where there are too many', () => {
    // Seven threes that meet all others but their own: 3 to the power of 7 sets.
    const lots = Array.from({ length: 21 }, (_, lot) => lot + 1);
    const pairs = lots.flatMap((one) =>
      lots
        .filter((other) => other > one && Math.ceil(one / 3) !== Math.ceil(other / 3))
        .map((other) => [one, other] as const),
    );
    const sets = meetingSets(lots, pairs);
    expect(sets.length).toBeLessThanOrEqual(21);
    for (const lot of lots) expect(sets.some((set) => set.includes(lot))).toBe(true);
    for (const set of sets) expect(set).toHaveLength(7);
  });
});
