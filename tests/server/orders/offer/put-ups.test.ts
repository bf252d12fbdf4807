import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeStock, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
});
afterEach(() => house.shut());

it('an offer says its bolts, its price breaks, how it is cut and when it comes', async () => {
  const stock = house.write((tx) => makeStock(tx));
  const offer = {
    cloth_id: String(stock.clothId),
    lead_days: '1',
    price_per: 'm',
    step: '10 cm',
    least: '1',
    bolts: [{ length: '50 yd', price: '180' }],
    prices: [
      { length: '25', price: '4.80' },
      { length: '', price: '5' },
    ],
  };
  await house.send('/orders/suppliers/1/offers/new', offer).expect(200);
  const { body } = await house.data('/orders/suppliers/1').expect(200);
  // 50 yd are 45.72 m, so 180.00 for the bolt are 3.937 a metre.
  expect(body.offers).toMatchObject([
    {
      leadDays: '1 day',
      putUps: [
        'bolt of 50 yd (45.72 m) €180.00 (€3.94 a metre)',
        'by the length €5.00 a metre, cut every 10 cm, 1 m or more',
        'from 25 m €4.80 a metre',
      ],
    },
  ]);
});

it('no bolt is longer than 1000 m, in an order or an offer', async () => {
  const stock = house.write((tx) => makeStock(tx));
  const line = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId), bolts: '1', price: '5' };
  const order = (length: string) =>
    house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines: [{ ...line, length }] });
  await order('1000').expect(200);
  const { body } = await order('1001').expect(422);
  expect(body.problems ?? body.error.problems).toEqual([
    {
      field: 'lines.0.length',
      message: 'Length: one bolt holds 1000 m at most. For a length off the bolt, leave the bolts blank.',
    },
  ]);
  const bolts = [{ length: '1001', price: '5' }];
  const offer = { cloth_id: String(stock.clothId), price_per: 'm', bolts };
  await house.send('/orders/suppliers/1/offers/new', offer).expect(422);
});
