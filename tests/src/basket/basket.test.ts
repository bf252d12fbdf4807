import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadBasketSolver } from '../../../server/buying/basket/solver.ts';
import { byHand } from '../../../src/buying/basket/by-hand.ts';
import {
  type BasketJob,
  doesWithout,
  lengthOf,
  priceBasket,
  putUpsOf,
} from '../../../src/buying/basket/job.ts';
import { bestOfAll } from '../../../src/buying/basket/mixes.ts';
import { planBasket, solvedBasket } from '../../../src/buying/basket/plan.ts';
import type { PutUps } from '../../../src/buying/offer.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { m } from '../../lengths.ts';
import { PLAIN_SUPPLIER } from './plain-supplier.ts';

const solver = await loadBasketSolver();
const solve = async (program: Parameters<typeof solver>[0]) => solver(program);

/** Bolts as metres and price, and a price a metre in tenths of a metre. */
function putUps(
  bolts: [metres: number, minor: number][],
  perMetre?: number | [from: number, minor: number][],
): PutUps {
  const breaks = typeof perMetre === 'number' ? [[0, perMetre] as const] : (perMetre ?? []);
  return {
    bolts: bolts.map(([metres, priceMinor]) => ({ lengthTicks: m(metres), priceMinor })),
    byLength:
      breaks.length === 0
        ? null
        : {
            stepTicks: m(0.1),
            leastTicks: m(0.5),
            prices: breaks.map(([from, minor]) => ({
              fromTicks: m(from),
              price: { minor, perTicks: TICKS_PER.m },
            })),
          },
  };
}

describe('a basket by hand', () => {
  it('takes the whole bolt where it is cheaper than the length', async () => {
    const job: BasketJob = {
      needs: [{ lengthTicks: m(38) }],
      suppliers: [PLAIN_SUPPLIER],
      offers: [{ need: 0, supplier: 0, ...putUps([[50, 18_000]], 500) }],
      currency: 'EUR',
    };
    const { best, second, proved } = await planBasket(job, solve);
    // 38 m by the metre are 190.00; the bolt of 50 m is 180.00 and leaves 12 m.
    expect(best).toMatchObject({ totalMinor: 18_000, mixes: [{ bolts: [1], cutTicks: 0 }] });
    expect(second).toMatchObject({ totalMinor: 19_000, mixes: [{ bolts: [0], cutTicks: m(38) }] });
    expect(proved).toBe(true);
  });

  it('buys more than is needed where a price break or free freight is worth it', async () => {
    const job: BasketJob = {
      needs: [{ lengthTicks: m(9) }],
      suppliers: [{ ...PLAIN_SUPPLIER, freightMinor: 1500, freeFromMinor: 10_000, taxBp: 1900 }],
      offers: [
        {
          need: 0,
          supplier: 0,
          ...putUps(
            [],
            [
              [0, 1000],
              [10, 950],
            ],
          ),
        },
      ],
      currency: 'EUR',
    };
    const { best } = await solvedBasket(job, solve);
    // 9 m: 90.00 + 15.00 freight. 10 m at 9.50: 95.00 + 15.00. 10.6 m: 100.70 free of freight: with 19 % tax 119.83.
    expect(best).toMatchObject({
      totalMinor: 11_983,
      mixes: [{ cutTicks: m(10.6) }],
      sums: [{ goodsMinor: 10_070, freightMinor: 0, taxMinor: 1913 }],
    });
  });

  it('keeps one cloth in one shade with one supplier, and shares freight among what comes together', async () => {
    const job: BasketJob = {
      needs: [{ lengthTicks: m(10) }, { lengthTicks: m(4) }],
      suppliers: [
        { ...PLAIN_SUPPLIER, freightMinor: 900 },
        { ...PLAIN_SUPPLIER, freightMinor: 900 },
      ],
      offers: [
        { need: 0, supplier: 0, ...putUps([[5, 2000]], 500) },
        { need: 0, supplier: 1, ...putUps([[5, 1900]]) },
        { need: 1, supplier: 0, ...putUps([], 300) },
        { need: 1, supplier: 1, ...putUps([], 350) },
      ],
      currency: 'EUR',
    };
    const { best, second } = await planBasket(job, solve);
    // All from the second: 38 + 14 + 9 = 61. All from the first: 40 + 12 + 9 = 61. Split: 38 + 12 + 18 = 68.
    expect([best.totalMinor, second?.totalMinor]).toEqual([6100, 6100]);
    expect(doesWithout(second?.mixes ?? [], best.mixes)).toBe(true);
  });

  it('changes each supplier’s money once, by the minor units of ISO 4217', () => {
    const job: BasketJob = {
      needs: [{ lengthTicks: m(3) }],
      suppliers: [
        {
          ...PLAIN_SUPPLIER,
          currency: 'JPY',
          rateMillionths: 6_123,
          freightMinor: 800,
          freeFromMinor: null,
          taxBp: 1000,
        },
      ],
      offers: [{ need: 0, supplier: 0, ...putUps([], 777) }],
      currency: 'EUR',
    };
    const { sums, totalMinor } = priceBasket(job, [{ offer: 0, bolts: [], cutTicks: m(3) }]);
    // 2331 + 800 = 3131 yen, tax 313.1, in all 3444 yen at 0.006123 are 21.09 euros.
    expect(sums).toMatchObject([{ goodsMinor: 2331, taxMinor: 313 }]);
    expect(totalMinor).toBe(2109);
    const home = sums[0]?.home;
    expect((home?.goodsMinor ?? 0) + (home?.freightMinor ?? 0) + (home?.taxMinor ?? 0)).toBe(2109);
  });

  it('refuses what does not cover a need, and a need without an offer', () => {
    const job: BasketJob = {
      needs: [{ lengthTicks: m(3) }],
      suppliers: [PLAIN_SUPPLIER],
      offers: [{ need: 0, supplier: 0, ...putUps([[2, 500]], 400) }],
      currency: 'EUR',
    };
    expect(() => priceBasket(job, [{ offer: 0, bolts: [1], cutTicks: 0 }])).toThrow(/not covered/);
    expect(() => priceBasket(job, [{ offer: 0, bolts: [1], cutTicks: m(1.05) }])).toThrow(/not covered/);
    expect(() => byHand({ ...job, offers: [] })).toThrow(/no offer/);
  });
});

