import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readShort } from '../../../../server/short/queries.ts';
import { BYTE_ORDER_MARK } from '../../../../src/lists/csv.ts';
import { METRIC, showLength } from '../../../../src/quantity/length-show.ts';
import { makeStock, makeTier, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
  await house.send('/orders/suppliers', { name: 'Tide Mill', lead_days: '20' }).expect(200);
});
afterEach(() => house.shut());

const offer = (supplier: number, more: object, status = 200) =>
  house
    .send(`/orders/suppliers/${supplier}/offers/new`, {
      cloth_id: String(stock.clothId),
      shade_id: String(stock.shadeId),
      price_per: 'm',
      step: '10 cm',
      ...more,
    })
    .expect(status);

const terms = (supplier: number, more: object, status = 200) =>
  house.send(`/orders/suppliers/${supplier}/terms`, { currency: 'EUR', tax: '0', ...more }).expect(status);

const basket = (query: object = {}) =>
  house.data(
    `/orders/basket?${new URLSearchParams({
      'needs.0.cloth_id': String(stock.clothId),
      'needs.0.shade_id': String(stock.shadeId),
      'needs.0.length': '38',
      ...query,
    })}`,
  );

describe('offers', () => {
  it('keep their prices with their day, and the newest in force count', async () => {
    await offer(1, { bolts: [{ length: '50', price: '190' }], from_on: '2026-01-01' });
    await offer(1, { bolts: [{ length: '50', price: '180' }], from_on: '2026-03-01' });
    await offer(1, { bolts: [{ length: '50', price: '210' }], from_on: '2026-09-01' });
    const { body } = await house.data('/orders/suppliers/1').expect(200);
    expect(body.offers.map((one: { putUps: string[] }) => one.putUps)).toEqual([
      ['bolt of 50 m €180.00 (€3.60 a metre)'],
    ]);
    const { body: one } = await house.data('/orders/offers/1').expect(200);
    expect(one.history.map(({ from }: { from: string }) => from)).toEqual([
      '1 Sept 2026',
      '1 Mar 2026',
      '1 Jan 2026',
    ]);
  });

  it('are withdrawn by a newer one', async () => {
    await offer(1, { prices: [{ length: '', price: '5' }] });
    await offer(1, { withdrawn: 'yes' });
    const { body } = await house.data('/orders/suppliers/1');
    expect(body).toMatchObject({ offers: [], aside: [{ withdrawn: true, href: '/orders/offers/2' }] });
    const page = await house.page('/orders/suppliers/1').expect(200);
    expect(page.text).toContain('This supplier offers nothing now.');
    expect((await house.data('/orders/offers/2')).body.history).toHaveLength(2);
    await offer(1, { prices: [{ length: '', price: '6' }], from_on: '2026-09-01' });
    expect((await house.data('/orders/suppliers/1')).body.aside).toMatchObject([
      { withdrawn: false, from: '1 Sept 2026' },
    ]);
  });

  it('go by terms of their time; those before and those to come are shown', async () => {
    await terms(1, { freight: '5', from_on: '2026-01-01' });
    await terms(1, { freight: '6', from_on: '2026-02-01' });
    await terms(1, { freight: '7', from_on: '2026-09-01' });
    const { body } = await house.data('/orders/suppliers/1').expect(200);
    expect(body.terms.join(' ')).toContain('€6.00');
    const others = body.otherTerms.map(({ from, said }: { from: string; said: string[] }) => [from, said[1]]);
    expect(others).toEqual([
      ['1 Sept 2026', expect.stringContaining('€7.00')],
      ['1 Jan 2026', expect.stringContaining('€5.00')],
    ]);
    const page = await house.page('/orders/suppliers/1').expect(200);
    expect(page.text).toContain('Earlier terms');
  });

  it('tell what is wrong at its field and keep what was typed', async () => {
    const refused = await house.submit('/orders/suppliers/1/offers/new', {
      cloth_id: String(stock.clothId),
      price_per: 'm',
      'bolts.0.length': '50',
      'bolts.0.price': '180,001',
      'prices.0.length': '1,500',
      'prices.0.price': '5',
    });
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('1,500 can');
    expect(refused.text).toContain('value="180,001"');
    const { body } = await offer(1, {}, 422);
    expect(body.error.problems).toMatchObject([{ field: 'bolts' }]);
    const broken = await offer(1, { prices: [{ length: '10', price: '4' }] }, 422);
    expect(broken.body.error.problems).toMatchObject([{ field: 'prices.0.length' }]);
  });

  it('are in the money of their supplier, at a rate that is written down', async () => {
    const { body } = await terms(1, { currency: 'JPY', freight: '800.50' }, 422);
    expect(body.error.problems.map(({ field }: { field: string }) => field)).toEqual(['rate', 'freight']);
    await terms(1, { currency: 'JPY', rate: '0.006', freight: '800' });
    await offer(1, { prices: [{ length: '', price: '700' }] });
    const { body: one } = await basket();
    // 38 m at 700 are 26600 yen, 800 freight: 27400 yen at 0.006 are 164.40 euros.
    expect(one.basket).toMatchObject({ total: '€164.40' });
    expect(one.basket.sellers[0]).toMatchObject({
      goods: '¥26600',
      freight: '¥800',
      home: '€164.40 at 0.006',
    });
  });
});

