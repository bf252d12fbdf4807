import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
});
afterEach(() => house.shut());

const line = (more: object) => ({
  cloth_id: String(stock.clothId),
  shade_id: String(stock.shadeId),
  ...more,
});
const draft = (lines: object[], more: object = {}, status = 200) =>
  house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines, ...more }).expect(status);

/** Sends order P1; gives the numbers of its lines. */
async function sent(): Promise<string[]> {
  await house.send('/orders/P1/sendings', {}).expect(200);
  const { body } = await house.data('/orders/P1/receipts').expect(200);
  return body.lines.map(({ id }: { id: number }) => String(id));
}

describe('the numbers of a supplier’s papers', () => {
  it('stand on the order and the delivery, which are found by them', async () => {
    await draft([line({ length: '8', price: '5' })], { supplier_number: 'CS-1' });
    expect((await house.data('/orders/P1/edit')).body.fields.supplier_number.value).toBe('CS-1');
    const [id] = await sent();
    await house.send('/orders/P1/numbers', { supplier_number: 'CS-20418' }).expect(200);
    expect((await house.page('/orders/P1')).text).toContain('CS-20418');
    expect((await house.page('/orders/P1/sheet')).text).toContain('CS-20418');
    await house
      .send('/orders/P1/receipts', { invoice_number: 'INV-1', pieces: [{ line_id: id, length: '8' }] })
      .expect(200);
    expect((await house.page('/orders/P1/receipts')).text).toContain('Nothing more is due.');
    await house.send('/shelf/receipts/1/numbers', { invoice_number: 'INV-7731' }).expect(200);
    expect((await house.page('/shelf/receipts/1')).text).toContain('INV-7731');
    expect((await house.page('/find?code=cs-20418').expect(303)).headers.location).toBe('/orders/P1');
    expect((await house.page('/find?code=inv-7731').expect(303)).headers.location).toBe('/shelf/receipts/1');
    await house.page('/find?code=INV-1').expect(404);
    const long = 'x'.repeat(61);
    expect((await house.submit('/orders/P1/numbers', { supplier_number: long }).expect(422)).text).toContain(
      long,
    );
    const refused = await house.submit('/shelf/receipts/1/numbers', { invoice_number: long }).expect(422);
    expect(refused.text).toContain(long);
    await house.send('/shelf/receipts/9/numbers', { invoice_number: 'x' }).expect(404);
  });
});

describe('what is asked of a lot', () => {
  it('stands on the printed order, is asked about on receipt, and keeps the answer', async () => {
    await draft([
      line({ length: '8', lot: 'one' }),
      line({ length: '4', lot: String(stock.lotId) }),
      line({ length: '2' }),
    ]);
    const { body: form } = await house.data('/orders/P1/edit').expect(200);
    expect(form.fields.lines.map((row: { lot: { value: string } }) => row.lot.value).slice(0, 3)).toEqual([
      'one',
      String(stock.lotId),
      '',
    ]);
    const sheet = await house.page('/orders/P1/sheet').expect(200);
    expect(sheet.text).toContain('all of one lot, to match');
    const ids = await sent();
    const { body: receive } = await house.data('/orders/P1/receipts').expect(200);
    expect(receive.lines.map(({ lot }: { lot: unknown }) => lot !== null)).toEqual([true, true, false]);
    await house
      .send('/orders/P1/receipts', {
        pieces: [
          { line_id: ids[0], length: '8' },
          { line_id: ids[1], length: '4' },
        ],
        lots: [
          { line_id: ids[0], met: 'yes' },
          { line_id: ids[1], met: 'no' },
        ],
      })
      .expect(200);
    const { body } = await house.data('/orders/P1').expect(200);
    expect(body.lines.map(({ lotMet }: { lotMet: string }) => lotMet)).toEqual([
      'as asked',
      'not as asked',
      '',
    ]);
    expect((await house.page('/orders/P1')).text).toContain('not as asked');
    const lot = house.book.first(
      house.book.db.selectFrom('lot').select('code').where('id', '=', stock.lotId),
    );
    const { body: list } = await house.data('/setup/lists/out/orders.json').expect(200);
    expect(
      list.map((row: Record<string, string>) => [
        row['Lot asked'],
        row['Lot to match'],
        row['Came as asked'],
      ]),
    ).toEqual([
      ['one', '', 'yes'],
      ['one', lot?.code, 'no'],
      ['', '', ''],
    ]);
  });

  it('is not asked of a lot of another cloth, nor answered where nothing was asked', async () => {
    const other = house.write((tx) => makeStock(tx));
    const refused = await draft([line({ length: '8', lot: String(other.lotId) })], {}, 422);
    expect(refused.body.error.problems).toMatchObject([{ field: 'lines.0.lot' }]);
    await draft([line({ length: '8' })]);
    const [id] = await sent();
    const came = { pieces: [{ line_id: id, length: '8' }], lots: [{ line_id: id, met: 'yes' }] };
    await house.send('/orders/P1/receipts', came).expect(404);
  });
});

