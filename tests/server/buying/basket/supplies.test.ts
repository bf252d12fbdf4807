import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  for (const name of ['Both Sell', 'Only Pins'])
    await house.send('/orders/suppliers', { name, lead_days: '4' }).expect(200);
  await house
    .send('/orders/suppliers/1/terms', { currency: 'EUR', freight: '9', free_from: '60', tax: '10' })
    .expect(200);
  await house.send('/supplies/new', { name: 'Hooks', kind: 'notion', measure: 'count' }).expect(200);
  await house.send('/supplies/new', { name: 'Thread', kind: 'thread', measure: 'length' }).expect(200);
  const cloth = { cloth_id: String(stock.clothId), price_per: 'm', prices: [{ length: '', price: '5' }] };
  await house.send('/orders/suppliers/1/offers/new', cloth).expect(200);
  const offer = (supplier: number, supply: string, prices: object[]) =>
    house.send(`/orders/suppliers/${supplier}/supply-offers/new`, { supply_id: supply, prices }).expect(200);
  await offer(1, '1', [{ put_up: 'box', amount: '50', price: '7' }]);
  await offer(2, '1', [{ put_up: 'box', amount: '50', price: '8' }]);
  await offer(2, '2', [{ put_up: 'cone', amount: '5000 m', price: '6.40' }]);
});
afterEach(() => house.shut());

const needs = () => ({
  'needs.0.cloth_id': String(stock.clothId),
  'needs.0.shade_id': String(stock.shadeId),
  'needs.0.length': '10',
});
const supplies = {
  'supplies.0.supply_id': '1',
  'supplies.0.amount': '60',
  'supplies.1.supply_id': '2',
  'supplies.1.amount': '900',
};
const ask = (typed: Record<string, string>) => house.data(`/orders/basket?${new URLSearchParams(typed)}`);

it('buys cloth and supplies of one supplier in one order, freight and tax on both, and drafts them', async () => {
  const { body } = await ask({ ...needs(), ...supplies }).expect(200);
  // 10 m at 5.00 and two boxes at 7.00 are 64.00: free of freight from 60.00; 10 % tax make 70.40. Tax on boxes of 8.00
  // there is none: two of them at 16.00 cost more than 14.00 and 10 %.
  const [both, pins] = body.basket.sellers;
  expect(both).toMatchObject({
    name: 'Both Sell',
    goods: '€64.00',
    freight: 'free',
    tax: '€6.40',
    total: '€70.40',
  });
  expect(both.supplies).toMatchObject([
    { name: 'Hooks', needed: '60 pieces', buys: ['2 × box of 50 pieces €14.00'], left: '40 pieces' },
  ]);
  expect(pins).toMatchObject({ name: 'Only Pins', lines: [], total: '€6.40' });
  expect(body.basket.total).toBe('€76.80');
  const sent = Object.fromEntries(body.sent.map(({ name, value }: Record<string, string>) => [name, value]));
  await house.submit('/orders/basket', { ...sent, total_minor: '7679' }).expect(409);
  await house.submit('/orders/basket', { ...sent, total_minor: '7680' }).expect(303);
  const first = (await house.data('/orders/P1')).body;
  expect([first.lines.length, first.supplies[0].ordered, first.total]).toEqual([
    1,
    '2 × box of 50 pieces',
    '€70.40',
  ]);
  const second = (await house.data('/orders/P2')).body;
  expect(second.supplies).toMatchObject([{ name: 'Thread', ordered: '1 × cone of 5000 m', cost: '€6.40' }]);
  const shops = (await house.data('/orders/shopping')).body.shops;
  expect(
    shops.map(({ supplies: list }: { supplies: { what: string }[] }) => list.map(({ what }) => what)),
  ).toEqual([['2 × box of 50 pieces'], ['1 × cone of 5000 m']]);
});

it('may hold supplies alone, and says what nobody offers in time and what is no amount', async () => {
  const { body } = await ask({ ...supplies, needed_by: '2026-03-04' }).expect(200);
  expect(body.basket).toBeNull();
  expect(body.unmet).toEqual(['Hooks: 60 pieces', 'Thread: 900 m']);
  const later = (await ask({ ...supplies, needed_by: '2026-03-06' }).expect(200)).body;
  // Alone the hooks would bring 9.00 of freight from the first: 16.00 and 6.40 are less.
  expect(later.basket).toMatchObject({
    total: '€22.40',
    proved: true,
    sellers: [{ name: 'Only Pins', lines: [], total: '€22.40' }],
    second: { why: ['Hooks from Both Sell instead of Only Pins.', expect.any(String)] },
  });
  const wrong = await house.page(
    `/orders/basket?${new URLSearchParams({ ...supplies, 'supplies.1.amount': '9 g' })}`,
  );
  expect(wrong.text).toContain('value="9 g"');
  expect(wrong.text).toContain('Amount: ');
});

it('counts supplies to the least order of their supplier, in the basket and on the draft', async () => {
  await house
    .send('/orders/suppliers/2/terms', { currency: 'EUR', freight: '0', tax: '0', least_order: '24' })
    .expect(200);
  // Hooks at 16.00 and thread at 6.40 are 22.40: another cone makes 28.80, another box 30.40.
  const { sellers } = (await ask(supplies).expect(200)).body.basket;
  expect(sellers).toMatchObject([
    {
      name: 'Only Pins',
      total: '€28.80',
      misses: [],
      supplies: [{}, { buys: ['2 × cone of 5000 m €12.80'] }],
    },
  ]);
  await house
    .send('/orders/new', {
      supplier_id: '2',
      price_per: 'm',
      supplies: [{ supply_id: '1', put_ups: '2', put_up: 'box', amount: '50', price: '8' }],
    })
    .expect(200);
  expect((await house.data('/orders/P1')).body.misses).toEqual([
    'The order is €8.00 below the least order of €24.00: 1 × box of 50 pieces more of Hooks (€8.00) would reach it.',
  ]);
});
