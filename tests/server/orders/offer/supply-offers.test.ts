import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let hooks: string;
beforeAll(async () => {
  house = await openTestHouse();
  await house.send('/orders/suppliers', { name: 'Pin Lane', lead_days: '3' }).expect(200);
  const { body } = await house.send('/supplies/new', { name: 'Hooks', kind: 'notion', measure: 'count' });
  hooks = /\d+$/.exec(body.location)?.[0] ?? '';
});
afterAll(() => house.shut());

const NEW = '/orders/suppliers/1/supply-offers/new';
const offer = (form: object) => house.send(NEW, { supply_id: hooks, ...form });
const problems = (body: { error: { problems: { field: string; message: string }[] } }) =>
  body.error.problems.map(({ field, message }) => [field, message]);

describe('an offer of a supply', () => {
  it('says its put-ups, their breaks, what one unit comes to and when it comes', async () => {
    const { body } = await offer({
      article: 'H 2',
      prices: [
        { put_up: 'card', amount: '12', price: '2.90' },
        { put_up: 'box', amount: '50', price: '8.50', from: '5' },
        { put_up: 'box', amount: '50 pcs', price: '9.80' },
      ],
    }).expect(200);
    expect(body.said).toBe('The prices of Pin Lane for Hooks are in the book.');
    const page = (await house.data('/orders/suppliers/1').expect(200)).body;
    expect(page.supplies.offers).toMatchObject([
      {
        supply: 'Hooks',
        article: 'H 2',
        leadDays: '3 days',
        putUps: [
          'box of 50 pieces €9.80 (€0.20 a piece)',
          'from 5: box of 50 pieces €8.50 (€0.17 a piece)',
          'card of 12 pieces €2.90 (€0.24 a piece)',
        ],
      },
    ]);
  });

  it('is followed by a newer one, and the older stays with its day', async () => {
    const [first] = (await house.data('/orders/suppliers/1')).body.supplies.offers;
    await offer({ from_on: '2026-04-01', prices: [{ amount: '100', price: '15' }] }).expect(200);
    const { supplies } = (await house.data('/orders/suppliers/1')).body;
    expect(supplies.offers).toEqual([first]);
    expect(supplies.aside).toEqual([]);
    const { history } = (await house.data(first.href)).body;
    expect(
      history.map(({ from, putUps }: { from: string; putUps: string[] }) => [from, putUps.length]),
    ).toEqual([
      ['1 Apr 2026', 1],
      ['2 Mar 2026', 3],
    ]);
    const again = await house.page(first.again).expect(200);
    expect(again.text).toContain('value="50 pcs"');
  });

  it('is refused with the field where a price, an amount or a number is wrong', async () => {
    expect(problems((await offer({}).expect(422)).body)).toEqual([
      ['prices', 'Give a price: what the put-up holds and what one costs.'],
    ]);
    const twice = { amount: '50', price: '9' };
    const rows = [
      twice,
      { put_up: 'box', ...twice },
      { amount: 'some', price: '1' },
      { amount: '0', price: '1' },
    ];
    const refused = problems((await offer({ prices: rows }).expect(422)).body);
    expect(refused).toEqual([
      ['prices.2.amount', expect.stringMatching(/^Holds: /)],
      ['prices.3.amount', 'Holds: enter more than nothing.'],
      ['prices.1.amount', 'There is a price for this put-up from this number already.'],
    ]);
    const page = await house
      .submit(NEW, { supply_id: hooks, 'prices.0.amount': 'some', 'prices.0.price': '1' })
      .redirects(1);
    expect(page.text).toContain('value="some"');
  });

  it('stands aside once it is withdrawn', async () => {
    await offer({ withdrawn: 'yes' }).expect(200);
    const { supplies } = (await house.data('/orders/suppliers/1')).body;
    expect(supplies.offers).toEqual([]);
    expect(supplies.aside).toMatchObject([{ supply: 'Hooks', withdrawn: false }]);
  });
});