describe('the basket', () => {
  it('proposes the whole bolt where it is cheaper, says so, and tells the next best', async () => {
    await offer(1, { bolts: [{ length: '50', price: '180' }], prices: [{ length: '', price: '5' }] });
    const { body } = await basket();
    expect(body.basket).toMatchObject({ total: '€180.00', proved: true, arrives: '7 Mar 2026' });
    expect(body.basket.sellers[0].lines[0]).toMatchObject({
      buys: ['1 bolt of 50 m €180.00'],
      left: '12 m',
      notes: ['Whole bolts cost less than 38 m off the bolt, which is €190.00.'],
    });
    expect(body.basket.second).toMatchObject({ total: '€190.00', more: 'costs €10.00 more' });
    expect(body.basket.second.why.join(' ')).toContain('goods €10.00 more');
  });

  it('leaves out what comes too late, is too narrow or nobody offers, and says so', async () => {
    await offer(1, { prices: [{ length: '', price: '5' }] });
    await offer(2, { prices: [{ length: '', price: '4' }] });
    const { body } = await basket({ needed_by: '2026-03-10' });
    expect(body.basket.total).toBe('€190.00');
    expect(body.leftOut).toEqual([expect.stringContaining('Tide Mill would come on 22 Mar 2026')]);
    await offer(1, { width: '140', prices: [{ length: '', price: '5' }] });
    const narrow = await basket({ needed_by: '2026-03-10' });
    expect(narrow.body.basket).toBeNull();
    expect(narrow.body.leftOut[0]).toContain('140 cm wide');
    expect(narrow.body.unmet).toHaveLength(1);
  });

  it('counts the spare of the cloth', async () => {
    await offer(1, { prices: [{ length: '', price: '5' }] });
    await house.send('/orders/rules/spares', { cloth_id: String(stock.clothId), spare: '5' }).expect(200);
    // 38 m and 5 % are 39.9 m.
    expect((await basket()).body.basket.total).toBe('€199.50');
    expect((await basket({ 'needs.0.spare': '0' })).body.basket.total).toBe('€190.00');
  });

  it('starts from all that is short', async () => {
    house.write((tx) => makeTier(tx, stock));
    await offer(1, { prices: [{ length: '', price: '5' }] });
    const { body } = await house.data('/orders/basket').expect(200);
    expect(body.fromShort).toBe(true);
    expect(body.basket.sellers[0].lines).toHaveLength(1);
    const [short] = readShort(house.book);
    expect(body.basket.sellers[0].lines[0].needed).toBe(showLength(short?.toOrderTicks ?? 0, METRIC, 'up'));
    expect(body.further).toBe(0);
  });

  it('keeps what was typed beside what is wrong with it', async () => {
    const wrong = { 'needs.0.length': 'a lot', 'needs.0.cloth_id': String(stock.clothId) };
    const page = await house.page(`/orders/basket?${new URLSearchParams(wrong)}`).expect(422);
    expect(page.text).toContain('value="a lot"');
    expect(page.text).toContain('Choose a shade.');
  });
});

