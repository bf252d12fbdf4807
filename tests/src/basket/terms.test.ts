import { describe, expect, it } from 'vitest';
import {
  type BasketJob,
  type BasketSupplier,
  costOfMix,
  priceBasket,
} from '../../../src/buying/basket/job.ts';
import { bestOfAll } from '../../../src/buying/basket/mixes.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { m } from '../../lengths.ts';
import { PLAIN_SUPPLIER } from './plain-supplier.ts';

/** 8 m of one cloth: bolts of 10 m, and cut every metre at €5.00. */
function jobOf(suppliers: readonly Partial<BasketSupplier>[], boltMinor = 5000): BasketJob {
  return {
    needs: [{ lengthTicks: m(8) }],
    suppliers: suppliers.map((terms) => ({ ...PLAIN_SUPPLIER, ...terms })),
    offers: suppliers.map((_, supplier) => ({
      need: 0,
      supplier,
      bolts: [{ lengthTicks: m(10), priceMinor: boltMinor }],
      byLength: {
        stepTicks: m(1),
        leastTicks: 0,
        prices: [{ fromTicks: 0, price: { minor: 500, perTicks: TICKS_PER.m } }],
      },
    })),
    currency: 'EUR',
  };
}

const cutOf = (metres: number) => ({ offer: 0, bolts: [0], cutTicks: m(metres) });

describe('the terms of a supplier, by hand', () => {
  it('take the discount off the goods and not off fees and freight, and tax all of it', () => {
    // 8 m at 5.00 are 40.00, less 10 % 36.00; cut fee 2.50, freight 6.00: 44.50; tax 20 % of that 8.90: 53.40.
    const job = jobOf([{ discountBp: 1000, cutFeeMinor: 250, freightMinor: 600, taxBp: 2000 }]);
    expect(priceBasket(job, [cutOf(8)]).sums).toMatchObject([
      {
        listMinor: 4000,
        discountMinor: 400,
        goodsMinor: 3600,
        cutFeesMinor: 250,
        freightMinor: 600,
        taxMinor: 890,
        totalMinor: 5340,
      },
    ]);
    expect(costOfMix(job, cutOf(8))).toBe(3850);
  });

  it('free of freight by the goods less the discount', () => {
    const job = jobOf([{ discountBp: 1000, freightMinor: 600, freeFromMinor: 4000 }]);
    expect(priceBasket(job, [cutOf(8)]).totalMinor).toBe(3600 + 600);
    expect(priceBasket(job, [cutOf(9)]).totalMinor).toBe(4050);
  });

  it('make the whole bolt cheaper where a cut fee is more than the rest of it', () => {
    expect(bestOfAll(jobOf([{ cutFeeMinor: 999 }]), 1000)?.best.mixes[0]?.cutTicks).toBe(m(8));
    // The bolt is 10.00 dearer than 8 m.
    expect(bestOfAll(jobOf([{ cutFeeMinor: 1001 }]), 1000)?.best.mixes[0]).toMatchObject({
      bolts: [1],
      cutTicks: 0,
    });
  });

  it('send to who sells so little, or make the order reach the minimum where that is cheaper', () => {
    // From the first 9 m are 45.00, which is the least; the second asks 6.00 of freight: 46.00.
    const reached = bestOfAll(jobOf([{ leastOrderMinor: 4500 }, { freightMinor: 600 }], 9000), 1000)?.best;
    expect(reached).toMatchObject({ totalMinor: 4500, refusers: 0, mixes: [cutOf(9)] });
    const elsewhere = bestOfAll(jobOf([{ leastOrderMinor: 5000 }, { freightMinor: 600 }], 9000), 1000)?.best;
    expect(elsewhere).toMatchObject({ totalMinor: 4600, refusers: 0, mixes: [{ offer: 1 }] });
    const byLength = bestOfAll(jobOf([{ leastLineTicks: m(10) }, { freightMinor: 1100 }], 9000), 1000)?.best;
    expect(byLength).toMatchObject({ totalMinor: 5000, mixes: [cutOf(10)] });
  });

  it('say of the cheapest that it is below the minimum where nothing reaches it', () => {
    const far = bestOfAll(jobOf([{ leastOrderMinor: 50_000 }], 9000), 1000)?.best;
    expect(far).toMatchObject({ totalMinor: 4000, refusers: 1 });
  });
});
