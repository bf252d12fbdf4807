import { describe, expect, it } from 'vitest';
import { strengthBySwatches } from '../../../src/dye/strength.ts';

const grey = (y: number) => ({ l: 116 * Math.cbrt(y) - 16, a: 0, b: 0 });

describe('the strength of a lot by swatches', () => {
  // Kubelka and Munk, 1931, by hand: K/S of 0.20 is 0.8² ÷ 0.4 = 1.6, of 0.25 0.75² ÷ 0.5 = 1.125: 1.125 ÷ 1.6 = 70.31 %.
  it('is K/S by K/S', () => {
    expect(strengthBySwatches(grey(0.2), grey(0.25))).toBe(7031);
    expect(strengthBySwatches(grey(0.25), grey(0.2))).toBe(14_222);
    expect(strengthBySwatches(grey(0.2), grey(0.2))).toBe(10_000);
  });

  it('is that of where the dye takes most: a yellow by Z, a red by Y', () => {
    // Both are as light to the eye; the second takes less of Z.
    const yellow = (b: number) => ({ l: 80, a: 0, b });
    expect(strengthBySwatches(yellow(60), yellow(40))).toBeLessThan(10_000);
    expect(strengthBySwatches(yellow(40), yellow(60))).toBeGreaterThan(10_000);
    const red = (a: number) => ({ l: 50, a, b: 0 });
    expect(strengthBySwatches(red(50), { l: 55, a: 50, b: 0 })).toBeLessThan(10_000);
  });

  it('is not told where something else must differ', () => {
    expect(strengthBySwatches(grey(0.05), grey(0.6))).toBeNull();
    expect(strengthBySwatches(grey(1), grey(0.2))).toBeNull();
  });
});
