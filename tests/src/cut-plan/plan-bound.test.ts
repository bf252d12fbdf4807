import { describe, expect, it } from 'vitest';
import { firstEffort } from '../../../src/cut-plan/effort.ts';
import { isProvedBest, withBoundOf } from '../../../src/cut-plan/plan-bound.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { job, kind, piece } from './small-jobs.ts';

describe('what is proved of a plan', () => {
  const plan = planCuts(job({ kinds: [kind(0, { count: 5 })], pieces: [piece(0, {})] }), firstEffort());

  it('is that it is the best where nothing can be charged less or make more strips', () => {
    expect(isProvedBest(plan)).toBe(true);
    expect(isProvedBest({ ...plan, bound: { ...plan.bound, gapBp: 1 } })).toBe(false);
    expect(isProvedBest({ ...plan, missingStrips: plan.bound.missingStrips + 1 })).toBe(false);
  });

  it('holds for another plan of the job, which is further above it', () => {
    const other = withBoundOf({ ...plan, chargedArea: (plan.bound.chargedArea * 11) / 10 }, plan);
    expect(other.bound).toEqual({ ...plan.bound, gapBp: 1000 });
  });
});
