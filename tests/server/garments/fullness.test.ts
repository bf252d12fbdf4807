import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../support.ts';
import { makeGarment, makeTierOf, standingIn, stockOf, tierFields, tierOfPage, workedOf } from './making.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

// 95 cm × 2 1/3 is 221.667 cm: two strips of 110.82 cm, seams off, are 221.64 cm. At 2.333 × 95 cm = 221.635 they would do.
const SHORT = { fullness: '2 1/3', strip_length: '112.82', seam: '1' };

describe('a fullness that thousandths do not hold', () => {
  it('counts as it was typed, and is shown so', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, SHORT);
    const tier = workedOf(await tierOfPage(house, code));
    expect(tier.strips).toBe(3);
    expect(tier.figures[1]).toMatchObject({ label: 'Fullness', wanted: '2⅓×' });
    expect(tier.steps).toContainEqual(expect.stringMatching(/^95 cm girth × 2⅓ full = /));
  });

  it('stays what it is through the form and a copy', async () => {
    const code = await makeGarment(house);
    const id = await makeTierOf(house, code, stock, SHORT);
    const form = await house.data(`/garments/${code}/tiers/${id}`);
    const { fullness, version } = standingIn(form.body.fields);
    expect(fullness).toBe('2 1/3');
    const saved = await house.send(`/garments/${code}/tiers/${id}`, {
      ...tierFields(stock, { ...SHORT, name: 'Lowest' }),
      version,
    });
    expect(saved.status).toBe(200);
    expect(workedOf(await tierOfPage(house, code, 'Lowest')).strips).toBe(3);
    const copied = await house.send(`/garments/${code}/copies`, { name: 'Twin' });
    const twin = copied.body.location.split('/').at(-1);
    expect(workedOf(await tierOfPage(house, twin, 'Lowest')).strips).toBe(3);
  });

  it('is in thousandths where an older row has no more', async () => {
    const code = await makeGarment(house);
    const id = await makeTierOf(house, code, stock, SHORT);
    house.write((tx) => tx.run(tx.db.updateTable('tier').set({ typed: '{}' }).where('id', '=', id)));
    const tier = workedOf(await tierOfPage(house, code));
    expect([tier.strips, tier.figures[1]?.wanted]).toEqual([2, '2.333×']);
  });

  it('counts so in the quick tier too', async () => {
    const asked = { base: '300', closing: 'ring', fullness: '2 1/3', usable_width: '349.95', seam: '0' };
    const query = new URLSearchParams({ ...asked, cut_depth: '30', unit: 'cm' });
    const { body } = await house.data(`/garments/quick?${query}`);
    // 300 cm × 2 1/3 is 700 cm, and two strips of 349.95 cm are 699.9 cm.
    expect(body.result).toMatchObject({ strips: 3, fullnessWanted: '2⅓×' });
  });
});
