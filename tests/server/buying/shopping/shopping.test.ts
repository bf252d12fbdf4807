import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeStock, makeTier, openTestHouse, type Stock, type TestHouse } from '../../support.ts';

let house: TestHouse;
let stock: Stock;

beforeEach(async () => {
  house = await openTestHouse();
  stock = house.write((tx) => makeStock(tx));
  await house.send('/orders/suppliers', { name: 'Copper Sheers', lead_days: '5' }).expect(200);
});
afterEach(() => house.shut());

const cloth = () => ({ cloth_id: String(stock.clothId), shade_id: String(stock.shadeId) });
const offer = (more: object) =>
  house
    .send('/orders/suppliers/1/offers/new', {
      ...cloth(),
      price_per: 'm',
      step: '10 cm',
      article: 'S 12',
      ...more,
    })
    .expect(200);

describe('the shopping list', () => {
  it('says that nothing is to be fetched, and where things to fetch come from', async () => {
    for (const [path, words] of [
      ['/orders/shopping', 'Nothing is to be bought.'],
      ['/orders/shopping?from=drafts', 'Nothing is drafted.'],
    ] as const) {
      const page = await house.page(path).expect(200);
      expect(page.text).toContain(words);
      expect(page.text).not.toContain('type="checkbox"');
    }
  });

  it('fetches what is short where it is cheapest, at the shop’s step, in one lot', async () => {
    house.write((tx) => makeTier(tx, stock));
    await offer({ prices: [{ length: '', price: '5' }] });
    const basket = await house.data('/orders/basket').expect(200);
    const { body } = await house.data('/orders/shopping').expect(200);
    expect(body).toMatchObject({ from: 'short', other: null, rest: [], leftOut: [] });
    expect(body.shops).toHaveLength(1);
    const [buys] = basket.body.basket.sellers[0].lines[0].buys;
    const [fetch] = body.shops[0].fetches;
    expect(fetch).toMatchObject({ article: 'S 12', lot: 'One lot: in one length, off one bolt.' });
    expect(fetch.width).toMatch(/^\d+ cm wide, \d+ cm usable at least$/);
    expect(fetch.lengths).toEqual([
      {
        what: buys.split(' cut ')[0],
        price: '€5.00 a metre',
        cost: basket.body.basket.sellers[0].lines[0].cost,
      },
    ]);
    expect(body.shops[0].goods).toBe(fetch.lengths[0].cost);
    const page = await house.page('/orders/shopping').expect(200);
    expect(page.text.match(/type="checkbox"/g)).toHaveLength(1);
    const linked = [await house.page('/short'), await house.page('/orders')];
    for (const { text } of linked) expect(text).toContain('href="/orders/shopping');
  });

  it('names what nobody offers', async () => {
    house.write((tx) => makeTier(tx, stock));
    const { body } = await house.data('/orders/shopping').expect(200);
    expect(body.shops).toEqual([]);
    expect(body.rest).toHaveLength(1);
    // Three strips of 32 cm are 96 cm; a shop cuts 1 m.
    expect(body.rest[0].lengths[0].what).toBe('1 m or more');
    expect((await house.page('/orders/shopping')).text).toContain('No offer is known');
  });

  it('follows the drafts once there are any, and adds what they do not bring', async () => {
    house.write((tx) => makeTier(tx, stock));
    const lines = [
      { ...cloth(), bolts: '2', length: '0.1', price: '30' },
      { ...cloth(), length: '0.2', price: '' },
    ];
    await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines }).expect(200);
    const { body } = await house.data('/orders/shopping').expect(200);
    expect(body).toMatchObject({ from: 'drafts', shops: [{ order: { code: 'P1' }, goods: '€60.00' }] });
    expect(body.shops[0].fetches).toMatchObject([
      {
        lengths: [
          { what: '2 bolts of 0.1 m', price: '€30.00 a bolt', cost: '€60.00' },
          { what: '0.2 m', price: '', cost: '' },
        ],
        lot: 'All of one lot: look at the lot on every bolt.',
      },
    ]);
    expect(body.rest[0].lengths[0].what).toContain(', of which the drafts have 0.4 m');
    await house.send('/orders/P1/sendings', {}).expect(200);
    expect((await house.data('/orders/shopping')).body.from).toBe('short');
  });

  it('leaves nothing out that is short, though a basket holds 25 lines', async () => {
    house.write((tx) => {
      for (let count = 0; count < 26; count += 1) makeTier(tx, makeStock(tx));
      return null;
    });
    expect((await house.data('/orders/shopping')).body.rest).toHaveLength(26);
    const basket = await house.page('/orders/basket').expect(200);
    expect(basket.text).toContain('One more line is short than a basket holds.');
  });
});
