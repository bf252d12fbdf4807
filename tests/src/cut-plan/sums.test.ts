import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bestFillings, fillValues, type Item } from '../../../src/cut-plan/knapsack.ts';
import { WidthSums } from '../../../src/cut-plan/sums.ts';

describe('widths that strips side by side come to', () => {
  it('are all sums of the sizes and no others', () => {
    expect([...new WidthSums([3, 5, 20], 12, 100).ticks]).toEqual([0, 3, 5, 6, 8, 9, 10, 11, 12]);
    expect([...new WidthSums([400, 600], 1300, 100).ticks]).toEqual([0, 400, 600, 800, 1000, 1200]);
  });

  it('are found by a width, and lead back by a size to the greatest that leaves room for it', () => {
    const sums = new WidthSums([3, 5], 12, 100);
    expect([0, 2, 3, 4, 7, 12].map((width) => sums.ticks[sums.placeOf(width)])).toEqual([0, 0, 3, 3, 6, 12]);
    const { before } = sums.stepOf(5);
    expect([...before].map((place) => sums.ticks[place] ?? null)).toEqual([null, null, 0, 0, 3, 3, 5, 6, 6]);
  });

  it('are multiples of a coarser unit where there would be too many, in which no size counts for more than it has', () => {
    const sizes = [40_001, 50_003, 60_007];
    const sums = new WidthSums(sizes, 1_600_000, 100);
    expect(sums.unit).toBeGreaterThan(1);
    expect(sums.ticks.every((ticks, i) => ticks === i * sums.unit)).toBe(true);
    for (const size of sizes) {
      const { ticks } = sums.stepOf(size);
      expect(ticks).toBeLessThanOrEqual(size);
      expect(ticks).toBeGreaterThan(size - sums.unit);
    }
  });
});

describe('the best filling of a width', () => {
  const item = fc.record({
    size: fc.integer({ min: 1, max: 30 }),
    most: fc.integer({ min: 1, max: 7 }),
    value: fc.integer({ min: 1, max: 50 }),
  });

  it('is worth what trying all of them gives, at every width', () => {
    fc.assert(
      fc.property(
        fc.array(item, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 1, max: 60 }),
        (rows, width) => {
          const sums = new WidthSums(
            rows.map(({ size }) => size),
            width,
            1000,
          );
          const items = rows.map(({ size, most, value }): Item => ({ step: sums.stepOf(size), most, value }));
          const last = sums.placeOf(width);
          const best = new Float64Array(last + 1);
          fillValues(items, sums.ticks, last, best);
          expect([...best]).toEqual([...sums.ticks].map((ticks) => mostWorth(rows, ticks)));
          const [counts = []] = bestFillings(items, sums.ticks, last);
          expect(counts.every((n, i) => n <= (rows[i]?.most ?? 0))).toBe(true);
          const sum = (of: 'size' | 'value') =>
            counts.reduce((all, n, i) => all + n * (rows[i]?.[of] ?? 0), 0);
          expect(sum('size')).toBeLessThanOrEqual(width);
          expect(sum('value')).toBe(best[last]);
        },
      ),
    );
  });
});

interface Row {
  readonly size: number;
  readonly most: number;
  readonly value: number;
}

function mostWorth([first, ...others]: readonly Row[], width: number): number {
  if (!first) return 0;
  let best = 0;
  for (let n = 0; n <= first.most && n * first.size <= width; n += 1)
    best = Math.max(best, n * first.value + mostWorth(others, width - n * first.size));
  return best;
}
