import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fillHeight, LayValues, mostOfHeights } from '../../../src/cut-plan/lay-values.ts';
import { modelOf } from '../../../src/cut-plan/model.ts';
import { anyJob } from './small-jobs.ts';

const prices = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 4, maxLength: 4 });

describe('what lays are worth at most', () => {
  it('is never less than what a filling of the height by itself gives, at any width', () => {
    fc.assert(
      fc.property(anyJob, prices, (job, priced) => {
        const model = modelOf(job, () => true);
        for (const family of model.families) {
          const asked = {
            family,
            prices: Float64Array.from(model.counts, (_, i) => priced[i] ?? 0),
            wanted: Int32Array.from(model.counts),
          };
          const narrow = family.heights.map(() => new Float64Array(family.lastSum + 1));
          const most = mostOfHeights(model, asked, narrow);
          family.heights.forEach((height, k) => {
            const exact = new Float64Array(family.lastSum + 1);
            expect(most[k]).toBeGreaterThanOrEqual(fillHeight(model, asked, height, exact));
            exact.forEach((value, place) => {
              expect(narrow[k]?.[place]).toBeGreaterThanOrEqual(value);
            });
          });
        }
      }),
      { numRuns: 200 },
    );
  });

  it('leads to the same worth of every length as filling all heights, also after fewer are wanted', () => {
    fc.assert(
      fc.property(anyJob, prices, fc.integer({ min: 0, max: 3 }), (job, priced, fewer) => {
        const model = modelOf(job, () => true);
        for (const family of model.families) {
          const asked = {
            family,
            prices: Float64Array.from(model.counts, (_, i) => priced[i] ?? 0),
            wanted: Int32Array.from(model.counts),
          };
          const less = { ...asked, wanted: asked.wanted.map((n) => Math.max(0, n - fewer)) };
          const after = new LayValues(model, less, new LayValues(model, asked));
          expect([...after.reach]).toEqual(reachOf(less, model));
        }
      }),
      { numRuns: 200 },
    );
  });
});

/** The most that lays are worth in every length, from all heights, each filled by itself. */
function reachOf(
  asked: ConstructorParameters<typeof LayValues>[1],
  model: ReturnType<typeof modelOf>,
): number[] {
  const { heights, heightCells, lengthCells, lastSum } = asked.family;
  const values = heights.map((height) => fillHeight(model, asked, height, new Float64Array(lastSum + 1)));
  const reach = [0];
  for (let j = 1; j <= lengthCells; j += 1) {
    const ending = heightCells.flatMap((cells, k) =>
      cells <= j ? [(reach[j - cells] ?? 0) + (values[k] ?? 0)] : [],
    );
    reach.push(Math.max(reach[j - 1] ?? 0, ...ending));
  }
  return reach;
}
