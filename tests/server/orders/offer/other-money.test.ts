import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeStock, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Dune Silks', lead_days: '12' }).expect(200);
});
afterEach(() => house.shut());

describe('a supplier whose money has three digits (ISO 4217: KWD)', () => {
  it('is bought from in bolts by the yard, and what came costs what was paid at the rate', async () => {
    const cloth = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) };
    const terms = { currency: 'KWD', rate: '3.25', freight: '1.250', tax: '5' };
    await house.send('/orders/suppliers/1/terms', terms).expect(200);
    const bolts = [
      ['10', '6.000'],
      ['30', '15.000'],
      ['40', '18.500'],
      ['50', '22.000'],
      ['100', '40.000'],
    ].map(([yards, price]) => ({ length: `${yards} yd`, price }));
    await house.send('/orders/suppliers/1/offers/new', { ...cloth, price_per: 'yd', bolts }).expect(200);
    const need = { ...cloth, length: '38' };
    const asked = Object.fromEntries(Object.entries(need).map(([name, text]) => [`needs.0.${name}`, text]));
    const { body } = await house.data(`/orders/basket?${new URLSearchParams(asked)}`).expect(200);
    // 38 m are 41.6 yd. 50 yd at 22.000 are less than 40 and 10 yd at 24.500. With freight 23.250; 5 % of it are
    // 1.1625, so 1.163; 24.413 dinars at 3.25 euros are 79.34225.
    expect(body.basket).toMatchObject({ total: '€79.34', totalMinor: 7934, proved: true });
    expect(body.basket.second.total).toBe('€87.87');
    const [seller] = body.basket.sellers;
    expect(seller).toMatchObject({ home: '€79.34 at 3.25' });
    expect(seller.tax).toContain('1.163');
    await house.send('/orders/basket', { needs: [need], total_minor: '7934' }).expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body: form } = await house.data('/orders/P1/receipts').expect(200);
    expect(form.fields).toMatchObject({ freight: { value: '1.250', unit: 'KWD' }, tax: { value: '5 %' } });
    expect(form.lines[0].awaited).toMatch(/^1 bolt of 50 yd/);
    const came = {
      pieces: [{ line_id: String(form.lines[0].id), length: '45.5' }],
      freight: '1.250',
      tax: '5 %',
    };
    const { body: seen } = await house.send('/orders/P1/receipts?see=cost', came).expect(200);
    expect(seen.landed).toMatchObject({
      home: '€79.34 at 3.25',
      total: '€79.34',
      pieces: [{ cost: '€79.34' }],
    });
    await house.send('/orders/P1/receipts', came).expect(200);
    const costs = house.book.all(house.book.db.selectFrom('piece').select('cost_minor'));
    expect(costs).toEqual([{ cost_minor: 7934 }]);
    const none = await house.send('/orders/P1/receipts?see=cost', { ...came, freight: '1.2505' }).expect(422);
    expect(none.body.error.problems).toMatchObject([{ field: 'freight' }]);
  });
});
