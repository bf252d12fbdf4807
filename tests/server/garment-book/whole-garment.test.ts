import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeGarment, makeTierOf, pageOf, stockOf } from '../garments/making.ts';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
let stock: ReturnType<typeof stockOf>;
let code: string;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
  code = await makeGarment(house);
  // 14.25 m of flat band: 10 strips of 60 cm off a cloth of 147 cm are 6 m.
  await makeTierOf(house, code, stock, { fullness: '15', depth: '60' });
  for (const name of ['Bolt Yard', 'Cut Lane']) await house.send('/orders/suppliers', { name }).expect(200);
  const terms = { currency: 'EUR', freight: '9', tax: '0', least_order: '60' };
  await house.send('/orders/suppliers/1/terms', terms).expect(200);
});
afterEach(() => house.shut());

const whole = async () => (await pageOf(house, code)).whole;

const offer = (supplier: number, prices: object) =>
  house
    .send(`/orders/suppliers/${supplier}/offers/new`, {
      cloth_id: String(stock.clothId),
      price_per: 'm',
      ...prices,
    })
    .expect(200);
const bolts = (...of: [length: string, price: string][]) => of.map(([length, price]) => ({ length, price }));

it('says of each cloth and shade that nobody offers it yet, and what it comes to', async () => {
  expect(await whole()).toMatchObject({
    rows: [{ length: '6 m', dyed: '', bought: null }],
    noOffer: 1,
    total: '',
  });
  expect((await house.page(`/garments/${code}`)).text).toContain('no offer yet');
});

it('says how many bolts of each put-up it comes to, by the cheapest offer, freight and least orders aside', async () => {
  // 4 + 2 m for 24.00; two of 4 m 30.00, three of 2 m 27.00; cut it is 6 m for 25.20.
  await offer(1, { bolts: bolts(['4', '15'], ['2', '9']) });
  await offer(2, { prices: [{ length: '', price: '4.20' }], step: '10 cm' });
  const found = await whole();
  expect(found).toMatchObject({
    rows: [
      {
        bought: {
          putUps: ['1 bolt of 4 m €15.00', '1 bolt of 2 m €9.00'],
          supplier: { name: 'Bolt Yard' },
          left: 'nothing',
          cost: '€24.00',
        },
      },
    ],
    noOffer: 0,
    total: '€24.00',
  });
  // The basket is asked for the same, and goes where freight and the least order make it cheapest.
  const basket = (await house.data(found?.basket ?? '')).body.basket;
  expect(basket).toMatchObject({ total: '€25.20', sellers: [{ name: 'Cut Lane' }] });
});

it('counts what is to be dyed undyed, all shades of a cloth together', async () => {
  const shade = async (name: string, ground: string) => {
    const { body } = await house.send('/shelf/shades/new', { name, ground }).expect(200);
    return /\d+/.exec(body.location)?.[0] ?? '';
  };
  const [plain, dusk] = [await shade('Plain', 'yes'), await shade('Dusk', '')];
  await makeTierOf(
    house,
    code,
    { ...stock, shadeId: Number(dusk) },
    { name: 'Tier 2', drop: '40', fullness: '3', depth: '30' },
  );
  await offer(1, { shade_id: plain, bolts: bolts(['5', '15']) });
  const { needs } = await pageOf(house, code);
  expect(needs.map(({ length }) => length)).toEqual(['6 m', '1.2 m']);
  expect((await whole())?.rows).toMatchObject([
    {
      chip: { name: 'Plain' },
      dyed: expect.stringMatching(/^Shade \d+ and Dusk$/),
      length: '7.2 m',
      bought: { putUps: ['2 bolts of 5 m €30.00'], left: '2.8 m' },
    },
  ]);
});
