import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cheapestPutUps, choiceOf, type PutUpPrice, putUpPrice } from '../../../src/supply/put-ups.ts';

const price = (amount: number, priceMinor: number, fromCount = 1): PutUpPrice => ({
  putUp: '',
  amount,
  fromCount,
  priceMinor,
});

describe('put-ups of a supply', () => {
  it('are charged at the price of the last break that their number reaches', () => {
    const boxes = [price(50, 600), price(50, 500, 10), price(50, 450, 20), price(10, 200)];
    expect([1, 9, 10, 19, 20, 99].map((count) => putUpPrice(boxes, 50, count)?.priceMinor)).toEqual([
      600, 600, 500, 500, 450, 450,
    ]);
    expect(putUpPrice(boxes, 25, 1)).toBeUndefined();
    expect(putUpPrice([price(50, 500, 10)], 50, 9)).toBeUndefined();
  });

  it('are the cheapest that hold enough, and not the fewest', () => {
    // 340 g of tubs of 100 g at 8.40 and 250 g at 19.00: 250 + 100 for 27.40 beats 4 × 100 for 33.60.
    const tubs = [price(100_000, 840), price(250_000, 1900)];
    expect(cheapestPutUps(tubs, 340_000)).toMatchObject({
      amount: 350_000,
      costMinor: 2740,
      bought: [
        { amount: 250_000, count: 1 },
        { amount: 100_000, count: 1 },
      ],
    });
    // Ten boxes at their break cost less than nine without it.
    expect(cheapestPutUps([price(50, 600), price(50, 500, 10)], 450)).toMatchObject({
      costMinor: 5000,
      bought: [{ count: 10, priceMinor: 500 }],
    });
  });

  it('are none where nothing is needed or offered', () => {
    expect(cheapestPutUps([price(50, 600)], 0)).toBeNull();
    expect(cheapestPutUps([], 5)).toBeNull();
    expect(choiceOf([price(50, 500, 10)], new Map([[50, 3]]))).toBeNull();
  });

  it('hold enough of a great need, at no more than one size alone would cost', () => {
    const reels = [price(1, 30), price(500, 9000), price(1000, 17_500)];
    const found = cheapestPutUps(reels, 1_234_567);
    expect(found?.amount).toBeGreaterThanOrEqual(1_234_567);
    expect(found?.costMinor).toBeLessThanOrEqual(1235 * 17_500);
  });

  it('cost what the cheapest of all combinations does', () => {
    const sizes = fc.uniqueArray(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 3 });
    const offers = sizes.chain((amounts) =>
      fc.tuple(
        ...amounts.map((amount) =>
          fc
            .tuple(
              fc.integer({ min: 0, max: 90 }),
              fc.integer({ min: 2, max: 5 }),
              fc.integer({ min: 0, max: 90 }),
            )
            .map(([one, from, many]) => [price(amount, one), price(amount, Math.min(one, many), from)]),
        ),
      ),
    );
    fc.assert(
      fc.property(offers, fc.integer({ min: 1, max: 30 }), (offered, needed) => {
        const prices = offered.flat();
        expect(cheapestPutUps(prices, needed)?.costMinor).toBe(leastOfAll(prices, needed));
      }),
      { numRuns: 150 },
    );
  });
});

/** Every number of every size up to 35 put-ups, tried out. */
function leastOfAll(prices: readonly PutUpPrice[], needed: number): number {
  const sizes = [...new Set(prices.map(({ amount }) => amount))];
  const costs = (at: number, missing: number): number => {
    const size = sizes[at];
    if (size === undefined) return missing <= 0 ? 0 : Number.POSITIVE_INFINITY;
    let least = costs(at + 1, missing);
    for (let count = 1; count <= Math.max(5, Math.ceil(needed / size)); count += 1) {
      const each = putUpPrice(prices, size, count);
      if (each) least = Math.min(least, each.priceMinor * count + costs(at + 1, missing - count * size));
    }
    return least;
  };
  return costs(0, needed);
}
