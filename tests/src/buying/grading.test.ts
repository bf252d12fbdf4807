import { describe, expect, it } from 'vitest';
import {
  type GradedFlaw,
  passes,
  pointsOf,
  pointsOfBolt,
  pointsPer100M2Centi,
  pointsPer100Yd2Centi,
} from '../../../src/buying/grading.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';

const inch = (count: number) => Math.round(count * TICKS_PER.in);
const flaw = (inches: number, yard = 0, hole = false): GradedFlaw => ({
  fromTicks: yard * TICKS_PER.yd,
  lengthTicks: inch(inches),
  hole,
});
const bolt = (points: number, yards: number, inches: number) => ({
  points,
  widthTicks: inch(inches),
  lengthTicks: yards * TICKS_PER.yd,
});

describe('points of a flaw', () => {
  // ASTM D5430, four-point system: up to 3 in 1, over 3 to 6 in 2, over 6 to 9 in 3, over 9 in 4.
  it.each([
    [0.25, 1],
    [3, 1],
    [3.03125, 2],
    [6, 2],
    [6.03125, 3],
    [9, 3],
    [9.03125, 4],
    [30, 4],
  ])('%f in is %i', (inches, points) => expect(pointsOf(flaw(inches), 'by size')).toBe(points));

  // ASTM D5430: a hole up to 1 in 2, a larger one 4; other guides charge every hole with 4.
  it.each([
    [1, 2, 4],
    [1.03125, 4, 4],
  ])('a hole of %f in is %i by size, %i by the other rule', (inches, bySize, always) => {
    expect(pointsOf(flaw(inches, 0, true), 'by size')).toBe(bySize);
    expect(pointsOf(flaw(inches, 0, true), 'always four')).toBe(always);
  });

  it('is none of a flaw of no length', () => {
    expect(() => pointsOf(flaw(0), 'by size')).toThrow(RangeError);
  });
});

describe('points of a bolt', () => {
  it('are four at most in one linear yard', () => {
    expect(pointsOfBolt([flaw(6.5, 2), flaw(6.5, 2), flaw(2, 3)], 'by size')).toBe(5);
  });

  it('count a flaw that runs over yards in each of them', () => {
    expect(pointsOfBolt([flaw(36 * 2.5, 4)], 'by size')).toBe(12);
    expect(pointsOfBolt([], 'by size')).toBe(0);
  });
});

describe('points in an area', () => {
  it('are 12 in 100 yd² for 28 points on 150 yd of 56 in (worked from ASTM D5430)', () => {
    expect(pointsPer100Yd2Centi(bolt(28, 150, 56))).toBe(1200);
  });

  it('are 14.67 for 22 points on 120 yd of 45 in; a printed 14.66 is cut off, not rounded', () => {
    expect(pointsPer100Yd2Centi(bolt(22, 120, 45))).toBe(1467);
    expect(pointsPer100Yd2Centi(bolt(22, 120, 45))).not.toBe(1466);
  });

  // A published example (jozwiak.eu, 100 m × 150 cm) adds its rows up to 29 and goes on with 28.
  it('are 19.33 in 100 m² for the 29 points of the rows, not the 18.67 of 28', () => {
    const metric = (points: number) => ({
      points,
      widthTicks: 150 * TICKS_PER.cm,
      lengthTicks: 100 * TICKS_PER.m,
    });
    expect(pointsPer100M2Centi(metric(28))).toBe(1867);
    expect(pointsPer100M2Centi(metric(29))).toBe(1933);
    expect(pointsPer100M2Centi(metric(29))).not.toBe(1867);
  });

  it('pass up to the mark itself, judged before rounding', () => {
    // 40 points on 100 yd of 36 in are 40 in 100 yd².
    expect(passes(bolt(40, 100, 36), 40)).toBe(true);
    expect(passes({ ...bolt(40, 100, 36), lengthTicks: 100 * TICKS_PER.yd - 1 }, 40)).toBe(false);
    expect(() => passes(bolt(1, 0, 36), 40)).toThrow(RangeError);
  });
});
