import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { forgetPlans } from '../../../../server/cut-plans/answers.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { bestOf, doneOf, hold, toPlan } from './planned.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const validator = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: {
    'doctype-style': 'off',
    'no-trailing-whitespace': 'off',
    'void-style': ['error', { style: 'omit' }],
  },
});

async function problemsOf(path: string): Promise<string[]> {
  const { text } = await house.page(path);
  expect(text).not.toMatch(/undefined|NaN|\[object/);
  const { results } = await validator.validateString(text);
  return results.flatMap(({ messages }) => messages.map(({ line, message }) => `${line}: ${message}`));
}

describe('the pages of cut plans', () => {
  it('are valid HTML while the planner works, with a plan, held, planned again and short', async () => {
    forgetPlans();
    const { path, stock } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '0.8 m'));
    expect(await problemsOf(path)).toEqual([]);
    await doneOf(house, path);
    expect(await problemsOf(path)).toEqual([]);
    expect(await problemsOf('/short')).toEqual([]);
    await hold(house, await bestOf(house, path));
    expect(await problemsOf(path)).toEqual([]);
    expect(await problemsOf(`${path}?again=yes`)).toEqual([]);
    expect(await problemsOf('/cutting-table')).toEqual([]);
    const { db } = house.book;
    const lot = house.book.first(db.selectFrom('lot').select('code').where('id', '=', stock.lotId));
    expect(await problemsOf(`/shelf/lots/${lot?.code}`)).toEqual([]);
    expect(bolt.code).toMatch(/^B/);
  });
});
