import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeStock, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
const paths: string[] = [];
beforeAll(async () => {
  house = await openTestHouse();
  const stock = house.write((tx) => makeStock(tx));
  const cloth = { cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) };
  await house.send('/orders/suppliers', { name: 'A <b>bold</b> "mill" & more', lead_days: '5' }).expect(200);
  await house
    .send('/orders/suppliers/1/terms', { currency: 'JPY', rate: '0.006', freight: '800', tax: '10' })
    .expect(200);
  const prices = {
    ...cloth,
    price_per: 'yd',
    step: '1/8 yd',
    bolts: [{ length: '50', price: '30000' }],
    prices: [{ length: '', price: '700' }],
  };
  await house.send('/orders/suppliers/1/offers/new', prices).expect(200);
  const line = { ...cloth, bolts: '2', length: '50', price: '30000' };
  await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines: [line] }).expect(200);
  await house.send('/orders/P1/sendings', {}).expect(200);
  const { body } = await house.data('/orders/P1/receipts');
  const pieces = [{ line_id: String(body.lines[0].id), mill_lot: '7', length: '50; 48' }];
  await house.send('/orders/P1/receipts', { pieces }).expect(200);
  const found = { marked: '50', length: '48', width: '150', swatch_area: '100', swatch_mass: '0.3' };
  const flaws = [{ from: '3', length: '30', hole: 'yes', left: '40', what: 'tear' }];
  await house.send('/shelf/pieces/B2/inspections', { ...found, flaws }).expect(200);
  await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines: [line] }).expect(200);
  const needs = `needs.0.cloth_id=${cloth.cloth_id}&needs.0.shade_id=${cloth.shade_id}&needs.0.length=38`;
  paths.push('/orders', '/orders/rules', '/orders/suppliers', '/orders/suppliers/1', '/orders/offers/1');
  paths.push(
    '/orders/suppliers/1/offers/new',
    '/orders/suppliers/1/offers/new?like=1',
    '/orders/basket',
    '/orders/shopping',
    '/orders/shopping?from=short',
  );
  paths.push(`/orders/basket?${needs}`, `/orders/basket?${needs}&needed_by=2026-03-03`, '/orders/P1');
  paths.push('/orders/P1/sheet', '/orders/P1/receipts', '/orders/P2/edit', '/orders/P2/sheet');
  paths.push('/shelf/receipts/1', '/shelf/receipts/1/claim', '/shelf/receive');
  paths.push('/shelf/pieces/B1/inspections', '/shelf/pieces/B2/inspections');
});
afterAll(() => house.shut());

const validator = new HtmlValidate({
  extends: ['html-validate:standard'],
  rules: {
    'doctype-style': 'off',
    'no-trailing-whitespace': 'off',
    'void-style': ['error', { style: 'omit' }],
  },
});

describe('the pages of buying', () => {
  it('are valid HTML and escape what was typed', async () => {
    for (const path of paths) {
      const page = await house.page(path);
      const report = await validator.validateString(page.text);
      const faults = report.results.flatMap(({ messages }) => messages.map(({ message }) => message));
      expect([path, page.status, faults]).toEqual([path, 200, []]);
      expect(page.text).not.toContain('<b>bold</b>');
      expect(page.text).not.toMatch(/\bundefined\b|\bNaN\b/);
    }
  });

  it('book what came at the rate of the order', () => {
    // A bolt is 30000 yen; at 0.006 euros for a yen that is 180.00.
    const costs = house.book.all(house.book.db.selectFrom('piece').select('cost_minor'));
    expect(costs.map(({ cost_minor }) => cost_minor)).toEqual([18_000, 18_000]);
  });
});
