import { describe, expect, it } from 'vitest';
import { firstEffort } from '../../../src/cut-plan/effort.ts';
import { MOST_FLAWS, MOST_PIECES, type PlanJob } from '../../../src/cut-plan/job.ts';
import { Meter } from '../../../src/cut-plan/meter.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { verifyPlan } from '../../../src/cut-plan/verify.ts';
import { callsDuring } from '../../calls.ts';
import { mm } from '../../lengths.ts';
import { job, kind, piece } from './small-jobs.ts';

/** So many times the work that it is allowed a plan may take in all, and some more to finish what is begun. */
const MOST_TIMES_OVER = 12;

interface Size {
  readonly pieces: number;
  readonly flaws: number;
  readonly lots?: number;
}

/** Two hundred sizes on flawed pieces of seven widths, every piece another length. */
function manySizes({ pieces, flaws, lots = 1 }: Size): PlanJob {
  const directions = ['across', 'along', 'either'] as const;
  return job({
    kinds: Array.from({ length: 200 }, (_, i) =>
      kind(i, {
        lengthTicks: mm(101 + ((i * 37) % 397)),
        depthTicks: mm(211 + ((i * 53) % 797)),
        count: 50,
        direction: directions[i % 3] ?? 'across',
      }),
    ),
    pieces: Array.from({ length: pieces }, (_, i) =>
      piece(i, {
        lotId: i % lots,
        widthTicks: mm(1100 + (i % 7) * 50),
        lengthTicks: mm(2000 + ((i * 131) % 9000)),
        flaws: Array.from({ length: flaws }, (__, f) => ({
          fromTicks: mm(50 + f * 90),
          toTicks: mm(60 + f * 90),
          leftTicks: mm((f * 47) % 900),
          rightTicks: mm(30 + ((f * 47) % 900)),
        })),
      }),
    ),
    usefulTicks: mm(300),
    tableTicks: mm(3000),
  });
}

describe('a plan of a little effort stops by counted steps', () => {
  it.each([
    ['on flawed pieces', { pieces: 10, flaws: MOST_FLAWS }],
    ['on pieces of several widths and lots', { pieces: 20, flaws: 4, lots: 3 }],
  ])('%s, and the engine counts no more calls than steps are counted', async (_, size) => {
    const asked = manySizes(size);
    // The engine counts slowly.
    const effort = { ...firstEffort(), work: 1_000_000 };
    const meter = new Meter(effort.work * 10);
    let problems: string[] = ['not planned'];
    const calls = await callsDuring(async () => {
      problems = verifyPlan(asked, planCuts(asked, effort, meter));
    });
    expect(problems).toEqual([]);
    const inPlanner = calls.filter(({ file }) => file.startsWith('src/cut-plan/'));
    const times = inPlanner.reduce((sum, call) => sum + call.times, 0);
    expect(times).toBeGreaterThan(10_000);
    expect(times).toBeLessThan(meter.steps);
    expect(meter.steps).toBeLessThan(2 * MOST_TIMES_OVER * effort.work);
  });

  it('on as many flawed pieces as a job may have', () => {
    const asked = manySizes({ pieces: MOST_PIECES, flaws: MOST_FLAWS });
    const effort = firstEffort();
    const meter = new Meter(effort.work * 10);
    const plan = planCuts(asked, effort, meter);
    expect(verifyPlan(asked, plan)).toEqual([]);
    expect(plan.lays.length).toBeGreaterThan(0);
    expect(meter.steps).toBeLessThan(MOST_TIMES_OVER * effort.work);
  });
});
