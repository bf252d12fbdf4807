import { afterEach, beforeEach, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
  await house.send('/orders/suppliers', { name: 'Pin Lane' }).expect(200);
  await house.send('/supplies/new', { name: 'Hooks', kind: 'notion', measure: 'count' }).expect(200);
});
afterEach(() => house.shut());

const LIST = [
  'Name,Kind,Measured in,On hand,Least,Cost,Lot,Opened,Supplier,Colour',
  'hooks,,,48,,9.60,,,Pin Lane,brass',
  'Madder,dye,g,250,50 g,12.50,M 7,2026-02-01,,red',
  'Madder,,,100,,,M 8,,,red',
  'Crin 25 mm,trim,m,,,,,,,',
].join('\n');
const problems = (body: { error: { problems: { field: string; message: string }[] } }) =>
  body.error.problems.map(({ message }) => message);

it('describes what is new and receives each row as a lot, and its coming is undone at once', async () => {
  const seen = await house.send('/setup/lists/supplies?see=list', { pasted: LIST }).expect(200);
  expect(seen.body.understood).toEqual([
    { name: 'hooks', isNew: false, kind: 'notion', amount: '48 pieces', lot: '', cost: '€9.60' },
    { name: 'Madder', isNew: true, kind: 'dye', amount: '250 g', lot: 'M 7', cost: '€12.50' },
    { name: 'Madder', isNew: true, kind: 'dye', amount: '100 g', lot: 'M 8', cost: '' },
    { name: 'Crin 25 mm', isNew: true, kind: 'trim', amount: '', lot: '', cost: '' },
  ]);
  const key = newKey();
  const { body } = await house.send('/setup/lists/supplies', { request_key: key, pasted: LIST }).expect(200);
  expect(body.said).toBe('3 rows received; 2 supplies are new.');
  const madder = (await house.data('/supplies/2')).body;
  expect([madder.onHand, madder.least, madder.cost]).toEqual(['350 g', '50 g', '€12.50']);
  expect(madder.lots.map(({ name, opened }: Record<string, string>) => [name, opened])).toEqual([
    ['Lot M 7', '1 Feb 2026'],
    ['Lot M 8', ''],
  ]);
  expect((await house.data('/supplies/1')).body.lots[0].supplier).toBe('Pin Lane');
  await house.send('/undo', { undoes: key }).expect(200);
  expect((await house.data('/supplies/2')).body.onHand).toBe('0 g');
  expect(checkBook(house.book).findings).toEqual([]);
});

it('comes in as the list of supplies went out', async () => {
  await house.send('/setup/lists/supplies', { pasted: LIST }).expect(200);
  const out = (await house.page('/setup/lists/out/supplies.csv').expect(200)).text;
  const other = await openTestHouse();
  await other.send('/orders/suppliers', { name: 'Pin Lane' }).expect(200);
  await other.send('/setup/lists/supplies', { pasted: out }).expect(200);
  expect((await other.page('/setup/lists/out/supplies.csv')).text).toBe(out);
  await other.shut();
});

it('is refused whole where a row is wrong, each with its row and column, and stays as it was pasted', async () => {
  const wrong =
    'Name,Kind,Measured in,On hand,Place\nDust,powder,g,5,\nWire,trim,m,5 g,\nTape,trim,m,1,Attic\n,trim,m,1,';
  const { body } = await house.send('/setup/lists/supplies', { pasted: wrong }).expect(422);
  expect(problems(body)).toEqual([
    'Row 2, kind: enter one of dye, chemical, thread, trim, notion, tool.',
    expect.stringMatching(/^Row 3, on hand: /),
    'Row 4, place: Attic is not on the list: add it first, or leave it blank.',
    'Row 5, name: enter a name of 120 letters at most.',
  ]);
  expect(
    problems((await house.send('/setup/lists/supplies', { pasted: 'a,b\n1,2' }).expect(422)).body),
  ).toEqual(['The first row names the columns: one of them must be Name.']);
  const page = await house.submit('/setup/lists/supplies', { pasted: wrong }).redirects(1);
  expect(page.text).toContain('Dust,powder');
  expect((await house.data('/supplies')).body.totals.supplies).toBe(1);
});