describe('supplies in a basket, by hand', () => {
  /** 85 m of elastic and 30 hooks, in thousandths of a metre and of a hook. */
  const job = (terms: Partial<BasketJob['suppliers'][number]>): BasketJob => ({
    needs: [
      { lengthTicks: 85_000, isSupply: true },
      { lengthTicks: 30_000, isSupply: true },
    ],
    suppliers: [{ ...PLAIN_SUPPLIER, ...terms }, PLAIN_SUPPLIER],
    offers: [
      {
        need: 0,
        supplier: 0,
        bolts: [
          { lengthTicks: 25_000, priceMinor: 1000 },
          { lengthTicks: 25_000, priceMinor: 900, fromCount: 4 },
          { lengthTicks: 5000, priceMinor: 240 },
        ],
        byLength: null,
      },
      { need: 1, supplier: 0, bolts: [{ lengthTicks: 10_000, priceMinor: 100 }], byLength: null },
      { need: 1, supplier: 1, bolts: [{ lengthTicks: 10_000, priceMinor: 90 }], byLength: null },
    ],
    currency: 'EUR',
  });

  it('mix put-ups, and take more for a price break only where that is cheaper', async () => {
    // 3 x 25 + 2 x 5 = 85 m are 34.80; 4 x 25 at 9.00 are 36.00. Hooks are 2.70 of the second.
    const { best } = await planBasket(job({}), solve);
    expect(best.mixes.map(({ bolts }) => bolts)).toEqual([[3, 0, 2], [3]]);
    expect(best.totalMinor).toBe(3480 + 270);
    // With the short reels at 3.10 they would be 36.20: the break is cheaper.
    const dear = job({});
    const offers = dear.offers.map((offer, i) =>
      i > 0
        ? offer
        : {
            ...offer,
            bolts: offer.bolts.map((bolt) => ({
              ...bolt,
              priceMinor: bolt.lengthTicks === 5000 ? 310 : bolt.priceMinor,
            })),
          },
    );
    expect((await planBasket({ ...dear, offers }, solve)).best.mixes[0]?.bolts).toEqual([0, 4, 0]);
  });

  it('come together where freight or the least order makes that cheaper than each by itself', async () => {
    // Hooks cost 30 cents more where the elastic is bought; without them its order is below 37.00.
    const { best } = await planBasket(job({ leastOrderMinor: 3700 }), solve);
    expect(best).toMatchObject({ totalMinor: 3480 + 300, refusers: 0 });
    const freed = await planBasket(job({ freightMinor: 500, freeFromMinor: 3780 }), solve);
    expect(freed.best).toMatchObject({ totalMinor: 3780, sums: [{ freightMinor: 0 }] });
  });

  it('charges no count at a price of another', () => {
    const wrong = (bolts: number[]) => () =>
      priceBasket(job({}), [
        { offer: 0, bolts, cutTicks: 0 },
        { offer: 1, bolts: [3], cutTicks: 0 },
      ]);
    expect(wrong([4, 0, 0])).toThrow(/not covered/);
    expect(wrong([0, 3, 2])).toThrow(/not covered/);
    expect(wrong([1, 4, 0])).toThrow(/not covered/);
    expect(wrong([0, 4, 0])).not.toThrow();
  });
});

