import { describe, expect, it } from 'vitest';
import { sayDifference } from '../../../src/colour/difference-words.ts';
import type { Lab } from '../../../src/colour/lab.ts';

const lab = (l: number, a: number, b: number): Lab => ({ l, a, b });
const polar = (l: number, chroma: number, hue: number): Lab =>
  lab(l, chroma * Math.cos((hue * Math.PI) / 180), chroma * Math.sin((hue * Math.PI) / 180));

describe('a difference in words', () => {
  it('says what shows most first', () => {
    expect(sayDifference(lab(50, 0, 0), lab(45, 0.6, 0))).toBe('darker, slightly redder');
    expect(sayDifference(lab(50, 0, 0), lab(51, -1.5, 0))).toBe('greener, slightly lighter');
    expect(sayDifference(lab(50, 1, 0), lab(50, 1, 6))).toBe('much yellower');
  });

  it('says nothing where nothing shows', () => {
    expect(sayDifference(lab(50, 20, 10), lab(50, 20, 10))).toBe('');
    expect(sayDifference(lab(50, 0, 0), lab(50.2, 0.1, 0))).toBe('');
  });

  it('tells chroma from hue', () => {
    expect(sayDifference(polar(50, 40, 20), polar(50, 44, 20))).toBe('clearer');
    expect(sayDifference(polar(50, 40, 20), polar(50, 38, 20))).toBe('slightly duller');
  });

  it('names no hue where one is nearly grey and the other strong, and calls a violet bluer than a red', () => {
    const red = lab(42.5, 57.9, 33.8);
    expect(sayDifference(red, lab(14.6, 1.3, -6.2))).toBe('much duller, much darker');
    expect(sayDifference(red, lab(42.5, 1, 1))).toBe('much duller');
    expect(sayDifference(lab(42.5, 1, 1), red)).toBe('much clearer');
    expect(sayDifference(red, lab(42.5, 51.4, -42.7))).toBe('much bluer');
    expect(sayDifference(lab(90, 0, 2), lab(90, 0, 9))).toBe('much yellower');
  });

  // On the colour wheel red lies at 0°, yellow at 90°, green at 180° and blue at 270° of a* b* (CIE 15).
  it.each([
    [45, 'yellower', 'redder'],
    [135, 'greener', 'yellower'],
    [225, 'bluer', 'greener'],
    [315, 'redder', 'bluer'],
  ])('names the neighbour that hue %d° turns to', (hue, onwards, back) => {
    expect(sayDifference(polar(50, 40, hue), polar(50, 40, hue + 5))).toBe(onwards);
    expect(sayDifference(polar(50, 40, hue), polar(50, 40, hue - 5))).toBe(back);
  });

  it('says of the reference seen from the sample the opposite', () => {
    const [one, other] = [polar(50, 30, 60), polar(53, 33, 66)];
    expect(sayDifference(one, other)).toBe('yellower, lighter, clearer');
    expect(sayDifference(other, one)).toBe('redder, darker, duller');
  });
});
