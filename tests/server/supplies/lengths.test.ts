import { afterAll, beforeAll, expect, it } from 'vitest';
import { checkBalances } from '../../../server/ledger/check.ts';
import { makeGarment } from '../garments/making.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

async function add(supply: Record<string, string>): Promise<number> {
  const { body } = await house.send('/supplies/new', supply).expect(200);
  return Number(/\d+$/.exec(body.location)?.[0]);
}

interface Length {
  readonly id: number;
  readonly left: string;
  readonly held: string;
  readonly opened: string;
  readonly cost: string;
}
const lengthsOf = async (id: number): Promise<Length[]> => (await house.data(`/supplies/${id}`)).body.lots;
const left = async (id: number) => (await lengthsOf(id)).map((one) => one.left);
const said = (body: { error: { problems: { message: string }[] } }) =>
  body.error.problems.map(({ message }) => message);

/** Elastic of three reels of 25 m for €10.00. */
async function reels(name: string): Promise<number> {
  const id = await add({ name, kind: 'trim', measure: 'length' });
  const row = { supply_id: String(id), count: '3', amount: '25 m', lot: '88', cost: '10' };
  const { body } = await house.send('/supplies/receive', { rows: [row] }).expect(200);
  expect(body.said).toBe(`Received: 3 lengths, 75 m of ${name}.`);
  return id;
}

it('three reels are three lengths, and one length comes off one of them, the begun one first', async () => {
  const id = await reels('Elastic 6 mm');
  expect((await lengthsOf(id)).map(({ left: has, cost }) => [has, cost])).toEqual([
    ['25 m', '€3.34'],
    ['25 m', '€3.33'],
    ['25 m', '€3.33'],
  ]);
  const use = (amount: string, more = {}) => house.send(`/supplies/${id}/uses`, { amount, ...more });
  expect((await use('4.2 m').expect(200)).body.after).toBe('On hand now: 70.8 m.');
  await use('3 m').expect(200);
  // Both came off the reel that was begun.
  expect((await lengthsOf(id)).map((one) => [one.left, one.opened])).toEqual([
    ['17.8 m of 25 m', 'begun'],
    ['25 m', ''],
    ['25 m', ''],
  ]);
  const refused = await use('25.5 m').expect(422);
  expect(said(refused.body)).toEqual([
    'Amount: this needs one length of 25.5 m; the longest free is 25 m. Tick that it may be joined, or enter less.',
  ]);
  const none = await use('90 m').expect(422);
  expect(said(none.body)[0]).toContain('Enter less, or count it first.');
  const off = await use('18 m', { lot_id: String((await lengthsOf(id))[0]?.id) }).expect(422);
  expect(said(off.body)[0]).toContain('the longest free is 17.8 m');
  await use('40 m', { joined: 'on' }).expect(200);
  expect(await left(id)).toEqual(['2.8 m of 25 m', '25 m']);
  expect(checkBalances(house.book)).toEqual([]);
});

it('a length is held on one reel, and used from there first', async () => {
  const id = await reels('Elastic 8 mm');
  const code = await makeGarment(house, { name: 'Holder' });
  const garment = house.book.all(
    house.book.db.selectFrom('garment').select('id').where('code', '=', code),
  )[0];
  const garmentId = String(garment?.id);
  const hold = (amount: string) => house.send(`/supplies/${id}/holds`, { amount, garment_id: garmentId });
  await hold('20 m').expect(200);
  expect((await lengthsOf(id)).map((one) => one.held)).toEqual(['20 m', '', '']);
  expect(said((await hold('26 m').expect(422)).body)[0]).toContain('one length of 26 m');
  // 6 m do not come off what is free of the first.
  await house.send(`/supplies/${id}/uses`, { amount: '6 m' }).expect(200);
  expect(await left(id)).toEqual(['25 m', '19 m of 25 m', '25 m']);
  await house.send(`/supplies/${id}/uses`, { amount: '12 m', garment_id: garmentId }).expect(200);
  expect((await lengthsOf(id)).map((one) => [one.left, one.held])[0]).toEqual(['13 m of 25 m', '8 m']);
});

