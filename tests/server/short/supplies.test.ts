import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeGarment } from '../garments/making.ts';
import { CAGE } from '../garments/parts/cage.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
let garment: string;
beforeEach(async () => {
  house = await openTestHouse();
  await house.send('/orders/suppliers', { name: 'Pin Lane', lead_days: '3' }).expect(200);
  await house.send('/orders/suppliers', { name: 'Far Steel', lead_days: '9' }).expect(200);
  await house.send('/supplies/new', { name: 'Steel', kind: 'notion', measure: 'length' }).expect(200);
  await house.send('/supplies/receive', { rows: [{ supply_id: '1', amount: '2 m' }] }).expect(200);
  garment = await makeGarment(house);
  await house.send(`/garments/${garment}/parts/new/cage`, CAGE).expect(200);
});
afterEach(() => house.shut());

const offer = (supplier: number, prices: object[]) =>
  house.send(`/orders/suppliers/${supplier}/supply-offers/new`, { supply_id: '1', prices }).expect(200);
const short = async () => (await house.data('/short').expect(200)).body.supplies;

it('tells what to get in whole put-ups of the cheapest offer, and fills an order with it', async () => {
  // Steels of 55, 78, 101 and 124 in: 2 m give the one of 78, so 280 in are short.
  expect(await short()).toMatchObject([
    {
      name: 'Steel',
      free: '2 m',
      shortBy: '≈ 7.12 m',
      toGet: '≈ 7.12 m',
      inLengths: 'in lengths of ≈ 3.15 m, ≈ 2.57 m and ≈ 1.4 m; the longest free is 2 m',
      buy: null,
      isOffered: false,
    },
  ]);
  await offer(1, [
    { amount: '1 m', price: '1.10' },
    { put_up: 'coil', amount: '5 m', price: '4.50' },
  ]);
  await offer(2, [{ put_up: 'coil', amount: '10 m', price: '9.40' }]);
  // A coil of 5 m and 3 single metres are 8 m for 7.80, and yet no steel is as short as a metre: two coils cost 9.00, and
  // the other asks 9.40 for one of 10 m.
  expect((await short())[0].buy).toEqual({
    putUps: ['2 × coil of 5 m'],
    supplier: { name: 'Pin Lane', href: '/orders/suppliers/1' },
    cost: '€9.00',
  });
  const { text } = await house.page('/orders/new?from=short').expect(200);
  expect(text).toMatch(/value="2"[^>]*name="supplies\.0\.put_ups"/);
  expect((await house.data('/')).body.supplies).toEqual({ short: ['Steel'], toGet: 1 });
  const { notes } = (await house.data(`/garments/${garment}/by-when`)).body;
  expect(notes.map(({ text }: { text: string }) => text).join(' ')).toMatch(/Steel: /);
  const basket = (await house.data('/orders/basket')).body;
  // So much is asked for that the two coils are bought.
  expect(basket.fields.supplies[0].amount.value).toBe('10');
});

it('counts what is on order as coming, what is held for the garment as got, and what others hold as gone', async () => {
  const line = { supply_id: '1', put_ups: '2', amount: '3 m' };
  await house.send('/orders/new', { supplier_id: '1', price_per: 'm', supplies: [line] }).expect(200);
  expect((await short())[0]).toMatchObject({ onOrder: '', toGet: '≈ 7.12 m' });
  await house.send('/orders/P1/sendings', {}).expect(200);
  // Of two lengths of 3 m come the steels of 101 and 55 in; the one of 124 in is longer.
  expect((await short())[0]).toMatchObject({ onOrder: '6 m', shortBy: '≈ 7.12 m', toGet: '≈ 3.15 m' });
  const other = await makeGarment(house, { name: 'Second' });
  const idOf = (code: string) =>
    String(
      house.book.first(house.book.db.selectFrom('garment').select('id').where('code', '=', code))?.id ?? '',
    );
  const hold = (code: string, amount: string) =>
    house.send('/supplies/1/holds', { amount, garment_id: idOf(code) }).expect(200);
  await hold(garment, '1.5 m');
  expect((await short())[0]).toMatchObject({ forGarments: '≈ 7.6 m', free: '0.5 m', shortBy: '≈ 7.6 m' });
  await hold(other, '50 cm');
  expect((await short())[0]).toMatchObject({ free: '0 m', shortBy: '≈ 7.6 m', toGet: '≈ 3.15 m' });
  const [call] = (await house.data('/supplies')).body.called.calls;
  expect(call).toMatchObject({ shortBy: '≈ 7.6 m', toGet: '≈ 3.15 m' });
});
