import { afterEach, describe, expect, it } from 'vitest';
import { type PlanAndWhy, Planner } from '../../../../server/cut-plans/planner.ts';
import type { quickPlanPage } from '../../../../server/cutting-table/quick/page.ts';
import { Refusal } from '../../../../server/refusal.ts';
import { verifyPlan } from '../../../../src/cut-plan/verify.ts';
import { workroomJob } from '../../../bench/workroom-jobs.ts';
import { replay } from '../../../src/cut-plan/replay.ts';
import { job, kind, piece } from '../../../src/cut-plan/small-jobs.ts';
import { endProcessOf } from '../../end-process.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';

type QuickPlanData = ReturnType<typeof quickPlanPage>['data'];

let planner: Planner | null = null;
afterEach(async () => {
  await planner?.close();
  planner = null;
});

const small = job({ kinds: [kind(0, { count: 5 })], pieces: [piece(0, {})] });
/** Mixed lengths on flawed pieces: some seconds of work. */
const large = workroomJob('G', 3);

describe('a planner process', () => {
  it('plans what can be cut, and tells that it ended well', async () => {
    planner = new Planner();
    const asked = workroomJob('E', 2);
    const { plan, stopped } = await planner.plan({ job: asked, seconds: null });
    expect(stopped).toBe('');
    replay(asked, plan);
    expect(plan.missingStrips).toBe(0);
    // The pieces are short and without flaws: the planner comes within 3 % of what is proved.
    expect(plan.bound.gapBp).toBeLessThanOrEqual(300);
  });

  it('killed in the middle of a plan loses nothing, says so, and plans on', async () => {
    planner = new Planner();
    const under = planner.plan({ job: large, seconds: 20 });
    const after = planner.plan({ job: small, seconds: null });
    await until(() => planner?.process?.pid !== undefined);
    await new Promise((resolve) => setTimeout(resolve, 700));
    await endProcessOf(planner);
    const { plan, stopped } = await under;
    expect(stopped).toMatch(/ended before it was done.*Nothing is lost\./);
    expect(verifyPlan(large, plan)).toEqual([]);
    expect(plan.chargedArea).toBeGreaterThanOrEqual(plan.bound.chargedArea);
    expect((await after).stopped).toBe('');
  });

  it('gives up a plan that nobody waits for, and goes on with the next', async () => {
    planner = new Planner();
    const gone = new AbortController();
    const first = planner.plan({ job: large, seconds: 20, signal: gone.signal });
    const second = planner.plan({ job: small, seconds: null });
    gone.abort();
    await expect(first).rejects.toThrow('given up');
    expect((await second).plan.missingStrips).toBe(0);
  });

  it('takes as many plans as it can and refuses the rest in words', async () => {
    planner = new Planner();
    const asked = Array.from({ length: 200 }, async () => {
      try {
        return (await planner?.plan({ job: small, seconds: null })) ?? null;
      } catch (error) {
        expect(error).toBeInstanceOf(Refusal);
        expect((error as Refusal).message).toMatch(/plans are waiting already/);
        return null;
      }
    });
    const planned = (await Promise.all(asked)).filter((one): one is PlanAndWhy => one !== null);
    expect(planned.length).toBeGreaterThanOrEqual(60);
    expect(planned.length).toBeLessThan(200);
    for (const { plan } of planned) expect(plan).toEqual(planned[0]?.plan);
  });
});

describe('200 quick plans asked at once', () => {
  it('are queued and finished, or refused politely with what was typed', async () => {
    const house = await openTestHouse();
    try {
      const asked = { strips: [{ width: 20, length: 47, count: 21 }], pieces: [{ width: 150, length: 10 }] };
      const answers = await Promise.all(Array.from({ length: 200 }, () => ask(house, asked)));
      const done = answers.filter(({ status }) => status === 200);
      const refused = answers.filter(({ status }) => status === 503);
      expect(done.length).toBeGreaterThanOrEqual(60);
      expect(done.length + refused.length).toBe(200);
      for (const { body } of done) expect((body as QuickPlanData).result?.usedMm).toBe(1400);
      for (const { body } of refused) {
        expect(body.error.message).toMatch(/plans are waiting already/);
        expect(body.page.fields.strips[0].length.value).toBe('47');
      }
      expect((await ask(house, asked)).status).toBe(200);
    } finally {
      await house.shut();
    }
  });
});

/**
 * Asks as a script does, and again until the plan is there. It is handed in without a connection: an address may have 64 of
 * them at most, and it is the planner's queue that is asked for more than it takes.
 */
async function ask({ app, origin }: TestHouse, asked: object) {
  const headers = { host: new URL(origin).host, origin, accept: 'application/json' };
  let answer = await app.inject({ method: 'POST', url: '/cutting-table/quick', headers, payload: asked });
  while (answer.statusCode === 202)
    answer = await app.inject({ url: String(answer.headers.location), headers });
  return { status: answer.statusCode, body: answer.json() };
}

async function until(holds: () => boolean): Promise<void> {
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 20));
}
