import { describe, expect, it } from 'vitest';
import { kOverS, reflectanceWith } from '../../../src/colour/kubelka-munk.ts';

describe('K/S', () => {
  // Worked from the definition (1 − R)² ÷ 2R by hand.
  it.each([
    [1, 0],
    [0.5, 0.25],
    [0.25, 1.125],
    [0.1, 4.05],
    [0.05, 9.025],
  ])('of a reflectance of %d is %d', (reflectance, ratio) => {
    expect(kOverS(reflectance)).toBeCloseTo(ratio, 12);
    expect(reflectanceWith(ratio)).toBeCloseTo(reflectance, 12);
  });

  it('is held below a thousandth, so that black stays a number', () => {
    expect(kOverS(0)).toBe(kOverS(0.001));
    expect(Number.isFinite(kOverS(-1))).toBe(true);
  });
});
