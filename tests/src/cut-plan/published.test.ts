import { beforeAll, describe, expect, it } from 'vitest';
import { loadProgramSolver } from '../../../server/cut-plans/solver.ts';
import { timedEffort, usualEffort } from '../../../src/cut-plan/effort.ts';
import type { PlanPiece } from '../../../src/cut-plan/job.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../../src/cut-plan/polish.ts';
import { tripletJob } from '../../bench/triplets.ts';
import { instanceJob, instances, unitsOf } from '../../bench/two-stage.ts';
import { type JobClass, workroomJob } from '../../bench/workroom-jobs.ts';
import { cm, m } from '../../lengths.ts';
import { replay } from './replay.ts';

let solver: ProgramSolver;
beforeAll(async () => {
  solver = await loadProgramSolver();
});

// Cintra, Miyazawa, Wakabayashi and Xavier, European Journal of Operational Research 191 (2008); see
// tests/bench/two-stage/SOURCES.md.
describe('published two-stage instances', () => {
  const known = instances().filter(({ name }) => /gcut(1|5|7)d$/.test(name));

  it.each(known)(
    'are planned within half a percent of the best known ($name)',
    ({ name, bestKnown, bestBound }) => {
      const asked = instanceJob(name, 'across');
      const plan = planCuts(asked, usualEffort(asked, solver));
      expect(plan.missingStrips).toBe(0);
      expect(unitsOf(plan.chargedArea)).toBeLessThanOrEqual(bestKnown * 1.005);
      // The bound is proved by prices of our own; it lies where the published one does, and never above a known plan.
      expect(unitsOf(plan.bound.chargedArea)).toBeLessThanOrEqual(bestKnown);
      expect(unitsOf(plan.bound.chargedArea)).toBeGreaterThanOrEqual(bestBound * 0.9999);
    },
  );

  it('are all here', () => {
    expect(known).toHaveLength(3);
    expect(instances()).toHaveLength(6);
  });
});

// Falkenauer, Journal of Heuristics 2 (1996): three items fill each bin exactly, so the least number of bins is known.
describe('triplets', () => {
  it.each([
    [20, 2, 'pieces'],
    [20, 2, 'lays'],
    [40, 3, 'pieces'],
    [40, 1, 'lays'],
    [60, 2, 'lays'],
  ] as const)('fill their bins and no more (%i, seed %i, as %s)', (bins, seed, way) => {
    const asked = tripletJob(bins, seed, way);
    const effort = timedEffort(9, solver, () => 0);
    // Every plan on the way can be cut, not only the last: else it would be dropped without a word.
    const plan = planCuts(asked, { ...effort, onBetter: (better) => replay(asked, better) });
    replay(asked, plan);
    expect(plan.missingStrips).toBe(0);
    expect(way === 'pieces' ? plan.pieces.length : plan.lays.length).toBe(bins);
    expect(plan.bound.gapBp).toBe(0);
  });
});

describe('workroom jobs', () => {
  const jobs = (['A', 'B', 'C', 'D', 'E', 'F', 'M', 'N'] as JobClass[]).flatMap((one) =>
    [1, 5].map((seed) => [one, seed] as const),
  );

  it.each(jobs)('can be cut, and come near to what is proved (%s, seed %i)', (jobClass, seed) => {
    const asked = workroomJob(jobClass, seed);
    const plan = planCuts(asked, usualEffort(asked, solver));
    replay(asked, plan);
    expect(plan.chargedArea).toBeGreaterThanOrEqual(plan.bound.chargedArea);
    expect(plan.bound.gapBp).toBeLessThanOrEqual(300);
  });

  it.each(['E', 'F', 'G'] as const)('come as near where cloth must be bought (%s)', (jobClass) => {
    const few = workroomJob(jobClass, 1);
    const pieces = few.pieces.slice(0, Math.floor(few.pieces.length / 3));
    const sold = { lengthTicks: m('120'), buying: { stepTicks: cm('10'), leastTicks: m('1') } };
    const bolt = { ...pieces[0], pieceId: 999, lotId: 77, flaws: [], count: 1, ...sold } as PlanPiece;
    const asked = { ...few, pieces: [...pieces, bolt] };
    const plan = planCuts(asked, usualEffort(asked, solver));
    expect(plan.missingStrips).toBe(0);
    expect(plan.lotIds).toContain(77);
    expect(plan.chargedArea).toBeGreaterThanOrEqual(plan.bound.chargedArea);
    expect(plan.bound.gapBp).toBeLessThanOrEqual(300);
  });
});
