import { allocate, dinero, EUR, toSnapshot } from 'dinero.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CostParts, costOfParts, landedCosts, type OnTop } from '../../../src/buying/landed.ts';
import { apportion } from '../../../src/quantity/money.ts';
import { m, yd } from '../../lengths.ts';

const PAR = { from: 'EUR', to: 'EUR', rateMillionths: 1_000_000 };

const PLAIN: OnTop = {
  discountBp: 0,
  cutFeesMinor: 0,
  freightMinor: 0,
  taxBp: 0,
  taxReclaimed: false,
  shareBy: 'value',
  exchange: PAR,
};

const costsOf = (...given: Parameters<typeof landedCosts>) => landedCosts(...given).pieces.map(costOfParts);

describe('landed cost', () => {
  it('is goods, freight and tax, worked out by hand', () => {
    // Goods €60 and €40, freight €12, tax 20 % of €112 = €22.40: €134.40 in all, of which goods with tax are €120.
    // By value the freight of €14.40 goes 60 : 40; by length, 10 m and 30 m, it goes 1 : 3.
    const pieces = [
      { priceMinor: 6000, lengthTicks: m(10), isCut: false },
      { priceMinor: 4000, lengthTicks: m(30), isCut: false },
    ];
    const onTop = { ...PLAIN, freightMinor: 1200, taxBp: 2000 };
    expect(costsOf(pieces, onTop)).toEqual([7200 + 864, 4800 + 576]);
    expect(landedCosts(pieces, onTop)).toMatchObject({ paidMinor: 13_440, invoice: { taxMinor: 2240 } });
    expect(costsOf(pieces, { ...onTop, shareBy: 'length' })).toEqual([7200 + 360, 4800 + 1080]);
  });

  it('is told apart by parts, each of which adds up to the invoice, worked out by hand', () => {
    // List €100.00 and €33.33 less 10 % (€13.33): €120.00. Cut fees €3.00 on the one that is cut, freight €10.00 by
    // value, tax 19 % of €133.00: €25.27. Goods 90.00 : 30.00 (13333 parts: 12000 × 10000/13333 = 9000.2, 2999.8);
    // freight 7.50 : 2.50; tax on 97.50 and 35.50: 2527 × 9750/13300 = 1852.5, 674.5, the half cent to the first.
    const pieces = [
      { priceMinor: 10_000, lengthTicks: m(20), isCut: false },
      { priceMinor: 3333, lengthTicks: m(5), isCut: true },
    ];
    const onTop = { ...PLAIN, discountBp: 1000, cutFeesMinor: 300, freightMinor: 1000, taxBp: 1900 };
    const { pieces: parts, invoice, paidMinor } = landedCosts(pieces, onTop);
    expect(invoice).toMatchObject({
      listMinor: 13_333,
      discountMinor: 1333,
      goodsMinor: 12_000,
      taxMinor: 2527,
    });
    expect(parts).toEqual([
      { clothMinor: 9000, cutFeesMinor: 0, freightMinor: 750, taxMinor: 1853, reclaimedMinor: 0 },
      { clothMinor: 3000, cutFeesMinor: 300, freightMinor: 250, taxMinor: 674, reclaimedMinor: 0 },
    ]);
    expect(paidMinor).toBe(15_827);
    expect(parts.map(costOfParts)).toEqual([11_603, 4224]);
    const reclaimed = landedCosts(pieces, { ...onTop, taxReclaimed: true });
    expect(reclaimed.pieces.map(costOfParts)).toEqual([9750, 3550]);
    expect(reclaimed.pieces.map(({ reclaimedMinor }) => reclaimedMinor)).toEqual([1853, 674]);
    expect(reclaimed.paidMinor).toBe(15_827);
  });

  it('is in the workroom’s own money, at a rate that is written down', () => {
    // £25.50 of goods and £4.50 freight at €1.18 for £1: €35.40.
    const landed = landedCosts([{ priceMinor: 2550, lengthTicks: yd(10), isCut: false }], {
      ...PLAIN,
      freightMinor: 450,
      exchange: { from: 'GBP', to: 'EUR', rateMillionths: 1_180_000 },
    });
    expect(landed.pieces).toMatchObject([{ clothMinor: 3009, freightMinor: 531 }]);
  });

  it('of pieces that cost nothing is the freight, shared by length or alike', () => {
    const free = [
      { priceMinor: 0, lengthTicks: m(1), isCut: false },
      { priceMinor: 0, lengthTicks: m(3), isCut: false },
    ];
    const onTop = { ...PLAIN, freightMinor: 100 };
    expect(costsOf(free, { ...onTop, shareBy: 'length' })).toEqual([25, 75]);
    expect(costsOf(free, onTop)).toEqual([50, 50]);
    expect(costsOf([], onTop)).toEqual([]);
    expect(() => landedCosts(free, { ...onTop, freightMinor: -1 })).toThrow(RangeError);
  });

  it('adds up to what was paid, part by part, whatever the pieces', () => {
    const piece = fc.record({
      priceMinor: fc.nat(1_000_000),
      lengthTicks: fc.integer({ min: 1, max: 9_000_000 }),
      isCut: fc.boolean(),
    });
    const onTop = fc.record({
      discountBp: fc.nat(10_000),
      cutFeesMinor: fc.nat(3000),
      freightMinor: fc.nat(50_000),
      taxBp: fc.nat(3000),
      taxReclaimed: fc.boolean(),
      shareBy: fc.constantFrom('value' as const, 'length' as const),
      exchange: fc.record({
        from: fc.constantFrom('EUR', 'JPY', 'KWD'),
        to: fc.constant('EUR'),
        rateMillionths: fc.integer({ min: 1, max: 5_000_000 }),
      }),
    });
    const sum = (numbers: readonly number[]) => numbers.reduce((so, minor) => so + minor, 0);
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 12 }), onTop, (pieces, top) => {
        const { pieces: parts, invoice, paidMinor } = landedCosts(pieces, top);
        expect(sum(parts.flatMap((each) => Object.values(each)))).toBe(paidMinor);
        expect(Math.min(...parts.flatMap((each) => Object.values(each)))).toBeGreaterThanOrEqual(0);
        // In one currency every part is the invoice's to the minor unit.
        const even = landedCosts(pieces, { ...top, exchange: PAR });
        const part = (of: keyof CostParts) => sum(even.pieces.map((each) => each[of]));
        expect(part('clothMinor')).toBe(invoice.goodsMinor);
        expect(part('cutFeesMinor')).toBe(invoice.cutFeesMinor);
        expect(part('freightMinor')).toBe(invoice.freightMinor);
        expect(part('taxMinor') + part('reclaimedMinor')).toBe(invoice.taxMinor);
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
