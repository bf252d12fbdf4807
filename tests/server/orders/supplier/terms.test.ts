import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
});
afterEach(() => house.shut());

const TERMS = {
  currency: 'EUR',
  discount: '10',
  cut_fee: '2.50',
  freight: '6',
  free_from: '80',
  tax: '20',
  tax_is: 'reclaimed',
  least_order: '60',
  least_order_length: '12',
  least_line: '20.00',
  least_line_length: '3 yd',
};

const setTerms = (more: object = {}, status = 200) =>
  house.send('/orders/suppliers/1/terms', { ...TERMS, ...more }).expect(status);

const line = (more: object) => ({
  cloth_id: String(stock.clothId),
  shade_id: String(stock.shadeId),
  ...more,
});

/** 8 m cut at €5.00: 40.00, less 10 % 36.00, a cut fee of 2.50, freight 6.00, tax 20 % of 44.50. */
const order = (more: object = {}, lines: object[] = [line({ length: '8', price: '5' })]) =>
  house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines, ...more }).expect(200);

describe('the terms of a supplier', () => {
  it('are said in short sentences and stand in the form as they were typed', async () => {
    await setTerms();
    const { body } = await house.data('/orders/suppliers/1').expect(200);
    expect(body.terms).toEqual([
      'Sells in EUR.',
      'Trade discount of 10 % off the list price.',
      'Each length cut off the bolt costs €2.50 more.',
      'Least order: €60.00 and 12 m.',
      'Least of each cloth and shade: €20.00 and ≈ 2.75 m.',
      'Freight is €6.00 an order, free from €80.00 of goods.',
      'Tax of 20 % is added to goods, cut fees and freight; it is reclaimed, so it is not a cost.',
    ]);
    expect(body.termsFields).toMatchObject({
      discount: { value: '10' },
      cut_fee: { value: '2.50' },
      tax_is: { value: 'reclaimed' },
      least_order_length: { value: '12 m' },
      least_line_length: { value: '3 yd' },
    });
  });

  it('are refused at their fields, with what was typed kept', async () => {
    const refused = await house
      .submit('/orders/suppliers/1/terms', {
        ...TERMS,
        discount: '101',
        cut_fee: '1,500',
        least_order: '0',
        least_line_length: '0',
        tax_is: 'paid',
      })
      .expect(422);
    for (const kept of ['101', '1,500']) expect(refused.text).toContain(`value="${kept}"`);
    const problemsOf = async (wrong: object) => {
      const { body } = await setTerms(wrong, 422);
      return body.error.problems.map(({ field }: { field: string }) => field);
    };
    const outOfBounds = { discount: '101', tax_is: 'paid', least_line_length: '0' };
    expect(await problemsOf(outOfBounds)).toEqual(Object.keys(outOfBounds));
    // What is read in the currency that the form names is read once the rest is right.
    const amounts = { cut_fee: '1,500', least_order: '0' };
    expect(await problemsOf(amounts)).toEqual(Object.keys(amounts));
  });
});

describe('an order by these terms', () => {
  it('comes to what a pencil says, on its page and in its list', async () => {
    await setTerms();
    await order();
    const { body } = await house.data('/orders/P1').expect(200);
    expect(body.onTop).toMatchObject({
      goods: '€40.00',
      discount: '−€4.00',
      discountRate: '10 %',
      cutFees: '€2.50',
      freight: '€6.00',
      tax: '€8.90',
      taxReclaimed: true,
    });
    expect(body.total).toBe('€53.40');
    const list = await house.page('/orders/P1/lines.csv').expect(200);
    expect(list.text).toContain('P1,Copper Sheers,,discount,,,,,,-4.00,EUR');
    expect(list.text).toContain('P1,Copper Sheers,,cut fees,,,,,,2.50,EUR');
  });

  it('keeps what it was drafted by, and takes other figures where they are typed', async () => {
    await setTerms();
    await order({ discount: '0', cut_fee: '0', tax_is: 'cost' });
    await setTerms({ discount: '50' });
    const { body } = await house.data('/orders/P1').expect(200);
    expect(body.onTop).toMatchObject({ discount: '', cutFees: '', taxReclaimed: false });
    expect(body.total).toBe('€55.20');
    const form = await house.data('/orders/P1/edit').expect(200);
    expect(form.body.fields).toMatchObject({ discount: { value: '0' }, tax_is: { value: 'cost' } });
  });

  it('says as a draft by how much it is below the minimum, and what it would take', async () => {
    await setTerms();
    await order({}, [line({ length: '2', price: '5' })]);
    const { body } = await house.data('/orders/P1').expect(200);
    // 10.00 less 10 % are 9.00. 51.00 are missing: at 4.50 a metre 11.34 m, so 11.4 m. 10 m are missing of the 12 m.
    // Of the line 11.00 are missing: 2.45 m, so 2.5 m; and 0.75 m of three yards (2.7432 m), so 80 cm.
    const name = `${body.lines[0].clothName}, ${body.lines[0].chip.name}`;
    expect(body.misses).toEqual([
      `The order is €51.00 below the least order of €60.00: 11.4 m more of ${name} (€51.30) would reach it.`,
      `The order is 10 m below the least order of 12 m: 10 m more of ${name} (€45.00) would reach it.`,
      `${name} is €11.00 below the €20.00 that is sold at least of a cloth and shade: 2.5 m more of ${name} (€11.25) would reach it.`,
      `${name} is ≈ 0.75 m below the ≈ 2.75 m that is sold at least of a cloth and shade: 0.8 m more of ${name} (€3.60) would reach it.`,
    ]);
    const page = await house.page('/orders/P1/sendings').expect(200);
    expect(page.text).toContain('Below the minimum');
    await house.send('/orders/P1/sendings', {}).expect(200);
    expect((await house.data('/orders/P1')).body.misses).toEqual([]);
  });
});

