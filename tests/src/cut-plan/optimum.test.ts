import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { loadProgramSolver } from '../../../server/cut-plans/solver.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../../src/cut-plan/polish.ts';
import { replay } from './replay.ts';
import { job, kind, LITTLE, piece } from './small-jobs.ts';

/** The least length of one piece without flaws that gives all strips, by trying every lay; infinite where none does. */
function leastLength({ kinds, pieces, tableTicks }: PlanJob): number {
  const { widthTicks, lengthTicks } = pieces[0] ?? piece(0, {});
  const tallest = Math.max(...kinds.map(({ depthTicks }) => depthTicks));
  const known = new Map<string, number>();
  const least = (left: readonly number[]): number => {
    if (left.every((n) => n === 0)) return 0;
    const key = left.join();
    const before = known.get(key);
    if (before !== undefined) return before;
    let best = Number.POSITIVE_INFINITY;
    const limit = Math.max(tableTicks, tallest);
    for (let height = 1; height <= limit; height += 1)
      for (const after of laysOf(kinds, left, widthTicks, height))
        if (after.join() !== key) best = Math.min(best, height + least(after));
    known.set(key, best);
    return best;
  };
  const needed = least(kinds.map(({ count }) => count));
  return needed <= lengthTicks ? needed : Number.POSITIVE_INFINITY;
}

/** What is still wanted after every possible lay of a height: columns of one kind each, side by side. */
function laysOf(
  kinds: PlanJob['kinds'],
  left: readonly number[],
  room: number,
  height: number,
  from = 0,
): number[][] {
  const results = [[...left]];
  for (let k = from; k < kinds.length; k += 1) {
    const { lengthTicks, depthTicks } = kinds[k] ?? kind(0, {});
    const stack = Math.min(left[k] ?? 0, Math.floor(height / depthTicks));
    if (lengthTicks > room || stack < 1) continue;
    const after = left.map((n, i) => (i === k ? n - stack : n));
    results.push(...laysOf(kinds, after, room - lengthTicks, height, k));
  }
  return results;
}

let solver: ProgramSolver;
beforeAll(async () => {
  solver = await loadProgramSolver();
});

describe('small jobs whose best plan is found by trying everything', () => {
  const small = fc
    .record({
      sizes: fc.array(
        fc.record({
          lengthTicks: fc.integer({ min: 1, max: 6 }),
          depthTicks: fc.integer({ min: 1, max: 4 }),
          count: fc.integer({ min: 1, max: 4 }),
        }),
        { minLength: 1, maxLength: 3 },
      ),
      widthTicks: fc.integer({ min: 6, max: 9 }),
    })
    .map(({ sizes, widthTicks }) =>
      job({
        kinds: sizes.map((one, i) => kind(i, one)),
        pieces: [piece(0, { widthTicks, lengthTicks: 200 })],
        usefulTicks: 0,
        tableTicks: 6,
      }),
    );

  it('are planned as well, and bounded no higher', () => {
    const tried: [number, number][] = [];
    fc.assert(
      fc.property(small, (asked) => {
        const least = leastLength(asked);
        const plan = planCuts(asked, {
          ...LITTLE,
          work: 20_000_000,
          repairs: 30,
          restarts: 6,
          dives: 4,
          nodes: 50,
          solver,
        });
        replay(asked, plan);
        expect(plan.usedTicks).toBeGreaterThanOrEqual(least);
        expect(plan.bound.chargedArea).toBeLessThanOrEqual(least * (asked.pieces[0]?.widthTicks ?? 1));
        tried.push([plan.usedTicks, least]);
      }),
      { numRuns: 120, seed: 20 },
    );
    expect(tried.length).toBeGreaterThanOrEqual(120);
    expect(tried.filter(([used, least]) => used > least)).toEqual([]);
  });
});

describe('one kind from one piece', () => {
  it('takes ⌈n / ⌊width / strip⌋⌉ cut lengths', () => {
    const cases = fc.record({
      lengthTicks: fc.integer({ min: 1, max: 30 }),
      depthTicks: fc.integer({ min: 1, max: 20 }),
      count: fc.integer({ min: 1, max: 200 }),
      widthTicks: fc.integer({ min: 30, max: 90 }),
    });
    fc.assert(
      fc.property(cases, ({ lengthTicks, depthTicks, count, widthTicks }) => {
        const strips = kind(0, { lengthTicks, depthTicks, count });
        const bolt = piece(0, { widthTicks, lengthTicks: 5000 });
        const asked = job({ kinds: [strips], pieces: [bolt], usefulTicks: 0 });
        const cutLengths = Math.ceil(count / Math.floor(widthTicks / lengthTicks));
        const plan = planCuts(asked, LITTLE);
        expect(plan).toMatchObject({ how: 'formula', usedTicks: cutLengths * depthTicks, missingStrips: 0 });
        expect(plan.bound).toMatchObject({ chargedArea: plan.chargedArea, gapBp: 0 });
        // Split over two pieces the formula says nothing, and the search must come to the same length or less.
        const two = { ...asked, pieces: [bolt, piece(1, { widthTicks, lengthTicks: 5000 })] };
        const searched = planCuts(two, LITTLE);
        expect(searched.how).not.toBe('formula');
        expect(searched.usedTicks).toBe(plan.usedTicks);
      }),
      { numRuns: 60 },
    );
  });
});

describe('triplets', () => {
  // Three items fill a bin exactly, so that the least number of bins is known (after Falkenauer, 1996).
  it.each([1, 2, 3])('of ten full widths are put together again (%i)', (seed) => {
    let state = seed * 7919;
    const next = (most: number) => {
      state = (state * 16_807) % 2_147_483_647;
      return state % most;
    };
    const counts = new Map<number, number>();
    for (let n = 0; n < 10; n += 1) {
      const first = 38 + next(12);
      const second = 25 + next(Math.floor((100 - first) / 2) - 24);
      for (const item of [first, second, 100 - first - second]) counts.set(item, (counts.get(item) ?? 0) + 1);
    }
    const kinds = [...counts].map(([lengthTicks, count], i) =>
      kind(i, { lengthTicks, depthTicks: 5, count }),
    );
    const bolt = piece(0, { widthTicks: 100, lengthTicks: 500 });
    const asked = job({ kinds, pieces: [bolt], usefulTicks: 0, tableTicks: 5 });
    const plan = planCuts(asked, { ...LITTLE, work: 60_000_000, restarts: 4, dives: 30, repairs: 60 });
    replay(asked, plan);
    expect(plan.bound.chargedArea).toBe(10 * 5 * 100);
    expect(plan.usedTicks).toBe(10 * 5);
  });
});
