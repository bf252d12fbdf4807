import { describe, expect, it } from 'vitest';
import { deltaCmc } from '../../../src/colour/lab.ts';

/** L*, a*, b* of reference and sample, l:c, the difference. */
type Row = readonly [number, number, number, number, number, number, number, number, number];

// The first eight: test data of the Colourful library, made with Lindbloom's calculator of colour differences. The next three: the
// tests of colour-science, and its example in the documentation. The last: worked out from the formula by a third party's tests.
const ROWS: readonly Row[] = [
  [100, 0, 0, 0, 0, 0, 1, 1, 67.480171],
  [100, 0, 0, 0, 0, 0, 2, 1, 33.740085],
  [100, -50, 50, 20, 10, -20, 1, 1, 66.320207],
  [100, -50, 50, 20, 10, -20, 2, 1, 47.038863],
  [10.3454, 3.2151, -189.123, 51.7781, -22.5151, 1.0001, 1, 1, 98.577755],
  [10.3454, 3.2151, -189.123, 51.7781, -22.5151, 1.0001, 2, 1, 69.187455],
  [41.41, 2.64, 4.15, 0, 0, 0, 1, 1, 42.570316],
  [41.41, 2.64, 4.15, 0, 0, 0, 2, 1, 21.769476],
  [100, 21.57210357, 272.2281935, 100, 426.67945353, 72.39590835, 2, 1, 172.70477129],
  [100, 21.57210357, 272.2281935, 100, 74.05216981, 276.45318193, 2, 1, 20.59732717],
  [100, 21.57210357, 272.2281935, 100, 8.32281957, -73.58297716, 2, 1, 121.71841479],
  [48.99183622, -0.10561667, 400.65619925, 50.65907324, -0.1167191, 402.82235718, 2, 1, 0.899699975683419],
  [50, 20, 0, 50, 0, 20, 1, 1, 24.875171696352],
  [50, 0, 20, 50, 20, 0, 1, 1, 28.979466483172],
  [15.9999, 0, 0, 17, 0, 0, 1, 1, 1.957142857143],
  [16, 0, 0, 17, 0, 0, 1, 1, 1.956070774863],
];

describe('the difference CMC', () => {
  it.each(ROWS)('of reference %d %d %d and sample %d %d %d by %d:%d is %d', (...row) => {
    const [l1, a1, b1, l2, a2, b2, l, c, wanted] = row;
    const got = deltaCmc({ l: l1, a: a1, b: b1 }, { l: l2, a: a2, b: b2 }, { l, c });
    expect(Math.abs(got - wanted)).toBeLessThan(1e-4);
  });

  it('is 2:1 where nothing is said, and takes the reference first', () => {
    const [one, other] = [
      { l: 50, a: 20, b: 0 },
      { l: 55, a: 0, b: 20 },
    ];
    expect(deltaCmc(one, other)).toBe(deltaCmc(one, other, { l: 2, c: 1 }));
    expect(Math.abs(deltaCmc(one, other) - deltaCmc(other, one))).toBeGreaterThan(1);
  });
});
