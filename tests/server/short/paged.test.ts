import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { KeptNeeds } from '../../../server/short/kept.ts';
import { makeGarment, makeTierOf, stockOf } from '../garments/making.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(async () => {
  vi.restoreAllMocks();
  await house.shut();
});

const needs = (body: { short: unknown[]; met: unknown[] }) => body.short.length + body.met.length;

describe('Short of many needs', () => {
  it('has twenty on a page, those that are short first, and tells of all of them', async () => {
    const [first, second] = [await makeGarment(house), await makeGarment(house)];
    const stocks = Array.from({ length: 12 }, () => stockOf(house));
    for (const stock of stocks)
      for (const code of [first, second])
        await makeTierOf(house, code, stock, { name: `Of ${stock.clothId}` });
    const others = Array.from({ length: 10 }, () => stockOf(house));
    for (const stock of others) await makeTierOf(house, second, stock, { name: `Of ${stock.clothId}` });
    const [met] = stocks;
    if (met) house.write((tx) => makeBolt(tx, met.lotId, '20 m'));

    const { body: one } = await house.data('/short');
    expect([one.short.length, one.met.length]).toEqual([20, 0]);
    expect(one.summary).toMatch(/ short, in 21 of 22 needs\.$/);
    expect(one.pager).toMatchObject({ from: 1, to: 20, total: 22, previous: null, next: '/short?page=2' });
    const { body: two } = await house.data('/short?page=2');
    expect([two.short.length, two.met.length]).toEqual([1, 1]);
    expect(two.summary).toBe(one.summary);
    expect(two.order).toBe('/orders/new?from=short');
    expect((await house.page('/short?page=2')).text).toContain('21–22 of 22 needs');

    // A garment's part and a cloth's are parts of the same list.
    const { body: ofFirst } = await house.data(`/short?garment=${first}`);
    expect([needs(ofFirst), ofFirst.pager.next]).toEqual([12, null]);
    const { clothId } = others[0] ?? { clothId: 0 };
    const { body: ofCloth } = await house.data(`/short?cloth=${clothId}`);
    expect([ofCloth.cloth, needs(ofCloth)]).toEqual([String(clothId), 1]);
    expect(ofCloth.summary).toMatch(/ short, in 1 of 1 need\.$/);
    expect(ofCloth.cloths).toHaveLength(1 + 22);
    const { body: ofBoth } = await house.data(`/short?garment=${first}&cloth=${clothId}`);
    // The cloth is not of this garment, so that it is not among what can be asked for.
    expect([ofBoth.cloth, needs(ofBoth)]).toEqual(['', 12]);
  });
});

describe('pages made from what is short', () => {
  it('say of how much the needs are still being worked out, and do not wait for it', async () => {
    const stock = stockOf(house);
    await makeTierOf(house, await makeGarment(house), stock);
    const read = KeptNeeds.prototype.read;
    const asking = vi.spyOn(KeptNeeds.prototype, 'read').mockImplementation(function (
      this: KeptNeeds,
      asked = {},
    ) {
      const found = read.call(this, asked);
      return asked.whole || asked.of ? found : { ...found, found: new Map(), waiting: 3 };
    });
    const paths = [
      '/orders/new?from=short',
      '/orders/basket',
      '/orders/shopping?from=short',
      '/orders/dye-or-buy',
    ];
    for (const path of paths) {
      const { body } = await house.data(path);
      expect([path, body.waiting]).toEqual([path, 3]);
      const { text } = await house.page(path).redirects(1);
      expect(text).toContain('What is needed of 3 cloths and shades is still being worked out.');
    }
    const { clothId, shadeId } = stock;
    asking.mockClear();
    const { body } = await house.data(`/orders/dye-or-buy?cloth=${clothId}&shade=${shadeId}`);
    expect([body.waiting, body.wanted.chip.name]).toEqual([0, body.short[0].chip.name]);
    // One need waits for its own cloth alone.
    expect(asking.mock.calls.length).toBeGreaterThan(0);
    for (const [asked] of asking.mock.calls) expect(asked?.of?.size).toBeGreaterThan(0);
  });
});