describe('the basket by these terms', () => {
  const basket = (length: string) =>
    house.data(
      `/orders/basket?${new URLSearchParams(Object.entries(line({ length })).map(([name, text]) => [`needs.0.${name}`, String(text)]))}`,
    );

  it('counts discount and cut fee, leaves reclaimed tax out, and says what misses the minimum', async () => {
    await setTerms({ least_order: '100', least_order_length: '', least_line: '', least_line_length: '' });
    const prices = { price_per: 'm', step: '10 cm', prices: [{ length: '', price: '5' }] };
    await house.send('/orders/suppliers/1/offers/new', { ...line({}), ...prices }).expect(200);
    const { body } = await basket('8').expect(200);
    // 36.00 + 2.50 + 6.00. Twice the need would be 72.00, which is the most that is bought for a minimum.
    expect(body.basket).toMatchObject({ total: '€44.50' });
    const name = body.basket.sellers[0].lines[0].cloth;
    expect(body.basket.sellers).toMatchObject([
      {
        goods: '€40.00',
        discount: '−€4.00',
        cutFees: '€2.50',
        freight: '€6.00',
        tax: '',
        reclaimed: '20 %',
        misses: [
          `The order is €64.00 below the least order of €100.00: 14.3 m more of ${name} (€64.35) would reach it.`,
        ],
      },
    ]);
    const page = await house.page(`/orders/basket?needs.0.cloth_id=1&needs.0.shade_id=1&needs.0.length=8`);
    expect(page.status).toBe(200);
    // 15 m are 67.50 and reach it with 22.3 m, which is less than twice as much.
    const { body: reached } = await basket('15');
    expect(reached.basket.sellers).toMatchObject([
      {
        goods: '€111.50',
        misses: [],
        lines: [{ notes: ['A shorter length would not reach the least that Copper Sheers sells.'] }],
      },
    ]);
  });
});

describe('what came by these terms', () => {
  it('keeps the parts of its cost apart, which add up to the invoice', async () => {
    await setTerms();
    await order({}, [line({ length: '8', price: '5' }), line({ bolts: '1', length: '12', price: '50' })]);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body: form } = await house.data('/orders/P1/receipts').expect(200);
    expect(form.fields).toMatchObject({
      cut_fees: { value: '2.50' },
      freight: { value: '' },
      tax: { value: '20 %' },
      tax_is: { value: 'reclaimed' },
    });
    const [cut, bolt] = form.lines.map(({ id }: { id: number }) => String(id));
    const came = {
      cut_fees: '2.50',
      freight: '7.00',
      tax: '20 %',
      tax_is: 'cost',
      share_by: 'length',
      pieces: [
        { line_id: cut, length: '8' },
        { line_id: bolt, length: '12' },
      ],
    };
    // 40 + 50 less 10 % = 81.00; with 2.50 and 7.00 90.50; tax 18.10; 108.60 in all. Freight by 8 : 12 is 2.80 and 4.20.
    // Tax on 36 + 2.50 + 2.80 = 41.30 and 45 + 4.20 = 49.20: 8.26 and 9.84.
    const seen = await house.send('/orders/P1/receipts?see=cost', came).expect(200);
    expect(seen.body.landed).toMatchObject({
      goods: '€81.00',
      discount: '€9.00',
      cutFees: '€2.50',
      freight: '€7.00',
      tax: '€18.10',
      total: '€108.60',
      reclaimed: '',
      pieces: [{ cost: '€49.56' }, { cost: '€59.04' }],
    });
    await house.send('/orders/P1/receipts', came).expect(200);
    const { body: receipt } = await house.data('/shelf/receipts/1').expect(200);
    expect(receipt.cost).toBe('€108.60');
    expect(receipt.parts).toEqual([
      { name: 'Cloth', cost: '€81.00' },
      { name: 'Cut fees', cost: '€2.50' },
      { name: 'Freight, shared by length', cost: '€7.00' },
      { name: 'Tax', cost: '€18.10' },
    ]);
    const list = await house.page('/setup/lists/out/delivered.csv').expect(200);
    expect(list.text).toContain('8 m,49.56,36.00,2.50,2.80,8.26,0.00,length,EUR');
    expect(list.text).toContain('12 m,59.04,45.00,0.00,4.20,9.84,0.00,length,EUR');
  });

  it('carries no tax that is reclaimed, which stands beside it', async () => {
    await setTerms();
    await order();
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body: form } = await house.data('/orders/P1/receipts');
    const pieces = [{ line_id: String(form.lines[0].id), length: '8' }];
    const came = { cut_fees: '2.50', freight: '6', tax: '20 %', tax_is: 'reclaimed', pieces };
    await house.send('/orders/P1/receipts', came).expect(200);
    const { body: receipt } = await house.data('/shelf/receipts/1').expect(200);
    expect(receipt.cost).toBe('€44.50');
    expect(receipt.parts.at(-1)).toEqual({ name: 'Tax to reclaim, in no cost', cost: '€8.90' });
    const page = await house.page('/shelf/receipts/1').expect(200);
    expect(page.text).toContain('Tax to reclaim');
  });
});
