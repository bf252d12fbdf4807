import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bath } from '../../../src/dye/bath.ts';
import { JUGS_ML, leastWeighedMg, proposeStocks } from '../../../src/dye/stock-solution.ts';

/** A bath that takes so much of one dye or auxiliary. */
const bathOf = (massUg: number, part: 'dye' | 'auxiliary' = 'dye'): Bath => ({
  massMg: 100_000,
  volumeUl: 4_000_000,
  freshWaterUl: 4_000_000,
  lines: [{ part, name: 'Fern', asked: '', massMg: Math.round(massUg / 1000), massUg }],
});

/** Solutions by mass balance: what is in a jug is what was put into it. */
function gramsPer100Ml(stock: ReturnType<typeof proposeStocks>[number]): number {
  return (stock.dilutions ?? []).reduce(
    (strength, { takeMl, makeMl }) => (strength * takeMl) / makeMl,
    (stock.weighMg / 1000 / stock.makeMl) * 100,
  );
}

describe('the least that a balance weighs well', () => {
  // USP chapter 41 (2019): at least 2 s ÷ tolerance, s no less than 0.41 of a step; its example, s = 0.00015 g for
  // 0.10 %, gives 0.30 g, and 0.01 g for 1 % so 0.82 g.
  const leastG = (sG: number, part: number) => (2 * sG) / part;

  it('is no less than the published rule asks of a dye at 1 %, and next to nothing more', () => {
    expect(leastG(0.00015, 0.001)).toBeCloseTo(0.3, 9);
    expect(leastG(0.41 * 0.01, 0.01)).toBeCloseTo(0.82, 9);
    for (const stepMg of [1, 10, 100]) {
      const publishedMg = leastG((0.41 * stepMg) / 1000, 0.01) * 1000;
      expect(leastWeighedMg(stepMg, 'dye')).toBeGreaterThanOrEqual(publishedMg);
      expect(leastWeighedMg(stepMg, 'dye')).toBeLessThanOrEqual(1.25 * publishedMg);
    }
  });
});

describe('a stock for what the balance does not resolve', () => {
  it('is made up in jugs, tenfold at most at a step, from a weighing to be trusted', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2_000_000 }),
        fc.integer({ min: 1, max: 60 }),
        fc.constantFrom(1, 5, 10, 20, 50, 100, 200, 500, 1000),
        fc.constantFrom('dye' as const, 'auxiliary' as const),
        (massUg, baths, balanceMg, part) => {
          const [stock] = proposeStocks(bathOf(massUg, part), baths, balanceMg);
          if (!stock) return;
          const { dilutions = [], makeMl, weighMg, perBathUl, mgPer100Ml } = stock;
          expect(weighMg).toBeGreaterThanOrEqual(leastWeighedMg(balanceMg, part));
          expect(gramsPer100Ml(stock) * 1000).toBeCloseTo(mgPer100Ml, 9);
          // What each bath measures holds what it wants, to the microlitre.
          expect(Math.abs((perBathUl * mgPer100Ml) / 100 - massUg)).toBeLessThanOrEqual(mgPer100Ml / 200);
          expect(perBathUl).toBeGreaterThanOrEqual(1000);
          let inJugMl = makeMl;
          for (const { takeMl, makeMl: made } of dilutions) {
            expect(takeMl).toBeGreaterThanOrEqual(10);
            expect(takeMl).toBeLessThanOrEqual(inJugMl);
            expect(made / takeMl).toBeLessThanOrEqual(10);
            inJugMl = made;
          }
          for (const jug of [makeMl, ...dilutions.map((each) => each.makeMl)]) expect(JUGS_ML).toContain(jug);
          expect(inJugMl * 1000).toBeGreaterThanOrEqual(perBathUl * baths);
        },
      ),
    );
  });

  it('is thinned from 1 % to 0.1 % to 0.01 % with 10 mL in 100 mL, and not dissolved in 5 L', () => {
    // The route of three glasses: 1 % → 0.1 % → 0.01 %, worked out at 2.0 % together by cylinders of ASTM E1272, class B.
    const [stock] = proposeStocks(bathOf(4_000), 1, 10);
    expect(stock).toEqual({
      line: 0,
      mgPer100Ml: 20,
      perBathUl: 20_000,
      makeMl: 100,
      weighMg: 1000,
      dilutions: [
        { takeMl: 20, makeMl: 100, mgPer100Ml: 200 },
        { takeMl: 10, makeMl: 100, mgPer100Ml: 20 },
      ],
    });
    const [least] = proposeStocks(bathOf(400), 1, 10);
    expect(least?.perBathUl).toBe(20_000);
    expect(least?.dilutions?.map(({ mgPer100Ml }) => mgPer100Ml)).toEqual([200, 20, 2]);
  });

  it('is not proposed where the balance is too coarse for any jug', () => {
    // A balance of a gram weighs 100 g well, and 100 g of dye make 10 L of 1 %.
    expect(proposeStocks(bathOf(400_000), 1, 1000)).toEqual([]);
  });
});
