import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type PlanAndWhy, Planner } from '../../../server/cut-plans/planner.ts';
import type { PlanPart } from '../../../server/cut-plans/process.ts';
import { Refusal } from '../../../server/refusal.ts';
import { firstEffort } from '../../../src/cut-plan/effort.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { verifyPlan } from '../../../src/cut-plan/verify.ts';
import { workroomJob } from '../../bench/workroom-jobs.ts';
import { callsDuring } from '../../calls.ts';
import { replay } from '../../src/cut-plan/replay.ts';
import { endProcessOf } from '../end-process.ts';

let planner: Planner;
beforeEach(() => {
  planner = new Planner();
});
afterEach(() => planner.close());

/** Mixed lengths on flawed pieces: some seconds of work. */
const large = workroomJob('G', 3);

describe('where plans are made', () => {
  it('makes none in the thread of the pages, even where its own process dies before it told anything', async () => {
    let planned: PlanAndWhy | null = null;
    const calls = await callsDuring(async () => {
      const under = planner.plan({ job: large, seconds: null });
      await endProcessOf(planner);
      planned = await under;
    });
    // The engine counts what ran here: the planner's own queue did, and nothing that searches, not even by hand.
    expect(calls.map(({ file }) => file)).toContain('server/cut-plans/planner.ts');
    const files = new Set(calls.map(({ file }) => file).filter((file) => file.startsWith('src/')));
    expect([...files].filter((file) => file !== 'src/cut-plan/plan-bound.ts')).toEqual([]);
    const { plan, stopped } = planned as unknown as PlanAndWhy;
    replay(large, plan);
    expect(plan.missingStrips).toBe(0);
    expect(stopped).toMatch(/^The planner was ended before it was done: this is the best plan found by then/);
  });

  it('refuses in words where the second process dies too', async () => {
    const under = planner.plan({ job: large, seconds: null });
    const refused = expect(under).rejects.toThrow(/no plan was found by then/);
    await endProcessOf(planner);
    await until(() => planner.process !== null);
    await endProcessOf(planner);
    await refused;
    await expect(under).rejects.toBeInstanceOf(Refusal);
  });
});

describe('a plan that is ended from outside', () => {
  it('keeps the best plan and the best bound that were found by then', async () => {
    const first = planCuts(large, firstEffort());
    const under = planner.plan({ job: large, seconds: 30 });
    let areas: number[] = [];
    planner.process?.on('message', ({ part }: { part?: PlanPart }) => {
      if (part?.kind === 'proved') areas = [...areas, part.proved.chargedArea];
    });
    await until(() => Math.max(0, ...areas) > first.bound.chargedArea);
    await endProcessOf(planner);
    const { plan, stopped } = await under;
    expect(stopped).toMatch(/ended before it was done/);
    expect(verifyPlan(large, plan)).toEqual([]);
    expect(plan.bound.chargedArea).toBe(Math.max(...areas));
    expect(plan.bound.chargedArea).toBeGreaterThan(first.bound.chargedArea);
    expect(plan.chargedArea).toBeGreaterThanOrEqual(plan.bound.chargedArea);
  });

  it('is what stopping gives, too', async () => {
    const stop = new AbortController();
    const under = planner.plan({ job: large, seconds: 30, signal: stop.signal });
    let isTold = false;
    planner.process?.on('message', ({ part }: { part?: PlanPart }) => {
      isTold ||= part?.kind === 'better';
    });
    await until(() => isTold);
    stop.abort();
    const { plan, stopped } = await under;
    expect(stopped).toMatch(/^The planner was stopped: this is the best plan found by then/);
    replay(large, plan);
  });
});

async function until(holds: () => boolean): Promise<void> {
  for (let tries = 0; tries < 3000 && !holds(); tries += 1) await new Promise((next) => setTimeout(next, 20));
  if (!holds()) throw new Error('it never came');
}