// Four colours short of 62.4, 41.5, 9.2 and 118 m at suppliers of bolts, of lengths and of both (invented prices).
describe('a larger basket', () => {
  it('is found by the solver, proved, and cheaper than bolts alone or lengths alone', async () => {
    const needs = [62.4, 41.5, 9.2, 118].map((metres) => ({ lengthTicks: m(metres) }));
    const suppliers = [
      { ...PLAIN_SUPPLIER, freightMinor: 1800, freeFromMinor: 60_000, taxBp: 1900 },
      { ...PLAIN_SUPPLIER, freightMinor: 1200, taxBp: 1900 },
      { ...PLAIN_SUPPLIER, freightMinor: 2500, freeFromMinor: 90_000, taxBp: 1900 },
    ];
    const offers = needs.flatMap((_, need) => [
      {
        need,
        supplier: 0,
        ...putUps(
          [
            [50, 19_500 + need * 100],
            [10, 4600],
          ],
          [
            [0, 560],
            [25, 480],
          ],
        ),
      },
      {
        need,
        supplier: 1,
        ...putUps(
          [],
          [
            [0, 520 + need],
            [50, 455],
          ],
        ),
      },
      {
        need,
        supplier: 2,
        ...putUps([
          [30, 11_900],
          [100, 37_000 - need * 50],
        ]),
      },
    ]);
    const job: BasketJob = { needs, suppliers, offers, currency: 'EUR' };
    expect(bestOfAll(job, 4000)).toBeNull();
    const plan = await planBasket(job, solve);
    const only = (keep: (putUp: PutUps) => PutUps) =>
      byHand({ ...job, offers: offers.map((offer) => ({ ...offer, ...keep(offer) })) }).best.totalMinor;
    expect(plan.proved).toBe(true);
    expect(plan.best.totalMinor).toBeLessThan(only((putUp) => ({ ...putUp, byLength: null })));
    expect(plan.best.totalMinor).toBeLessThan(only((putUp) => ({ ...putUp, bolts: [] })));
    expect(plan.second?.totalMinor).toBeGreaterThanOrEqual(plan.best.totalMinor);
    expect(priceBasket(job, plan.best.mixes)).toEqual(plan.best);
  });
});

