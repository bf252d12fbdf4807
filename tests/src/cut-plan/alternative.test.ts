import { describe, expect, it } from 'vitest';
import { planAlternative } from '../../../src/cut-plan/alternative.ts';
import { curesOf } from '../../../src/cut-plan/cures.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { actualCuts, differentLays } from '../../../src/cut-plan/plan.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { workroomJob } from '../../bench/workroom-jobs.ts';
import { replay } from './replay.ts';
import { job, kind, LITTLE, piece } from './small-jobs.ts';

const SOME = { ...LITTLE, work: 30_000_000 };
const plan = (asked: PlanJob) => planCuts(asked, LITTLE);

describe('another plan', () => {
  it.each([1, 2])('has no more different lays, at a price that is told and kept to (%i)', (seed) => {
    const asked = workroomJob('C', seed);
    const least = planCuts(asked, SOME);
    const even = planAlternative(asked, least, 'fewest lays', 300, SOME);
    replay(asked, even.plan);
    expect(even.differentLays).toBe(differentLays(even.plan.lays));
    expect(even.differentLays).toBeLessThanOrEqual(differentLays(least.lays));
    expect(even.plan.chargedArea).toBe(least.chargedArea + even.moreArea);
    expect(even.moreArea).toBeLessThanOrEqual(least.chargedArea * 0.03);
    expect(even.plan.missingStrips).toBe(least.missingStrips);
  });

  it('keeps the longest piece whole where shorter ones will do', () => {
    // 30 is cut to the end, or two pieces of 16 are: both give ten strips of 3.
    const strips = kind(0, { lengthTicks: 10, depthTicks: 3, count: 10 });
    const pieces = [30, 16, 16].map((lengthTicks, i) => piece(i, { lengthTicks }));
    const asked = job({ kinds: [strips], pieces, usefulTicks: 5 });
    const least = plan(asked);
    expect(least.chargedTicks).toBe(30);
    const long = planAlternative(asked, least, 'longest remnants', 1000, LITTLE);
    expect(long.leftTicks).toEqual([30]);
    expect(long.moreArea).toBe(2 * 10);
    // Where that is too dear, the plan stays as it was.
    expect(planAlternative(asked, least, 'longest remnants', 500, LITTLE)).toMatchObject({ moreArea: 0 });
  });
});

describe('plies', () => {
  it('cut lays that are slit alike together', () => {
    const strips = kind(0, { lengthTicks: 10, depthTicks: 2, count: 7 });
    const { lays } = plan(job({ kinds: [strips], pieces: [piece(0, {})] }));
    expect([1, 2, 3, 7].map((plies) => actualCuts(lays, plies))).toEqual([7, 4, 3, 1]);
  });
});

describe('cures of a plan that is short', () => {
  const kinds = (parts: Partial<PlanJob['kinds'][number]>) => [
    kind(0, { lengthTicks: 10, depthTicks: 2, count: 10, ...parts }),
  ];
  const curesFor = (asked: PlanJob, bolt: Parameters<typeof curesOf>[2] = null) =>
    curesOf(asked, plan(asked), bolt, LITTLE).map((cure) => ({ ...cure, plan: cure.plan.missingStrips }));

  it('are none where nothing is missing', () => {
    expect(curesFor(job({ kinds: kinds({}), pieces: [piece(0, {})] }))).toEqual([]);
  });

  it('let lots meet', () => {
    const pieces = [12, 8].map((lengthTicks, i) => piece(i, { lotId: i, lengthTicks }));
    expect(curesFor(job({ kinds: kinds({ lots: 'one' }), pieces }))).toEqual([
      { kind: 'lots may meet', plan: 0 },
    ]);
  });

  it('cut beside a flaw', () => {
    const flaw = { fromTicks: 1, toTicks: 2, leftTicks: 0, rightTicks: 2 };
    const pieces = [piece(0, { widthTicks: 12, lengthTicks: 20, flaws: [flaw] })];
    // Skipped, 18 of 20 are left and hold nine strips; beside the flaw the tenth fits.
    const cures = curesFor(job({ kinds: kinds({}), pieces, flaws: 'skip' }));
    expect(cures).toContainEqual({ kind: 'past flaws', plan: 0 });
  });

  it('turn strips round', () => {
    // Across, one fills a cut length of 2, so that five come off 10; along the piece six lie side by side in 12.
    const pieces = [piece(0, { widthTicks: 12, lengthTicks: 10 })];
    const asked = job({ kinds: kinds({ count: 6 }), pieces });
    expect(curesFor(asked)).toContainEqual({ kind: 'either way round', plan: 0 });
  });

  it('shorten strips so that one more lies beside the others', () => {
    const pieces = [piece(0, { widthTicks: 28, lengthTicks: 8 })];
    expect(curesFor(job({ kinds: kinds({}), pieces }))).toContainEqual({
      kind: 'shorter strips',
      kinds: [{ kindId: 0, lengthTicks: 9 }],
      plan: 0,
    });
  });

  it('buy no more than will do, in whole steps', () => {
    const bolt = { pieceId: 9, lotId: 9, widthTicks: 10, mostTicks: 100, stepTicks: 3, leastTicks: 0 };
    const pieces = [piece(0, { lengthTicks: 13 })];
    // Six strips are there, four of 2 are missing: 8, and in steps of 3 it is 9.
    expect(curesFor(job({ kinds: kinds({}), pieces, usefulTicks: 0 }), bolt)).toEqual([
      { kind: 'buy', buyTicks: 9, plan: 0 },
    ]);
    // In one lot all ten are bought: 20, in steps of 3.
    const one = job({ kinds: kinds({ lots: 'one' }), pieces, usefulTicks: 0 });
    expect(curesFor(one, bolt)).toEqual([{ kind: 'buy', buyTicks: 21, plan: 0 }]);
  });
});
