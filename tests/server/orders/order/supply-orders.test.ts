import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { makeStock, newKey, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;
let ids: { dye: string; hooks: string; thread: string };

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Pin Lane', lead_days: '3' }).expect(200);
  const add = async (name: string, kind: string, measure: string) => {
    const { body } = await house.send('/supplies/new', { name, kind, measure }).expect(200);
    return /\d+$/.exec(body.location)?.[0] ?? '';
  };
  ids = {
    dye: await add('Madder', 'dye', 'mass'),
    hooks: await add('Hooks', 'notion', 'count'),
    thread: await add('Silk thread', 'thread', 'length'),
  };
});
afterEach(() => house.shut());

const cloth = () => ({
  cloth_id: String(stock.clothId),
  shade_id: String(stock.shadeId),
  length: '10',
  price: '4',
});
const supplies = () => [
  { supply_id: ids.dye, put_ups: '3', put_up: 'tub', amount: '100', price: '8.40' },
  { supply_id: ids.hooks, put_up: 'box', amount: '50', price: '9.80' },
  { supply_id: ids.thread, put_ups: '2', amount: '5000 m' },
];
const draft = (form: object) =>
  house.send('/orders/new', { supplier_id: '1', price_per: 'm', freight: '5', ...form });

async function sent() {
  await draft({ lines: [cloth()], supplies: supplies() }).expect(200);
  await house.send('/orders/P1/sendings', {}).expect(200);
  const { text } = await house.page('/orders/P1/receipts').expect(200);
  const lineIds = [...text.matchAll(/name="supplies\.\d+\.line_id" value="(\d+)"/g)].map(([, id]) => id);
  const pieces = [...text.matchAll(/name="pieces\.\d+\.line_id" value="(\d+)"/g)].map(([, id]) => id);
  const [dye, hooks, thread] = [...new Set(lineIds)];
  return { dye, hooks, thread, cloth: pieces[0] };
}
const receive = (form: object) => house.send('/orders/P1/receipts', { share_by: 'value', ...form });
const problems = (body: { error: { problems: { field: string; message: string }[] } }) =>
  body.error.problems.map(({ field, message }) => [field, message]);
const onHand = async (id: string) => {
  const { body } = await house.data(`/supplies/${id}`);
  return [body.onHand, body.cost];
};

describe('an order of cloth and supplies', () => {
  it('adds up its lines by the put-up, and is printed and listed with both', async () => {
    await draft({ lines: [cloth()], supplies: supplies() }).expect(200);
    const { body } = await house.data('/orders/P1').expect(200);
    // 10 m at 4.00, 3 tubs at 8.40 and a box at 9.80 are 75.00; freight 5.00.
    expect(body.onTop.goods).toBe('€75.00');
    expect(body.total).toBe('€80.00');
    expect(body.unpriced).toBe(1);
    expect(body.supplies).toMatchObject([
      { name: 'Madder', ordered: '3 × tub of 100 g', total: '300 g', price: '€8.40 a tub', cost: '€25.20' },
      { name: 'Hooks', ordered: '1 × box of 50 pieces', total: '', cost: '€9.80' },
      { name: 'Silk thread', ordered: '2 × 5000 m', total: '10000 m', price: '', cost: '' },
    ]);
    const sheet = await house.page('/orders/P1/sheet').expect(200);
    expect(sheet.text).toContain('3 × tub of 100 g');
    const csv = (await house.page('/orders/P1/lines.csv').expect(200)).text;
    expect(csv).toContain('P1,Pin Lane,,,,,,8.40,,25.20,EUR,Madder,3,tub,100 g');
    const list = (await house.data('/orders')).body;
    expect(list.open[0].lines).toMatch(/; Madder; Hooks; Silk thread$/);
  });

  it('may be of supplies alone, and is changed while it is a draft', async () => {
    await draft({ supplies: [{ supply_id: ids.dye, amount: '250 g', price: '19' }] }).expect(200);
    const form = await house.page('/orders/P1/edit').expect(200);
    expect(form.text).toContain('value="250 g"');
    await house
      .send('/orders/P1/edit', {
        supplier_id: '1',
        price_per: 'm',
        supplies: [{ supply_id: ids.dye, put_ups: '2', amount: '100 g', price: '8.40' }],
      })
      .expect(200);
    const { body } = await house.data('/orders/P1');
    expect(body.supplies).toMatchObject([{ ordered: '2 × 100 g', cost: '€16.80' }]);
    expect(body.lines).toEqual([]);
  });

  it('refuses an amount that is none, in the field, and keeps what was typed', async () => {
    const rows = [
      { supply_id: ids.dye, amount: '12 m' },
      { supply_id: ids.hooks, amount: '0' },
      { supply_id: ids.hooks, put_ups: '10000', amount: '1000000000' },
    ];
    const refused = problems((await draft({ supplies: rows }).expect(422)).body);
    expect(refused).toEqual([
      ['supplies.0.amount', expect.stringMatching(/^Each holds: /)],
      ['supplies.1.amount', 'Each holds: enter more than nothing.'],
      ['supplies.2.amount', 'Each holds: that is too much in all.'],
    ]);
    expect(problems((await draft({}).expect(422)).body)).toEqual([
      ['lines', 'Give at least one of the lines.'],
    ]);
  });
});

