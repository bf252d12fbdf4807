import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitLengths } from '../../../src/supply/lengths.ts';
import {
  cheapestPutUps,
  choiceOf,
  type PutUpPrice,
  putUpPrice,
  putUpsForLengths,
} from '../../../src/supply/put-ups.ts';

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

describe('put-ups for lengths that may not be joined', () => {
  const whole = (ticks: number) => ({ ticks, pieces: 1 });

  it('are those that each length fits in, by hand', () => {
    // Three steels of 10 m out of coils of 25 m: two a coil, so two coils and not 30 / 25 = 1.2 of them.
    expect(putUpsForLengths([price(25, 1000)], [whole(10), whole(10), whole(10)])).toMatchObject({
      bought: [{ amount: 25, count: 2 }],
    });
    // 4 and 3 m: a reel of 5 and one of 3 cost 8.00, two of 5 10.00, one of 10 9.00.
    const reels = [price(10, 900), price(5, 500), price(3, 300)];
    expect(putUpsForLengths(reels, [whole(4), whole(3)])?.costMinor).toBe(800);
    expect(putUpsForLengths([price(25, 1000)], [whole(26)])).toBeNull();
    expect(putUpsForLengths([price(25, 1000)], [{ ticks: 60, pieces: 3 }])?.amount).toBe(75);
    // So many ways that only coils alone are looked at: 150 lengths, two a coil.
    const many = Array.from({ length: 150 }, () => whole(10));
    expect(putUpsForLengths([price(25, 1000), price(12, 700), price(11, 700)], many)?.costMinor).toBe(75_000);
  });

  it('cost as little as any counts of each that hold them', () => {
    const sizes = fc.uniqueArray(
      fc.tuple(fc.integer({ min: 3, max: 12 }), fc.integer({ min: 50, max: 900 })),
      {
        minLength: 1,
        maxLength: 2,
        selector: ([size]) => size,
      },
    );
    const lengths = fc.array(fc.integer({ min: 1, max: 9 }).map(whole), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(sizes, lengths, (of, wanted) => {
        const prices = of.map(([size, minor]) => price(size, minor));
        let least = Number.POSITIVE_INFINITY;
        const [[first = 0, firstMinor = 0] = [], [second = 0, secondMinor = 0] = []] = of;
        for (let a = 0; a <= wanted.length; a += 1)
          for (let b = 0; b <= (second === 0 ? 0 : wanted.length); b += 1) {
            const reels = [...Array(a).fill(first), ...Array(b).fill(second)];
            const fits = fitLengths(wanted, reels).missing.length === 0;
            if (fits) least = Math.min(least, a * firstMinor + b * secondMinor);
          }
        expect(putUpsForLengths(prices, wanted)?.costMinor ?? Number.POSITIVE_INFINITY).toBe(least);
      }),
    );
  });
});
