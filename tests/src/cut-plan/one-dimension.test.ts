import { describe, expect, it } from 'vitest';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { BINS_OF_90, binJob, drawBins } from '../../bench/one-dimension.ts';
import { replay } from './replay.ts';
import { LITTLE } from './small-jobs.ts';

describe('strips of one depth, as bins in one dimension', () => {
  // Drawn as Falkenauer's uniform class (1996) is; the bound is the planner's own.
  it('take no more lays than is proved in 22 jobs of 24, without a solver and with little work', () => {
    const effort = { ...LITTLE, work: 60_000_000, repairs: 200, dives: 2, turns: 4 };
    const above = Array.from({ length: 24 }, (_, i) => {
      const asked = binJob(drawBins(BINS_OF_90, i + 1), 'lays');
      const plan = planCuts(asked, effort);
      replay(asked, plan);
      const layArea = (asked.pieces[0]?.widthTicks ?? 0) * (asked.kinds[0]?.depthTicks ?? 0);
      return plan.lays.length - Math.ceil(plan.bound.chargedArea / layArea);
    });
    expect(Math.max(...above)).toBeLessThanOrEqual(1);
    expect(above.filter((lays) => lays === 0).length).toBeGreaterThanOrEqual(22);
  });
});
