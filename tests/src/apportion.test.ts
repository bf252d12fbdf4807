import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { apportion } from '../../src/quantity/money.ts';

describe('sharing out an amount', () => {
  it('gives what is left over to the largest remainders', () => {
    // Ten seats by the Hare quota, the worked example of Wikipedia's "Largest remainders method" (from memory).
    expect(apportion(10, [47_000, 16_000, 15_800, 12_000, 6_100, 3_100])).toEqual([5, 2, 1, 1, 1, 0]);
    expect(apportion(10, [415, 337, 248])).toEqual([4, 3, 3]); // 4.15, 3.37, 2.48
  });

  it('serves equal remainders in order', () => {
    expect(apportion(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(apportion(5, [1, 1, 1])).toEqual([2, 2, 1]);
    expect(apportion(1, [2, 2])).toEqual([1, 0]);
  });

  it('gives nothing for a weight of nought, and equal shares if all are', () => {
    expect(apportion(5, [0, 3, 0])).toEqual([0, 5, 0]);
    expect(apportion(7, [0, 0])).toEqual([4, 3]);
    expect(apportion(0, [0, 1])).toEqual([0, 0]);
    expect(apportion(0, [])).toEqual([]);
  });

  it('shares a credit like a charge', () => {
    expect(apportion(-100, [1, 1, 1])).toEqual([-34, -33, -33]);
    expect(apportion(-5, [0, 1])).toEqual([0, -5]);
  });

  it('throws on what cannot be shared', () => {
    expect(() => apportion(1, [])).toThrow(RangeError);
    expect(() => apportion(1, [2, -1])).toThrow(RangeError);
    expect(() => apportion(1, [0.5])).toThrow(RangeError);
    expect(() => apportion(1.5, [1])).toThrow(RangeError);
    expect(() => apportion(1, [Number.NaN])).toThrow(RangeError);
  });

  it('adds up exactly, and stays within one unit of the exact share', () => {
    const weights = fc.array(fc.nat(16_000_000), { minLength: 1, maxLength: 20 });
    fc.assert(
      fc.property(fc.integer({ min: -(10 ** 9), max: 10 ** 9 }), weights, (total, given) => {
        const shares = apportion(total, given);
        expect(shares.reduce((sum, share) => sum + share, 0)).toBe(total);
        const sum = given.reduce((so, weight) => so + weight, 0);
        if (sum === 0) return;
        for (const [index, share] of shares.entries()) {
          const [scaled, exact] = [BigInt(share) * BigInt(sum), BigInt(total) * BigInt(given[index] ?? 0)];
          const off = scaled > exact ? scaled - exact : exact - scaled;
          expect(off < BigInt(sum)).toBe(true);
        }
      }),
    );
  });

  it('gives a larger weight no less', () => {
    fc.assert(
      fc.property(
        fc.nat(10 ** 6),
        fc.array(fc.nat(1000), { minLength: 2, maxLength: 8 }),
        (total, weights) => {
          const byWeight = apportion(total, weights)
            .map((share, index) => ({ share, weight: weights[index] ?? 0 }))
            .sort((a, b) => a.weight - b.weight || a.share - b.share);
          for (const [index, { share }] of byWeight.slice(1).entries()) {
            expect(share).toBeGreaterThanOrEqual(byWeight[index]?.share ?? 0);
          }
        },
      ),
    );
  });
});