describe('drafting from the basket', () => {
  const form = () => ({
    needs: [{ cloth_id: String(stock.clothId), shade_id: String(stock.shadeId), length: '53.4' }],
  });

  it('makes an order a supplier, with put-ups, freight, tax and the day it is expected', async () => {
    await terms(1, { freight: '9', free_from: '500', tax: '19' });
    await offer(1, {
      article: '=4130',
      bolts: [{ length: '50', price: '180' }],
      prices: [{ length: '', price: '5' }],
    });
    const { body } = await basket({ 'needs.0.length': '53.4' });
    // A bolt 180.00, 3.4 m 17.00, freight 9.00: 206.00 and 19 % tax 39.14.
    expect(body.basket.total).toBe('€245.14');
    const made = await house.send('/orders/basket', { ...form(), total_minor: '24514' }).expect(200);
    expect(made.body.location).toBe('/orders/P1');
    const { body: order } = await house.data('/orders/P1').expect(200);
    const again = await basket({ 'needs.0.length': '53.4' });
    expect(again.body.drafts).toEqual([{ code: 'P1', href: '/orders/P1' }]);
    expect(order).toMatchObject({ expected: '7 Mar 2026', total: '€245.14', state: 'draft' });
    expect(order.onTop).toMatchObject({ goods: '€197.00', freight: '€9.00', tax: '€39.14' });
    expect(order.lines).toMatchObject([
      { putUp: '1 bolt of 50 m', price: '€180.00 a bolt', cost: '€180.00', article: '=4130' },
      { putUp: '', ordered: '3.4 m', price: '€5.00 a metre', cost: '€17.00' },
    ]);
    const csv = await house.page('/orders/P1/lines.csv').expect(200);
    expect(csv.headers['content-type']).toContain('text/csv');
    expect(csv.text.startsWith(BYTE_ORDER_MARK)).toBe(true);
    expect(csv.text).toContain(",'=4130,");
    expect(csv.text).toContain(',1,50,180.00,50,180.00,EUR,,,,\r\n');
    expect(csv.text).toContain(',,3.4,5.00,1,17.00,EUR,,,,\r\n');
    expect(csv.text).toContain(',tax,,,,,,39.14,EUR,,,,\r\n');
    const sheet = await house.page('/orders/P1/sheet').expect(200);
    expect(sheet.text).toContain('A draft: not ordered yet.');
    const edit = await house.page('/orders/P1/edit').expect(200);
    expect(edit.text).toContain('value="50 m"');
  });

  it('is refused where the prices changed since, with the basket as it is now', async () => {
    await offer(1, { prices: [{ length: '', price: '5' }] });
    await offer(1, { prices: [{ length: '', price: '6' }] });
    const refused = await house.send('/orders/basket', { ...form(), total_minor: '26700' }).expect(409);
    expect(refused.body.error.message).toContain('it comes to €320.40 now');
    expect(refused.body.page.basket.total).toBe('€320.40');
    expect((await house.data('/orders')).body.open).toEqual([]);
  });

  it('twice by the same form is one set of orders', async () => {
    await offer(1, { prices: [{ length: '', price: '5' }] });
    const sent = { ...form(), total_minor: '26700', request_key: 'basket-twice' };
    await house.send('/orders/basket', sent).expect(200);
    await house.send('/orders/basket', sent).expect(200);
    expect((await house.data('/orders')).body.open).toHaveLength(1);
  });
});

describe('a line of bolts', () => {
  it('awaits bolts by their number, and a bolt costs its price whatever it measures', async () => {
    await house
      .send('/orders/new', {
        supplier_id: '1',
        price_per: 'm',
        lines: [
          {
            cloth_id: String(stock.clothId),
            shade_id: String(stock.shadeId),
            bolts: '2',
            length: '50',
            price: '180',
          },
        ],
      })
      .expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body } = await house.data('/orders/P1/receipts').expect(200);
    const row = { line_id: String(body.lines[0].id), mill_lot: '7' };
    await house.send('/orders/P1/receipts', { pieces: [{ ...row, length: '49.4' }] }).expect(200);
    const { body: part } = await house.data('/orders/P1');
    expect(part).toMatchObject({ state: 'part', lines: [{ received: '49.4 m', awaited: '50 m' }] });
    await house.send('/orders/P1/receipts', { pieces: [{ ...row, length: '50.2' }] }).expect(200);
    expect((await house.data('/orders/P1')).body.state).toBe('received');
    const costs = house.book.all(house.book.db.selectFrom('piece').select('cost_minor'));
    expect(costs.map(({ cost_minor }) => cost_minor)).toEqual([18_000, 18_000]);
  });

  it('carries its share of freight and tax, by value or by length, once for the order', async () => {
    await terms(1, { freight: '12', tax: '20' });
    const line = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) };
    const lines = [
      { ...line, length: '10', price: '6' },
      { ...line, length: '40', price: '1' },
    ];
    await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines }).expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body } = await house.data('/orders/P1/receipts').expect(200);
    expect(body.fields).toMatchObject({
      freight: { value: '12.00', unit: 'EUR' },
      tax: { value: '20 %' },
      share_by: { value: 'value' },
    });
    const pieces = body.lines.map(({ id }: { id: number }, at: number) => ({
      line_id: String(id),
      length: ['10', '40'][at],
    }));
    const asked = { pieces, freight: '12.00', tax: '20 %', share_by: 'length' };
    const { body: seen } = await house.send('/orders/P1/receipts?see=cost', asked).expect(200);
    expect(seen.landed).toMatchObject({
      goods: '€100.00',
      freight: '€12.00',
      tax: '€22.40',
      home: '',
      total: '€134.40',
      pieces: [
        { length: '10 m', cost: '€74.88', perLength: '€7.49 a metre' },
        { length: '40 m', cost: '€59.52', perLength: '€1.49 a metre' },
      ],
    });
    const { text } = await house.submit('/orders/P1/receipts?see=cost', { freight: 'x' }).expect(422);
    expect(text).toContain('value="x"');
    expect(house.book.all(house.book.db.selectFrom('piece').select('id'))).toEqual([]);
    await house.send('/orders/P1/receipts', asked).expect(200);
    // Goods of €60 and €40 with 20 % are €72 and €48; freight of €12 with 20 % is €14.40, shared by 10 m and 40 m.
    const costs = house.book.all(house.book.db.selectFrom('piece').select('cost_minor').orderBy('id'));
    expect(costs.map(({ cost_minor: minor }) => minor)).toEqual([7200 + 288, 4800 + 1152]);
    expect((await house.data('/orders/P1/receipts').expect(200)).body.fields.freight.value).toBe('');
  });
});
