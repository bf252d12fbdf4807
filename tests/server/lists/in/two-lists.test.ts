import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

async function handIn(pasted: string): Promise<string> {
  const answer = await house.submit('/setup/lists', { pasted }).expect(303);
  return (answer.headers.location ?? '').split('?')[0] ?? '';
}

const listOf = async (path: string) => (await house.data(path).expect(200)).body;
const take = (path: string, skip = 'yes') =>
  house.submit(`${path}/takings`, { skip_twins: skip }).expect(303);
const LIST = 'Code,Cloth,Width,Shade,Length\nA1,Organza,150,Moss,5\nA2,Organza,150,Moss,6';

describe('two lists that were looked at before either was taken in', () => {
  it('do not bring the same rows twice', async () => {
    const [first, second] = [await handIn(LIST), await handIn(LIST)];
    await take(first);
    await take(second);
    expect(await listOf(second)).toMatchObject({ state: 'in', counts: { in: 0, twins: 2 } });
  });

  it('do not share a code: the later row is left out, with its reason', async () => {
    const other = LIST.replace('Moss,5', 'Foam,7');
    const [first, second] = [await handIn(LIST), await handIn(other)];
    await take(first);
    await take(second);
    expect(await listOf(second)).toMatchObject({ state: 'in', counts: { in: 0, wrong: 1, twins: 1 } });
    const { text } = await house.page(`${second}/left-out.csv`).expect(200);
    expect(text).toContain('There is a piece A1 already: give this one another code.');
  });

  it('bring rows whose first list went back meanwhile', async () => {
    const first = await handIn(LIST);
    await take(first);
    const second = await handIn(LIST);
    expect(await listOf(second)).toMatchObject({ wanted: 0 });
    await house.submit(`${first}/take-backs`, {}).expect(303);
    await take(second);
    expect(await listOf(second)).toMatchObject({ state: 'in', counts: { in: 2 } });
  });
});

describe('a list with more wrong rows than a page shows', () => {
  const rows = Array.from({ length: 60 }, (_, n) => `Organza,150,Moss,${n % 20 === 0 ? '5' : 'long'}`);

  it('is paged through, and what is mended on a page leads back to it', async () => {
    const path = await handIn(['Cloth,Width,Shade,Length', ...rows].join('\n'));
    const first = await listOf(path);
    expect(first.wrongSpan).toBe('1 to 25 of 57');
    const second = await listOf(first.nextHref);
    expect(second).toMatchObject({ wrongSpan: '26 to 50 of 57', firstHref: path });
    const { number } = second.wrong[0];
    const mended = { 'rows.0.row': String(number), 'rows.0.c3': '2 m' };
    const answer = await house.submit(second.wrongAction, mended).expect(303);
    expect(answer.headers.location).toContain(`${first.nextHref}&`);
    const third = await listOf(first.nextHref);
    expect(third.wrongSpan).toBe('26 to 50 of 56');
    const last = await listOf(third.nextHref);
    expect(last).toMatchObject({ wrongSpan: '51 to 56 of 56', nextHref: '' });
  });
});

describe('what a list is asked at the wrong time', () => {
  it('is a conflict, and nothing comes of it', async () => {
    const path = await handIn(LIST);
    await house.submit(`${path}/take-backs`, {}).expect(409);
    await house.submit(`${path}/checks`, {}).expect(409);
    expect(await listOf(path)).toMatchObject({ state: 'ready', wanted: 2 });
  });

  it('an interrupted check is gone on with', async () => {
    const path = await handIn(LIST);
    house.book.write({ key: 'interrupt-1', asked: {}, personId: 1 }, (tx) => {
      tx.run(tx.db.updateTable('list_in').set({ state: 'checking' }));
      return { location: path, said: 'Interrupted.' };
    });
    expect((await house.page(path).expect(200)).text).toContain('Checking was interrupted');
    await house.submit(`${path}/checks`, {}).expect(303);
    expect(await listOf(path)).toMatchObject({ state: 'ready', wanted: 2 });
  });
});