it('a length that is cut off and kept is one of its own with its share of the cost, and goes back whole', async () => {
  const id = await reels('Elastic 10 mm');
  const [first] = await lengthsOf(id);
  const lot = String(first?.id);
  const split = (amount: string) => house.send(`/supplies/${id}/splits`, { lot_id: lot, amount });
  expect(said((await split('25 m').expect(422)).body)).toEqual([
    'Amount: 25 m is all of this length. Enter less.',
  ]);
  const { body } = await split('10 m').expect(200);
  expect([body.said, body.after]).toEqual([
    'Cut off and kept: 10 m of Elastic 10 mm.',
    'On its reel now: 15 m.',
  ]);
  expect((await lengthsOf(id)).map((one) => [one.left, one.cost])).toEqual([
    ['15 m of 25 m', '€2.00'],
    ['25 m', '€3.33'],
    ['25 m', '€3.33'],
    ['10 m', '€1.34'],
  ]);
  const { entries } = (await house.data(`/supplies/${id}`)).body;
  expect(entries.slice(0, 2).map(({ what, amount }: Record<string, string>) => [what, amount])).toEqual([
    ['Cut off and kept', '+10 m'],
    ['Counted', '−10 m'],
  ]);
  // What it cost was spent with the reels.
  const spent = async () => (await house.data('/orders/spend').expect(200)).body;
  const { months, kinds } = await spent();
  await house.send('/undo', { undoes: entries[0].requestKey }).expect(200);
  expect([(await spent()).months, (await spent()).kinds]).toEqual([months, kinds]);
  expect(months.at(-1).supplies).toBe('€30.00');
  expect(await left(id)).toEqual(['25 m', '25 m', '25 m']);
  expect(checkBalances(house.book)).toEqual([]);
});

it('thread is wound off and what is counted is counted: neither is asked for in one length', async () => {
  for (const [kind, measure, amount] of [
    ['thread', 'length', '200 m'],
    ['notion', 'count', '20'],
  ] as const) {
    const id = await add({ name: `Plain ${kind}`, kind, measure });
    const row = (of: string) => ({ supply_id: String(id), amount: of });
    await house
      .send('/supplies/receive', { rows: [row(amount), { ...row(amount), count: '2' }] })
      .expect(200);
    const page = (await house.data(`/supplies/${id}`)).body;
    expect([page.inLengths, page.lots.length]).toEqual([false, 2]);
    const names = page.forms.map(({ name }: { name: string }) => name);
    expect(names).not.toContain('split');
    expect(JSON.stringify(page.forms)).not.toContain('joined');
    await house.send(`/supplies/${id}/uses`, { amount: kind === 'thread' ? '500 m' : '50' }).expect(200);
  }
});

it('three reels that an order brings are three lengths, each with its part of the freight', async () => {
  const id = await add({ name: 'Ordered ribbon', kind: 'trim', measure: 'length' });
  await house.send('/orders/suppliers', { name: 'Ribbon Row', lead_days: '3' }).expect(200);
  const line = { supply_id: String(id), put_ups: '3', put_up: 'reel', amount: '25 m', price: '4' };
  const order = { supplier_id: '1', price_per: 'm', freight: '1', supplies: [line] };
  await house.send('/orders/new', order).expect(200);
  await house.send('/orders/P1/sendings', {}).expect(200);
  const came = { line_id: '1', put_ups: '2', lot: 'R' };
  await house.send('/orders/P1/receipts', { share_by: 'value', freight: '1', supplies: [came] }).expect(200);
  // Two reels at 4.00 and 1.00 of freight.
  expect((await lengthsOf(id)).map((one) => [one.left, one.cost])).toEqual([
    ['25 m', '€4.50'],
    ['25 m', '€4.50'],
  ]);
  expect((await house.data('/orders/P1')).body.supplies[0].awaited).toBe('25 m');
  expect(checkBalances(house.book)).toEqual([]);
});
