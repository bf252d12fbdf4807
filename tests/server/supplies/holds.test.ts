import { afterEach, beforeEach, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { makeGarment } from '../garments/making.ts';
import { newKey, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
let id: string;
beforeEach(async () => {
  house = await openTestHouse();
  const { body } = await house.send('/supplies/new', { name: 'Hooks', kind: 'notion', measure: 'count' });
  id = /\d+$/.exec(body.location)?.[0] ?? '';
  const rows = [
    { supply_id: id, amount: '40', lot: 'A', cost: '8.00' },
    { supply_id: id, amount: '20', lot: 'B', cost: '5.00' },
  ];
  await house.send('/supplies/receive', { rows }).expect(200);
  await makeGarment(house);
  await makeGarment(house, { name: 'Second' });
});
afterEach(() => house.shut());

const hold = (amount: string, garment: string, more: object = {}) =>
  house.send(`/supplies/${id}/holds`, { amount, garment_id: garment, ...more });
const use = (amount: string, more: object = {}) => house.send(`/supplies/${id}/uses`, { amount, ...more });
const figures = async () => {
  const { body } = await house.data(`/supplies/${id}`);
  return [body.onHand, body.held, body.free];
};
const said = (body: { error: { problems: { message: string }[] } }) =>
  body.error.problems.map(({ message }) => message);

it('what a garment holds is free for nobody else, and used first for it', async () => {
  expect((await hold('45', '1').expect(200)).body.said).toBe('Held: 45 pieces of Hooks.');
  expect(await figures()).toEqual(['60 pieces', '45 pieces', '15 pieces']);
  expect(said((await use('16').expect(422)).body)).toEqual([
    'Amount: 15 pieces may be taken, the rest is held for G1. Enter less, or release it first.',
  ]);
  expect(said((await hold('16', '2').expect(422)).body)).toEqual(['Amount: 15 pieces is free. Enter less.']);
  await use('50', { garment_id: '1' }).expect(200);
  expect(await figures()).toEqual(['10 pieces', '', '10 pieces']);
  // 40 of lot A cost 8.00; of lot B 10 of 20 cost half of 5.00.
  const { body } = await house.data(`/supplies/${id}`);
  expect(body.cost).toBe('€2.50');
  expect(checkBook(house.book).findings).toEqual([]);
});

it('what is held is neither written off nor counted away, and is released in part or whole', async () => {
  await hold('30', '1').expect(200);
  await hold('5', '2').expect(200);
  const { lots, holds } = (await house.data(`/supplies/${id}`)).body;
  expect(holds).toMatchObject([
    { code: 'G1', held: '30 pieces' },
    { code: 'G2', held: '5 pieces' },
  ]);
  const count = { lot_id: String(lots[0].id), amount: '34' };
  expect(said((await house.send(`/supplies/${id}/counts`, count).expect(422)).body)).toEqual([
    'Amount: 35 pieces of this lot is held for G1 and G2. Enter as much or more, or release it first.',
  ]);
  await house.send(`/supplies/${id}/write-offs`, { all: 'yes', why: 'lost' }).expect(200);
  expect(await figures()).toEqual(['35 pieces', '35 pieces', '0 pieces']);
  const release = (form: object) => house.send(`/supplies/${id}/releases`, form);
  expect(said((await release({ garment_id: '1', amount: '31' }).expect(422)).body)).toEqual([
    'Amount: 30 pieces is held for it. Enter less, or leave it blank for all.',
  ]);
  await release({ garment_id: '1', amount: '10' }).expect(200);
  await release({ garment_id: '2' }).expect(200);
  expect(await figures()).toEqual(['35 pieces', '20 pieces', '15 pieces']);
  expect(checkBook(house.book).findings).toEqual([]);
});

it('a hold is undone while it stands, and a use gives back what it took of it', async () => {
  const [holdKey, useKey] = [newKey(), newKey()];
  await hold('30', '1', { request_key: holdKey }).expect(200);
  await use('10', { garment_id: '1', request_key: useKey }).expect(200);
  const undo = (key: string) => house.send('/undo', { undoes: key });
  expect((await undo(holdKey).expect(409)).body.error.message).toBe(
    'This cannot be undone: Hooks was used since by Maker, 2 Mar 2026, 12:00. Undo that first.',
  );
  await undo(useKey).expect(200);
  expect(await figures()).toEqual(['60 pieces', '30 pieces', '30 pieces']);
  await undo(holdKey).expect(200);
  expect(await figures()).toEqual(['60 pieces', '', '60 pieces']);
  expect(checkBook(house.book).findings).toEqual([]);
});

it('a release is undone as long as the amount is there', async () => {
  const [releaseKey, useKey] = [newKey(), newKey()];
  await hold('60', '1').expect(200);
  await house.send(`/supplies/${id}/releases`, { garment_id: '1', request_key: releaseKey }).expect(200);
  await use('50', { request_key: useKey }).expect(200);
  await house.send('/undo', { undoes: releaseKey }).expect(409);
  await house.send('/undo', { undoes: useKey }).expect(200);
  await house.send('/undo', { undoes: releaseKey }).expect(200);
  expect(await figures()).toEqual(['60 pieces', '60 pieces', '0 pieces']);
});

it('costs the garment what was paid for what it used and holds, and says where no price is known', async () => {
  const cost = async () => (await house.data('/garments/G1/cost')).body;
  await hold('45', '1').expect(200);
  // 40 of lot A for 8.00, and 5 of the 20 of lot B for 5.00.
  expect((await cost()).supplies).toMatchObject({ cost: '€9.25', unknown: [] });
  await use('10', { garment_id: '1' }).expect(200);
  expect((await cost()).supplies.rows).toEqual([
    {
      name: 'Hooks',
      href: `/supplies/${id}`,
      used: '10 pieces',
      held: '35 pieces',
      cost: '€9.25',
      unknown: false,
    },
  ]);
  await house.send('/supplies/receive', { rows: [{ supply_id: id, amount: '5', lot: 'C' }] }).expect(200);
  await use('17', { garment_id: '1', lot_id: '3' }).expect(422);
  await use('4', { garment_id: '1', lot_id: '3' }).expect(200);
  const { supplies, together } = await cost();
  expect([supplies.cost, supplies.unknown, together]).toEqual(['€9.25', ['Hooks'], '€9.25']);
  expect((await house.page('/garments/G1/cost')).text).toContain('Received without a price');
});
