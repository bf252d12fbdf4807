import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { forgetPlans, hashOfJob, knownPlan } from '../../../server/cut-plans/answers.ts';
import { PlanDesk } from '../../../server/cut-plans/desk.ts';
import { Planner } from '../../../server/cut-plans/planner.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { cm, m } from '../../lengths.ts';
import { endProcessOf } from '../end-process.ts';

let planner: Planner;
let desk: PlanDesk;
beforeEach(() => {
  forgetPlans();
  planner = new Planner();
  desk = new PlanDesk(planner);
});
afterEach(() => planner.close());

/** Strips of one size off one bolt, for which there is a formula: a job of its own for each count. */
function jobOf(count: number): PlanJob {
  const kind = { direction: 'across', lots: 'one', group: 1 } as const;
  const kinds = [{ kindId: 0, lengthTicks: cm(49), depthTicks: cm(30), count, ...kind }];
  const piece = { pieceId: 1, lotId: 1, widthTicks: cm(147), lengthTicks: m(30), flaws: [], count: 1 };
  const ways = { usefulTicks: cm(50), tableTicks: m(3), flaws: 'straddle', stacks: true, seed: 1 } as const;
  return { kinds, pieces: [piece], meets: [], ...ways };
}

/** Strips of many sizes off many pieces: seconds of work. */
function large(): PlanJob {
  const job = jobOf(1);
  const kinds = Array.from({ length: 8 }, (_, i) => ({
    kindId: i,
    lengthTicks: cm(40 + 7 * i),
    depthTicks: cm(20 + 3 * i),
    count: 30,
    direction: 'across' as const,
    lots: 'any' as const,
    group: 1,
  }));
  const pieces = Array.from({ length: 20 }, (_, i) => ({
    pieceId: i + 1,
    lotId: 1,
    widthTicks: cm(147),
    lengthTicks: cm(150 + 37 * i),
    flaws: [],
    count: 1,
  }));
  return { ...job, kinds, pieces };
}

async function until(holds: () => boolean): Promise<void> {
  for (let tries = 0; tries < 3000 && !holds(); tries += 1) await new Promise((next) => setTimeout(next, 20));
  if (!holds()) throw new Error('it never came');
}

describe('the planner’s desk', () => {
  it('answers 200 questions asked at once: what does not fit into the queue is asked again', async () => {
    const jobs = Array.from({ length: 200 }, (_, i) => jobOf(i + 1));
    for (let rounds = 0; rounds < 8 && jobs.some((job) => !knownPlan(job)); rounds += 1) {
      for (const job of jobs) desk.askPlan(job);
      await until(() => desk.asked === 0);
    }
    expect(jobs.every((job) => knownPlan(job)?.plan.missingStrips === 0)).toBe(true);
    expect(desk.asked).toBe(0);
  });

  it('asks the same question once, and keeps the answer for all', async () => {
    const job = jobOf(3);
    for (let times = 0; times < 5; times += 1) desk.askPlan(job);
    expect(desk.asked).toBe(1);
    await until(() => knownPlan(job) !== null);
    desk.askPlan(jobOf(3));
    expect(desk.asked).toBe(0);
  });

  it('loses nothing where the process is ended in the middle of a plan, and says so', async () => {
    const job = large();
    desk.askPlan(job);
    await until(() => planner.process !== null);
    await endProcessOf(planner);
    await until(() => knownPlan(job) !== null);
    const known = knownPlan(job);
    expect(known?.stopped).toMatch(
      /^The planner was ended before it was done: this is the best plan found by then/,
    );
    expect(known?.plan.made.reduce((sum, made) => sum + made, 0)).toBeGreaterThan(0);
    // The next question is answered by a new process.
    desk.askPlan(jobOf(4));
    await until(() => knownPlan(jobOf(4)) !== null);
  });

  it('does not take up by itself what was stopped', async () => {
    const job = large();
    desk.askPlan(job);
    expect(desk.standing(job)).toEqual({ is: 'asked', seconds: null });
    expect(desk.giveUp('f'.repeat(64))).toBe(false);
    expect(desk.giveUp(hashOfJob(job))).toBe(true);
    await until(() => desk.asked === 0);
    desk.askPlan(job);
    expect(desk.asked).toBe(0);
    expect(desk.standing(job)).toEqual({ is: 'stopped', why: 'The planner was stopped.' });
    desk.askPlan(job, 1);
    expect(desk.standing(job)).toEqual({ is: 'asked', seconds: 1 });
  });

  it('tells of a job that no plan can be made for, and does not ask it again', async () => {
    const wrong = { ...jobOf(2), usefulTicks: -1 };
    desk.askPlan(wrong);
    await until(() => desk.asked === 0);
    expect(desk.standing(wrong)).toEqual({ is: 'stopped', why: 'The planner failed on this job.' });
    desk.askPlan(wrong);
    expect(desk.asked).toBe(0);
  });
});
