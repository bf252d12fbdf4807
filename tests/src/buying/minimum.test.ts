import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Minimums, missesOf, moreToReach, netOf } from '../../../src/buying/minimum.ts';
import { costOf } from '../../../src/quantity/money.ts';
import { m } from '../../lengths.ts';

const NONE: Minimums = {
  leastOrderMinor: null,
  leastOrderTicks: null,
  leastLineMinor: null,
  leastLineTicks: null,
};

describe('what a supplier sells at least', () => {
  const lines = [
    { listMinor: 4000, lengthTicks: m(8) },
    { listMinor: 1000, lengthTicks: m(2) },
  ];

  it('is missed by an order in money less the discount and in length, worked out by hand', () => {
    // 50.00 less 10 % are 45.00: 15.00 below 60.00. 8 + 2 m are 5 m below 15 m.
    const misses = missesOf({ ...NONE, leastOrderMinor: 6000, leastOrderTicks: m(15) }, lines, 1000);
    expect(misses).toEqual([
      { line: null, what: 'amount', least: 6000, missing: 1500 },
      { line: null, what: 'length', least: m(15), missing: m(5) },
    ]);
  });

  it('is missed by the lines that are too small, each by itself', () => {
    const misses = missesOf({ ...NONE, leastLineMinor: 1000, leastLineTicks: m(3) }, lines, 1000);
    expect(misses).toEqual([
      { line: 1, what: 'amount', least: 1000, missing: 100 },
      { line: 1, what: 'length', least: m(3), missing: m(1) },
    ]);
  });

  it('counts supplies to the sum of an order, and to no length and no line of cloth', () => {
    const hooks = { listMinor: 700, lengthTicks: 0, isSupply: true };
    const least = { ...NONE, leastOrderMinor: 6000, leastOrderTicks: m(10), leastLineMinor: 800 };
    expect(missesOf(least, [...lines, hooks], 0)).toEqual([
      { line: null, what: 'amount', least: 6000, missing: 300 },
    ]);
    expect(missesOf({ ...NONE, leastOrderTicks: m(10) }, [hooks], 0)).toEqual([]);
  });

  it('is reached by just as much, and by an order of nothing', () => {
    expect(missesOf({ ...NONE, leastOrderMinor: 5000, leastOrderTicks: m(10) }, lines, 0)).toEqual([]);
    expect(missesOf({ ...NONE, leastOrderMinor: 5000 }, [], 0)).toEqual([]);
  });
});

describe('what it would take', () => {
  const perMetre = { price: { minor: 680, perTicks: m(1) }, unitTicks: m(0.1) };

  it('is the fewest steps or bolts, worked out by hand', () => {
    // 12.40 at 0.68 a step less 5 % = 0.646: 20 steps are 12.92, 19 are 12.27.
    expect(moreToReach({ what: 'amount', missing: 1240 }, perMetre, 500)).toEqual({
      units: 20,
      lengthTicks: m(2),
      netMinor: 1292,
    });
    expect(moreToReach({ what: 'length', missing: m(1.25) }, perMetre, 0)?.lengthTicks).toBe(m(1.3));
    const bolts = { price: { minor: 14_800, perTicks: m(36) }, unitTicks: m(36) };
    expect(moreToReach({ what: 'amount', missing: 20_000 }, bolts, 0)).toMatchObject({
      units: 2,
      netMinor: 29_600,
    });
  });

  it('is nothing that money buys where more of it is free', () => {
    const free = { price: { minor: 0, perTicks: m(1) }, unitTicks: m(1) };
    expect(moreToReach({ what: 'amount', missing: 1 }, free, 0)).toBeNull();
    expect(moreToReach({ what: 'amount', missing: 1 }, perMetre, 10_000)).toBeNull();
    expect(() => moreToReach({ what: 'amount', missing: 0 }, perMetre, 0)).toThrow(RangeError);
  });

  it('is found by counting up from one, whatever the price', () => {
    const price = fc.record({
      minor: fc.integer({ min: 1, max: 3000 }),
      perTicks: fc.constantFrom(m(1), m(0.9144)),
    });
    fc.assert(
      fc.property(price, fc.integer({ min: 1, max: 4000 }), fc.nat(9000), (one, missing, discountBp) => {
        const unitTicks = m(0.1);
        let units = 1;
        while (netOf(costOf(units * unitTicks, one), discountBp) < missing) units += 1;
        expect(moreToReach({ what: 'amount', missing }, { price: one, unitTicks }, discountBp)?.units).toBe(
          units,
        );
      }),
    );
  });
});
