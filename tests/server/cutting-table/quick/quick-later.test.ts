import { existsSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { quickPlanPage } from '../../../../server/cutting-table/quick/page.ts';
import { largestQuick } from '../../../bench/largest-quick.ts';
import { callsDuring } from '../../../calls.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { QUICK_PATH } from './asking.ts';

type QuickPlanData = ReturnType<typeof quickPlanPage>['data'];

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(async () => {
  await house.shut();
});

/** Many sizes on many pieces, for longer than any connection lives without a word. */
const LONG = { ...largestQuick(30, 4), seconds: '60', cures: 'no' };

describe('a long quick plan', () => {
  it('tells a script at once where the answer will be, and gives it there', async () => {
    const asked = await house.send(QUICK_PATH, LONG);
    expect(asked.status).toBe(202);
    const { location, said } = asked.body;
    expect(location).toMatch(/^\/cutting-table\/quick\/[0-9a-f-]{36}$/);
    expect(asked.headers).toMatchObject({ location, 'retry-after': '2' });
    expect(said).toBe(
      'The planner is working, for up to 60 seconds. You can leave this page: the plan will be here.',
    );
    expect((await house.data(location)).status).toBe(202);
    const stopped = await house.send(`${location}/stopped`, {});
    expect(stopped.body).toEqual({ location, said: 'The planner stopped.' });
    const found = await untilDone(location);
    const { result, fields } = found.body as QuickPlanData;
    expect(result?.stopped).toMatch(/^The planner was stopped: this is the best plan found by then/);
    expect(result?.madeStrips).toBeGreaterThan(0);
    expect(result?.boundM2).toBeGreaterThan(0);
    expect(fields.strips[0]?.name.value).toBe('Strip 0');
    // It stays, and is the same for whoever asks again.
    expect((await house.data(location)).body).toEqual(found.body);
  });

  it('is a page that can be left and come back to', async () => {
    const asked = await house.submit(QUICK_PATH, fieldsOf(LONG));
    expect(asked.status).toBe(303);
    const { location } = asked.headers as { location: string };
    const { text } = await house.page(location);
    expect(text).toContain('The planner is working, for up to 60 seconds.');
    expect(text).toContain(`hx-get="${location}"`);
    expect(text).toContain(`<a class="button" href="${location}">Look again</a>`);
    const stopped = await house.submit(`${location}/stopped`, {});
    expect(stopped).toMatchObject({ status: 303, headers: { location } });
    await untilDone(location);
    const back = (await house.page(location)).text;
    expect(back).toContain('this is the best plan found by then');
    expect(back).toContain('value="Strip 29"');
  });

  it('says of one that is not kept any more that it is not there', async () => {
    const { status, body } = await house.data(`${QUICK_PATH}/00000000-0000-4000-8000-000000000000`);
    expect(status).toBe(404);
    expect(body.error.message).toMatch(/^There is no such quick plan/);
  });
});

describe('a small quick plan', () => {
  it('is on its own page as soon as it is asked for', async () => {
    const small = { strips: [{ width: 20, length: 47, count: 21 }], pieces: [{ width: 150, length: 10 }] };
    const { status, headers } = await house.submit(QUICK_PATH, fieldsOf(small));
    expect(status).toBe(303);
    const { text } = await house.page(headers.location ?? '');
    expect(text).toContain('All 21 strips can be cut');
    expect(text).not.toContain('The planner is working');
  });
});

describe('the thread that answers pages', () => {
  it('neither reads nor plans nor draws the largest quick plan', async () => {
    let status = 0;
    const calls = await callsDuring(async () => {
      const { headers } = await house.submit(
        QUICK_PATH,
        fieldsOf({ ...largestQuick(), seconds: '1', cures: 'no' }),
      );
      const location = headers.location ?? '';
      status = (await untilDone(location)).status;
    });
    expect(status).toBe(200);
    const names = new Map<string, number>();
    for (const { file, name, times } of calls)
      names.set(`${file} ${name}`, (names.get(`${file} ${name}`) ?? 0) + times);
    const ran = (file: string) => [...names.keys()].filter((name) => name.startsWith(file));
    // What ran here is counted, so that this cannot pass by counting nothing.
    expect(ran('server/cutting-table/quick/routes.ts').length).toBeGreaterThan(0);
    for (const file of ['quick/form', 'quick/result', 'quick/picture', 'lay/picture']) {
      expect(existsSync(`server/cutting-table/${file}.ts`)).toBe(true);
      expect(ran(`server/cutting-table/${file}.ts`)).toEqual([]);
    }
    expect(ran('server/web/body.ts')).toEqual([]);
    const sources = new Set(calls.map(({ file }) => file).filter((file) => file.startsWith('src/cut-plan/')));
    // What was proved is put to the plan that was found; nothing is searched.
    expect(
      [...sources].filter((file) => !['src/cut-plan/plan-bound.ts', 'src/cut-plan/plan.ts'].includes(file)),
    ).toEqual([]);
  });
});

/** A body as a form of a page sends it. */
function fieldsOf(body: object): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const [name, value] of Object.entries(body)) {
    if (!Array.isArray(value)) fields[name] = String(value);
    else
      value.forEach((row: object, place) => {
        for (const [field, text] of Object.entries(row)) fields[`${name}.${place}.${field}`] = String(text);
      });
  }
  return fields;
}

async function untilDone(location: string) {
  for (let tries = 0; tries < 60; tries += 1) {
    const answer = await house.data(location);
    if (answer.status !== 202) return answer;
  }
  throw new Error('the plan never came');
}
