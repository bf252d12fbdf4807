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
  expect(await short()).toMatchObject([
    { name: 'Steel', free: '2 m', shortBy: '≈ 7.1 m', toGet: '≈ 7.1 m', buy: null, isOffered: false },
  ]);
  await offer(1, [
    { amount: '1 m', price: '1.10' },
    { put_up: 'coil', amount: '5 m', price: '4.50' },
  ]);
  await offer(2, [{ put_up: 'coil', amount: '10 m', price: '9.00' }]);
  // 7.1 m: a coil of 5 m and 3 single metres cost 7.80, two coils 9.00; the other asks 9.00 for one of 10 m.
  expect((await short())[0].buy).toEqual({
    putUps: ['1 × coil of 5 m', '3 × 1 m'],
    supplier: { name: 'Pin Lane', href: '/orders/suppliers/1' },
    cost: '€7.80',
  });
  const { text } = await house.page('/orders/new?from=short').expect(200);
  expect(text).toMatch(/value="1"[^>]*name="supplies\.0\.put_ups"/);
  expect(text).toMatch(/value="3"[^>]*name="supplies\.1\.put_ups"/);
  expect((await house.data('/')).body.supplies).toEqual({ short: ['Steel'], toGet: 1 });
  const { notes } = (await house.data(`/garments/${garment}/by-when`)).body;
  expect(notes.map(({ text }: { text: string }) => text).join(' ')).toMatch(/Steel: /);
});

it('counts what is on order as coming, what is held for the garment as got, and what others hold as gone', async () => {
  const line = { supply_id: '1', put_ups: '2', amount: '3 m' };
  await house.send('/orders/new', { supplier_id: '1', price_per: 'm', supplies: [line] }).expect(200);
  expect((await short())[0]).toMatchObject({ onOrder: '', toGet: '≈ 7.1 m' });
  await house.send('/orders/P1/sendings', {}).expect(200);
  expect((await short())[0]).toMatchObject({ onOrder: '6 m', shortBy: '≈ 7.1 m', toGet: '≈ 1.1 m' });
  const other = await makeGarment(house, { name: 'Second' });
  const idOf = (code: string) =>
    String(
      house.book.first(house.book.db.selectFrom('garment').select('id').where('code', '=', code))?.id ?? '',
    );
  const hold = (code: string, amount: string) =>
    house.send('/supplies/1/holds', { amount, garment_id: idOf(code) }).expect(200);
  await hold(garment, '1.5 m');
  expect((await short())[0]).toMatchObject({ forGarments: '≈ 7.6 m', free: '0.5 m', shortBy: '≈ 7.1 m' });
  await hold(other, '50 cm');
  expect((await short())[0]).toMatchObject({ free: '0 m', shortBy: '≈ 7.6 m', toGet: '≈ 1.6 m' });
  const [call] = (await house.data('/supplies')).body.called.calls;
  expect(call).toMatchObject({ shortBy: '≈ 7.6 m', toGet: '≈ 1.6 m' });
});
