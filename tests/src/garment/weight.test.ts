import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  carriedMass,
  massOfStrips,
  showArea,
  showClothMass,
  stripsArea,
} from '../../../src/garment/weight.ts';
import { cm, inch, m } from '../../lengths.ts';

describe('massOfStrips', () => {
  it('weighs six strips of 58 × 10 in at 30 g/m² to 67.4 g (area × mass per area, worked out by hand)', () => {
    const six = { depthTicks: inch(10), lengthTicks: inch(58), count: 6, massPerAreaMgM2: 30_000 };
    expect(massOfStrips([six]).massMg / 1000).toBeCloseTo(67.4, 1);
    expect(showClothMass(massOfStrips([six]).massMg, 'metric')).toBe('67.4 g');
    expect(showClothMass(1_234_567, 'metric')).toBe('1.235 kg');
    expect(showClothMass(1_234_567, 'imperial')).toBe('2 lb 11.5 oz');
  });

  it('agrees with a bolt: 8.5 g/m² over 137.16 cm × 36.576 m is 426 g (tulle put up in 40 yd, by hand)', () => {
    const bolt = { depthTicks: cm('137.16'), lengthTicks: m('36.576'), count: 1, massPerAreaMgM2: 8500 };
    expect(Math.round(massOfStrips([bolt]).massMg / 1000)).toBe(426);
  });

  it('invents no mass for cloth that nobody has weighed', () => {
    const strip = { depthTicks: m(1), lengthTicks: m(1), count: 2 };
    const weighed = { ...strip, massPerAreaMgM2: 30_000 };
    expect(massOfStrips([weighed, { ...strip, massPerAreaMgM2: null }])).toEqual({
      massMg: 60_000,
      complete: false,
    });
  });

  it('is the sum of area × mass per area, rounded once', () => {
    const strips = fc.record({
      depthTicks: fc.integer({ min: 1, max: 1_600_000 }),
      lengthTicks: fc.integer({ min: 1, max: 1_600_000 }),
      count: fc.integer({ min: 1, max: 1000 }),
      massPerAreaMgM2: fc.integer({ min: 1, max: 500_000 }),
    });
    fc.assert(
      fc.property(fc.array(strips, { maxLength: 6 }), (all) => {
        const exact = all.reduce((sum, one) => sum + stripsArea([one]) * BigInt(one.massPerAreaMgM2), 0n);
        const error = BigInt(massOfStrips(all).massMg) * 160_000n ** 2n - exact;
        expect(2n * (error < 0n ? -error : error) <= 160_000n ** 2n).toBe(true);
      }),
    );
  });
});

describe('showArea', () => {
  it('shows square metres and square yards', () => {
    const area = stripsArea([{ depthTicks: inch(18), lengthTicks: inch(36), count: 3 }]);
    expect(showArea(area, 'imperial')).toBe('1.5 yd²');
    expect(showArea(stripsArea([{ depthTicks: cm(10), lengthTicks: cm(10), count: 3 }]), 'metric')).toBe(
      '0.03 m²',
    );
  });
});

describe('carriedMass', () => {
  const tier = (tierId: number, onTierId: number | null, massMg: number, complete = true) => ({
    tierId,
    onTierId,
    massMg,
    complete,
  });

  it('adds all that hangs on a tier, down the chain', () => {
    const carried = carriedMass([tier(1, null, 100), tier(2, 1, 10), tier(3, 2, 1), tier(4, null, 1000)]);
    expect([1, 2, 3, 4].map((id) => carried.get(id)?.massMg)).toEqual([111, 11, 1, 1000]);
  });

  it('knows that it does not know all where something below has no mass', () => {
    const carried = carriedMass([tier(1, null, 100), tier(2, 1, 0, false)]);
    expect(carried.get(1)).toEqual({ massMg: 100, complete: false });
  });
});
