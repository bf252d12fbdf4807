import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Bath } from '../../../src/dye/bath.ts';
import { offBpOf, SMALL_MEASURES } from '../../../src/dye/measuring.ts';
import {
  isTooLittle,
  JUGS_ML,
  leastForStockMg,
  proposeStocks,
  sourcesOf,
} from '../../../src/dye/stock-solution.ts';

/** A bath that takes so much of one dye. */
const bathOf = (massUg: number): Bath => ({
  massMg: 100_000,
  volumeUl: 4_000_000,
  freshWaterUl: 4_000_000,
  lines: [{ part: 'dye', name: 'Fern', asked: '', massMg: Math.round(massUg / 1000), massUg }],
});

/** Solutions by mass balance: what is in a jug is what was put into it. */
function gramsPer100Ml(stock: ReturnType<typeof proposeStocks>[number]): number {
  return (stock.dilutions ?? []).reduce(
    (strength, { takeMl, makeMl }) => (strength * takeMl) / makeMl,
    (stock.weighMg / 1000 / stock.makeMl) * 100,
  );
}

describe('a stock for what the balance does not resolve', () => {
  it('is made up in jugs, tenfold at most at a step, from a weighing to be trusted', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 2_000_000 }),
        fc.integer({ min: 1, max: 60 }),
        fc.constantFrom(1, 5, 10, 20, 50, 100, 200, 500, 1000),
        fc.constantFrom(...SMALL_MEASURES),
        fc.constantFrom(100, 200, 500, 1000),
        (massUg, baths, balanceMg, measuresWith, offBp) => {
          const bench = { balanceMg, measuresWith, offBp };
          const bath = bathOf(massUg);
          const [line] = bath.lines;
          const [stock] = proposeStocks(bath, baths, bench);
          if (!stock || !line) return;
          // A stock is only made where the thing itself cannot be weighed well enough, and is truer than weighing it.
          expect(isTooLittle(line, bench)).toBe(true);
          const taken = { ...line, volumeUl: stock.perBathUl, stockMgPer100Ml: stock.mgPer100Ml };
          expect(offBpOf(sourcesOf(taken, stock, bench))).toBeLessThan(
            offBpOf(sourcesOf(line, undefined, bench)),
          );
          const { dilutions = [], makeMl, weighMg, perBathUl, mgPer100Ml } = stock;
          expect(weighMg).toBeGreaterThanOrEqual(leastForStockMg(balanceMg));
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
    const [stock] = proposeStocks(bathOf(4_000), 1, { balanceMg: 10 });
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
    const [least] = proposeStocks(bathOf(400), 1, { balanceMg: 10 });
    expect(least?.perBathUl).toBe(20_000);
    expect(least?.dilutions?.map(({ mgPer100Ml }) => mgPer100Ml)).toEqual([200, 20, 2]);
  });

  it('is not proposed where the balance is too coarse for any jug', () => {
    // A balance of a gram weighs 100 g well, and 100 g of dye make 10 L of 1 %.
    expect(proposeStocks(bathOf(400_000), 1, { balanceMg: 1000 })).toEqual([]);
  });
});
