import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openTestHouse, type Stock, type TestHouse } from '../../support.ts';
import { makeGarment, makeTierOf, pageOf, stockOf, tierOfPage, workedOf } from '../making.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

/** A form as wide all the way down; the ratios of the sources hold in any unit, so centimetres stand for inches. */
async function straight(girth: string): Promise<string> {
  return makeGarment(house, {
    girths: [
      { drop: '0', girth },
      { drop: '100', girth },
    ],
  });
}

/** The flat length that the page of a garment shows for a tier, in centimetres. */
async function flatOf(code: string, name: string): Promise<number> {
  const got = workedOf(await tierOfPage(house, code, name)).figures[0]?.got ?? '';
  return Number(/[\d.]+(?= cm$)/.exec(got)?.[0]);
}

describe('what the page shows meets what was published', () => {
  it('for the eight tiers of a square-dance petticoat, within one of its inches (docslides.com, 2014 class)', async () => {
    const published = [46, 59, 76, 98, 125, 161, 206, 264];
    const code = await straight('46');
    let above = 0;
    for (const [place, length] of published.entries()) {
      const name = `Tier ${place + 1}`;
      // From 46 to 264 in seven steps is 1.2834 a step; short strips without seams keep their rounding out of it.
      const ratio = place === 0 ? { fullness: '1' } : { fullness: '1.283', ratio_tier_id: String(above) };
      const tier = { name, drop: String(place), depth: '10', seam: '0', strip_length: '0.1', ...ratio };
      above = await makeTierOf(house, code, stock, tier);
      expect(Math.abs((await flatOf(code, name)) - length)).toBeLessThanOrEqual(1);
    }
  });

  it('for flounces of 1⅓ and 1½ of the one above (1907 petticoat, tudorlinks.com): 108, 144, 216, and two more', async () => {
    const code = await straight('108');
    const flounces = [
      ['Wide flounce', '1 1/3', 144],
      ['Lower flounce', '1 1/2', 216],
      ['Third', '1 1/3', 288],
      ['Fourth', '1 1/2', 432],
    ] as const;
    let above = 0;
    for (const [name, fullness, length] of flounces) {
      const hung = above === 0 ? { drop: '0' } : { drop: '', hangs: `edge-${above}` };
      const strips = { depth: '10', seam: '0', strip_length: '12' };
      above = await makeTierOf(house, code, stock, { name, fullness, ...hung, ...strips });
      expect(await flatOf(code, name)).toBe(length);
    }
  });

  it('for oval hoops of half axes 20 and 15, 10 and 5, 5 and 1 (their perimeters by numerical integration)', async () => {
    const girths = [
      { drop: '0', width: '10', depth: '2' },
      { drop: '50', width: '20', depth: '10' },
      { drop: '100', width: '40', depth: '30' },
    ];
    const page = await pageOf(house, await makeGarment(house, { girths }));
    // 21.010045, 48.442241 and 110.517461.
    expect(page.girths.map(({ girth }) => /[\d.]+ cm/.exec(girth)?.[0])).toEqual([
      '21 cm',
      '48.4 cm',
      '110.5 cm',
    ]);
  });
});