describe('the prices of a delivery', () => {
  const offers = async () => (await house.data('/orders/suppliers/1').expect(200)).body.offers;

  it('become offers in one tap, in the place of what was asked for as much', async () => {
    const prices = {
      step: '10 cm',
      bolts: [{ length: '30', price: '171' }],
      prices: [
        { length: '', price: '6.80' },
        { length: '10', price: '6.20' },
      ],
    };
    await house
      .send('/orders/suppliers/1/offers/new', { ...line({}), price_per: 'm', ...prices })
      .expect(200);
    await draft([line({ length: '8', price: '7' }), line({ bolts: '2', length: '50', price: '260' })]);
    const [cut, bolt] = await sent();
    const pieces = [
      { line_id: cut, length: '8' },
      { line_id: bolt, length: '49.8' },
    ];
    await house.send('/orders/P1/receipts', { pieces }).expect(200);
    expect((await house.page('/shelf/receipts/1')).text).toContain('Keep these prices as offers');
    await house.send('/orders/offers/of-receipts/1', {}).expect(200);
    const [offer] = await offers();
    expect(offer.putUps).toEqual([
      'bolt of 30 m €171.00 (€5.70 a metre)',
      'bolt of 50 m €260.00 (€5.20 a metre)',
      'by the length €7.00 a metre, cut every 10 cm',
      'from 10 m €6.20 a metre',
    ]);
    const { body: again } = await house.data(offer.again).expect(200);
    expect(again.fields.prices[0]).toMatchObject({ price: { value: '7.00' } });
    expect(again.fields.bolts[1]).toMatchObject({ length: { value: '50 m' }, price: { value: '260.00' } });
  });

  it('of what was not ordered are those of whole pieces', async () => {
    const pieces = [{ ...line({}), kind: 'bolt', length: '12', price: '60' }];
    await house.send('/shelf/receipts', { supplier_id: '1', freight: '6', pieces }).expect(200);
    await house.send('/orders/offers/of-receipts/1', {}).expect(200);
    expect((await offers())[0].putUps).toEqual(['bolt of 12 m €60.00 (€5.00 a metre)']);
  });

  it('are refused where there are none, nobody sells, or in other money', async () => {
    const pieces = [{ ...line({}), kind: 'bolt', length: '12', price: '60' }];
    await house.send('/shelf/receipts', { supplier_id: '', pieces }).expect(200);
    await house.send('/orders/offers/of-receipts/1', {}).expect(409);
    await house
      .send('/shelf/receipts', { supplier_id: '1', pieces: [{ ...pieces[0], price: '' }] })
      .expect(200);
    await house.send('/orders/offers/of-receipts/2', {}).expect(409);
    await house.send('/shelf/receipts', { supplier_id: '1', pieces }).expect(200);
    await house.send('/orders/suppliers/1/terms', { currency: 'GBP', rate: '1.17', tax: '0' }).expect(200);
    const refused = await house.send('/orders/offers/of-receipts/3', {}).expect(409);
    expect(refused.body.error.message).toContain('sells in GBP now');
    await house.send('/orders/offers/of-receipts/9', {}).expect(404);
  });
});

describe('a cloth’s supplier', () => {
  it('fills who delivers it', async () => {
    house.write((tx) =>
      tx.run(tx.db.updateTable('cloth').set({ supplier_id: 1 }).where('id', '=', stock.clothId)),
    );
    const { body } = await house.data(`/shelf/receive?cloth=${stock.clothId}`);
    const page =
      body.fields ?? (await house.data(`/shelf/receive?cloth=${stock.clothId}`).redirects(2)).body.fields;
    expect(page.supplier_id.value).toBe('1');
  });
});