describe('the solver against trying everything', () => {
  const offerOf = fc.record({
    bolts: fc.uniqueArray(
      fc.tuple(
        fc.constantFrom(2, 3, 5),
        fc.integer({ min: 10, max: 200 }).map((tens) => 10 * tens),
        // From so many on each of them costs something else.
        fc.option(
          fc.tuple(
            fc.integer({ min: 2, max: 4 }),
            fc.integer({ min: 10, max: 200 }).map((tens) => 10 * tens),
          ),
        ),
      ),
      {
        maxLength: 2,
        selector: ([metres]) => metres,
      },
    ),
    perMetre: fc.option(
      fc.tuple(
        fc.integer({ min: 10, max: 60 }),
        fc.option(fc.tuple(fc.integer({ min: 1, max: 5 }), fc.integer({ min: 10, max: 60 }))),
      ),
    ),
    step: fc.constantFrom(0.5, 1),
  });
  const jobOf = fc
    .record({
      needs: fc.array(fc.tuple(fc.integer({ min: 3, max: 60 }), fc.boolean()), {
        minLength: 1,
        maxLength: 2,
      }),
      suppliers: fc.array(
        fc.record({
          freight: fc.integer({ min: 0, max: 900 }),
          free: fc.option(fc.integer({ min: 500, max: 3000 })),
          discountBp: fc.constantFrom(0, 0, 1000, 5000),
          cutFeeMinor: fc.constantFrom(0, 0, 70),
          least: fc.record({
            leastOrderMinor: fc.option(fc.integer({ min: 100, max: 3000 })),
            leastOrderTicks: fc.option(fc.integer({ min: 1, max: 12 }).map(m)),
            leastLineMinor: fc.option(fc.integer({ min: 100, max: 2000 })),
            leastLineTicks: fc.option(fc.integer({ min: 1, max: 8 }).map(m)),
          }),
          offers: fc.array(offerOf, { minLength: 2, maxLength: 2 }),
        }),
        { minLength: 1, maxLength: 2 },
      ),
    })
    .map(({ needs, suppliers }): BasketJob => {
      const offers = suppliers.flatMap(({ offers: own }, supplier) =>
        needs.flatMap(([, isSupply], need) => {
          const offer = own[need];
          const perMetre = isSupply ? null : offer?.perMetre;
          if (!offer || (offer.bolts.length === 0 && !perMetre)) return [];
          const [base, more] = perMetre ?? [];
          // Prices of a half metre are whole tens, less a discount too, so that rounding lines makes no difference to the program.
          const made = putUps(
            [],
            base === undefined
              ? []
              : [[0, base * 20], ...(more ? [[more[0], more[1] * 20] as [number, number]] : [])],
          );
          const byLength = made.byLength && { ...made.byLength, stepTicks: m(offer.step) };
          const bolts = offer.bolts.flatMap(([metres, priceMinor, later]) => {
            const lengthTicks = m(metres);
            const first = { lengthTicks, priceMinor };
            return later ? [first, { lengthTicks, fromCount: later[0], priceMinor: later[1] }] : [first];
          });
          return [{ need, supplier, bolts, byLength }];
        }),
      );
      return {
        needs: needs.map(([tenths, isSupply]) => ({ lengthTicks: m(tenths / 10), isSupply })),
        suppliers: suppliers.map(({ freight, free, discountBp, cutFeeMinor, least }) => ({
          ...PLAIN_SUPPLIER,
          ...least,
          discountBp,
          cutFeeMinor,
          freightMinor: freight,
          freeFromMinor: free,
        })),
        offers,
        currency: 'EUR',
      };
    })
    .filter((job) => job.needs.every((_, need) => job.offers.some((offer) => offer.need === need)));

  it('is as cheap, first and second', async () => {
    await fc.assert(
      fc.asyncProperty(jobOf, async (job) => {
        const all = bestOfAll(job, 300_000);
        fc.pre(all !== null);
        const solved = await solvedBasket(job, solve);
        expect(solved.proved).toBe(true);
        expect(solved.best.refusers > 0).toBe((all?.best.refusers ?? 0) > 0);
        expect(solved.best.totalMinor).toBe(all?.best.totalMinor);
        if (putUpsOf(solved.best.mixes).join() === putUpsOf(all?.best.mixes ?? []).join()) {
          expect(solved.second?.totalMinor).toBe(all?.second?.totalMinor);
        }
        job.needs.forEach(({ lengthTicks }, need) => {
          const mix = solved.best.mixes[need];
          const offer = mix && job.offers[mix.offer];
          expect(offer && lengthOf(offer, mix)).toBeGreaterThanOrEqual(lengthTicks);
        });
      }),
      { numRuns: 80 },
    );
  });
});
