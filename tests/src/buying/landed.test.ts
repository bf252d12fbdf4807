import { allocate, dinero, EUR, toSnapshot } from 'dinero.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { landedCosts } from '../../../src/buying/landed.ts';
import { apportion } from '../../../src/quantity/money.ts';
import { m, yd } from '../../lengths.ts';

const PAR = { from: 'EUR', to: 'EUR', rateMillionths: 1_000_000 };

describe('landed cost', () => {
  it('is goods, freight and tax, worked out by hand', () => {
    // Goods €60 and €40, freight €12, tax 20 % of €112 = €22.40: €134.40 in all, of which goods with tax are €120.
    // By value the freight of €14.40 goes 60 : 40; by length, 10 m and 30 m, it goes 1 : 3.
    const pieces = [
      { priceMinor: 6000, lengthTicks: m(10) },
      { priceMinor: 4000, lengthTicks: m(30) },
    ];
    const onTop = { freightMinor: 1200, taxBp: 2000, exchange: PAR };
    expect(landedCosts(pieces, { ...onTop, shareBy: 'value' })).toEqual({
      pieces: [7200 + 864, 4800 + 576],
      totalMinor: 13_440,
      taxMinor: 2240,
    });
    expect(landedCosts(pieces, { ...onTop, shareBy: 'length' }).pieces).toEqual([7200 + 360, 4800 + 1080]);
  });

  it('is in the workroom’s own money, at a rate that is written down', () => {
    // £25.50 of goods and £4.50 freight at €1.18 for £1: €35.40.
    const landed = landedCosts([{ priceMinor: 2550, lengthTicks: yd(10) }], {
      freightMinor: 450,
      taxBp: 0,
      shareBy: 'value',
      exchange: { from: 'GBP', to: 'EUR', rateMillionths: 1_180_000 },
    });
    expect(landed.pieces).toEqual([3540]);
  });

  it('of pieces that cost nothing is the freight, shared by length or alike', () => {
    const free = [
      { priceMinor: 0, lengthTicks: m(1) },
      { priceMinor: 0, lengthTicks: m(3) },
    ];
    const onTop = { freightMinor: 100, taxBp: 0, exchange: PAR };
    expect(landedCosts(free, { ...onTop, shareBy: 'length' }).pieces).toEqual([25, 75]);
    expect(landedCosts(free, { ...onTop, shareBy: 'value' }).pieces).toEqual([50, 50]);
    expect(landedCosts([], { ...onTop, shareBy: 'value' }).pieces).toEqual([]);
    expect(() => landedCosts(free, { ...onTop, freightMinor: -1, shareBy: 'value' })).toThrow(RangeError);
  });

  it('adds up to what was paid, whatever the pieces', () => {
    const piece = fc.record({
      priceMinor: fc.nat(1_000_000),
      lengthTicks: fc.integer({ min: 1, max: 9_000_000 }),
    });
    const onTop = fc.record({
      freightMinor: fc.nat(50_000),
      taxBp: fc.nat(3000),
      shareBy: fc.constantFrom('value' as const, 'length' as const),
      exchange: fc.record({
        from: fc.constantFrom('EUR', 'JPY', 'KWD'),
        to: fc.constant('EUR'),
        rateMillionths: fc.integer({ min: 1, max: 5_000_000 }),
      }),
    });
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 12 }), onTop, (pieces, top) => {
        const landed = landedCosts(pieces, top);
        expect(landed.pieces.reduce((sum, minor) => sum + minor, 0)).toBe(landed.totalMinor);
        expect(Math.min(...landed.pieces)).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

// A general money library, dinero.js 2, shares out by weight too. It gives what is left over to the first in order, we
// to the largest remainders: the sums agree, and no share differs by more than one minor unit.
describe('sharing out, against a general money library', () => {
  it('agrees to one minor unit, and exactly where nothing is left over', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 500 }), { minLength: 1, maxLength: 10 });
    fc.assert(
      fc.property(fc.nat(10_000_000), weights, (amount, given) => {
        fc.pre(given.some((weight) => weight > 0));
        const theirs = allocate(dinero({ amount, currency: EUR }), given).map(
          (share) => toSnapshot(share).amount,
        );
        const ours = apportion(amount, given);
        expect(ours.reduce((sum, share) => sum + share, 0)).toBe(
          theirs.reduce((sum, share) => sum + share, 0),
        );
        ours.forEach((share, at) => {
          expect(Math.abs(share - (theirs[at] ?? 0))).toBeLessThanOrEqual(1);
        });
        const whole = given.reduce((sum, weight) => sum + weight, 0);
        if (given.every((weight) => (amount * weight) % whole === 0)) expect(ours).toEqual(theirs);
      }),
    );
  });
});