describe('a delivery of cloth and supplies', () => {
  it('goes to the shelf by lots, shares freight by value, and leaves the rest awaited', async () => {
    const lines = await sent();
    const { body } = await receive({
      freight: '5',
      share_by: 'length',
      pieces: [{ line_id: lines.cloth, length: '10' }],
      supplies: [
        { line_id: lines.dye, put_ups: '2', lot: 'M 7', opened_on: '2026-03-02' },
        { line_id: lines.hooks, amount: '48' },
      ],
    }).expect(200);
    expect(body.said).toMatch(
      /is on the shelf\. Of order P1: 200 g of Madder and 48 pieces of Hooks received\.$/,
    );
    // Goods of 40.00, 16.80 and 48/50 × 9.80 = 9.41 share the freight of 5.00 by value: 3.02, 1.27, 0.71.
    expect(await onHand(ids.dye)).toEqual(['200 g', '€18.07']);
    expect(await onHand(ids.hooks)).toEqual(['48 pieces', '€10.12']);
    const order = (await house.data('/orders/P1')).body;
    expect(order.state).toBe('part');
    expect(order.supplies.map(({ awaited }: { awaited: string }) => awaited)).toEqual([
      '100 g',
      '2 pieces',
      '10000 m',
    ]);
    expect(order.receipts[0].came.map(({ what }: { what: string }) => what)).toEqual([
      '10 m',
      'Madder, 200 g',
      'Hooks, 48 pieces',
    ]);
    const receipt = (await house.data(body.location)).body;
    expect(receipt.supplies).toMatchObject([
      { name: 'Madder', lot: 'M 7', received: '200 g', cost: '€18.07' },
      { name: 'Hooks', received: '48 pieces', cost: '€10.12' },
    ]);
    expect(receipt.parts).toEqual([
      { name: 'Cloth', cost: '€40.00' },
      { name: 'Supplies', cost: '€26.21' },
      { name: 'Freight, shared by value', cost: '€5.00' },
    ]);
    const { months, hasSupplyParts } = (await house.data('/orders/spend')).body;
    expect(hasSupplyParts).toBe(true);
    // 16.80 and 9.41, with 1.27 and 0.71 of freight.
    expect(months.at(-1)).toMatchObject({
      supplies: '€28.19',
      supplyParts: { cloth: '€26.21', freight: '€1.98', tax: '' },
    });
    const { text } = await house.page('/setup/lists/out/supplies-delivered.csv');
    expect(text).toMatch(/Madder,M 7,200 g,18\.07,16\.80,1\.27,0\.00,0\.00,EUR/);
    const [lot] = (await house.data(`/supplies/${ids.dye}`)).body.lots;
    expect(lot).toMatchObject({ name: 'Lot M 7', opened: '2 Mar 2026', supplier: 'Pin Lane' });
    const today = (await house.data('/')).body;
    expect(today.arriving.sent[0].lines.map(({ name }: { name: string }) => name)).toEqual([
      'Madder',
      'Hooks',
      'Silk thread',
    ]);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('is undone whole, and refused where something of it was used since', async () => {
    const lines = await sent();
    const key = newKey();
    await receive({
      request_key: key,
      pieces: [{ line_id: lines.cloth, length: '10' }],
      supplies: [{ line_id: lines.dye, put_ups: '3' }],
    }).expect(200);
    const useKey = newKey();
    await house.send(`/supplies/${ids.dye}/uses`, { request_key: useKey, amount: '5' }).expect(200);
    const refused = await house.send('/undo', { undoes: key }).expect(409);
    expect(refused.body.error.message).toContain('Madder was used since by Maker');
    expect((await house.data('/orders/P1')).body.supplies[0].awaited).toBe('0 g');
    await house.send('/undo', { undoes: useKey }).expect(200);
    await house.send('/undo', { undoes: key }).expect(200);
    expect(await onHand(ids.dye)).toEqual(['0 g', '€0.00']);
    const order = (await house.data('/orders/P1')).body;
    expect([order.state, order.receipts, order.supplies[0].awaited]).toEqual(['sent', [], '300 g']);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('asks whether it is another where more came than was ordered', async () => {
    const lines = await sent();
    const twice = { supplies: [{ line_id: lines.hooks, put_ups: '2', price: '19' }] };
    expect(problems((await receive(twice).expect(422)).body)).toEqual([
      [
        'more',
        'Hooks: 50 pieces was ordered and 100 pieces would have come: is this another delivery? Tick the box if so.',
      ],
    ]);
    await receive({ ...twice, more: 'yes' }).expect(200);
    expect(await onHand(ids.hooks)).toEqual(['100 pieces', '€19.00']);
  });

  it('says what is wrong with a row, in its field', async () => {
    const lines = await sent();
    const rows = [
      { line_id: lines.dye, lot: 'M 7' },
      { line_id: lines.dye, put_ups: '1', amount: '5 g' },
      { line_id: lines.dye, amount: 'some' },
    ];
    expect(problems((await receive({ supplies: rows }).expect(422)).body)).toEqual([
      ['supplies.0.amount', 'Or another amount: enter how many put-ups came, or an amount.'],
      ['supplies.1.amount', 'Or another amount: enter how many came or an amount, not both.'],
      ['supplies.2.amount', expect.stringMatching(/^Or another amount: /)],
    ]);
    expect(problems((await receive({}).expect(422)).body)).toEqual([
      ['pieces', 'Give at least one of the pieces.'],
    ]);
    const cost = await house
      .send('/orders/P1/receipts?see=cost', {
        share_by: 'value',
        supplies: [{ line_id: lines.dye, put_ups: '1' }],
      })
      .expect(200);
    expect(cost.body.landed.supplies).toEqual([
      { name: 'Madder', amount: '100 g', cost: '€8.40', perUnit: '€84.00 a kilogram' },
    ]);
  });
});
