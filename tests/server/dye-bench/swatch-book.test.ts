import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { swatchBookPage } from '../../../server/dye-bench/swatch-book/page.ts';
import { openTestHouse, type TestHouse } from '../support.ts';
import { addVessel, keepRecipe, makeOrganza, makeShade, recipeFields } from './recipe/making.ts';

let house: TestHouse;
const recipes: number[] = [];
let lotId: number;
beforeAll(async () => {
  house = await openTestHouse();
  const shades = house.write((tx) => [makeShade(tx, 'Moss'), makeShade(tx, 'Amber')]);
  ({ lotId } = house.write((tx) => makeOrganza(tx)));
  for (const [at, shade] of shades.entries())
    recipes.push(await keepRecipe(house, { ...recipeFields(shade), name: `Recipe ${at + 1}` }));
  await addVessel(house, 'Small pot', '5');
});
afterAll(() => house.shut());

type Book = ReturnType<typeof swatchBookPage>['data'];
const book = async (by = ''): Promise<Book> =>
  (await house.data(`/dye-bench/swatch-book${by === '' ? '' : `?by=${by}`}`).expect(200)).body;
const codesOf = ({ groups }: Book) =>
  groups.map(({ name, swatches }) => [name, swatches.map(({ code }) => code)]);

/** A job of one swatch, and its colour. */
async function dye(recipe: number, lab: string): Promise<string> {
  const { body } = await house
    .send('/dye-bench/swatches/new', {
      lot_id: String(lotId),
      mass: '5',
      lab_ratio: '1:20',
      bulk_ratio: '1:20',
      swatches: [{ recipe_id: String(recipe), depth: '' }],
    })
    .expect(200);
  const page = (await house.data(body.location)).body;
  const [l = '', a = '', b = ''] = lab.split(' ');
  const colour = lab === '' ? {} : { l, a, b, viewing: 'D65/10' };
  await house
    .send(`${body.location}/results`, {
      swatch_id: page.result.swatch_id.options.at(-1).value,
      verdict: 'approved',
      seen_by: lab === '' ? 'eye' : 'instrument',
      light: 'daylight',
      state: 'dry',
      note: 'In the tin.',
      ...colour,
    })
    .expect(200);
  return body.location.split('/').at(-1);
}

describe('the swatch book', () => {
  it('says what comes into it while it is empty', async () => {
    expect((await house.page('/dye-bench/swatch-book')).text).toContain('No swatch is in the book yet.');
  });

  it('has every swatch by shade, by cloth, by job, and as a wall by hue', async () => {
    const [moss = 0, amber = 0] = recipes;
    const green = await dye(moss, '44 -30 30');
    const yellow = await dye(amber, '76 5 60');
    const grey = await dye(amber, '50 1 1');
    const unread = await dye(moss, '');
    const of = (...jobs: string[]) => jobs.map((job) => `${job}.1`).sort();
    const byShade = await book();
    expect(byShade.count).toBe('4 swatches');
    expect(codesOf(byShade).map(([name, codes]) => [name, [...(codes as string[])].sort()])).toEqual([
      ['Amber', of(yellow, grey)],
      ['Moss', of(green, unread)],
    ]);
    expect((await book('cloth')).groups).toHaveLength(1);
    expect(codesOf(await book('batch'))).toEqual(
      [green, yellow, grey, unread].map((job) => [job, [`${job}.1`]]),
    );
    expect(codesOf(await book('hue'))).toEqual([
      ['Yellows', [`${yellow}.1`]],
      ['Greens', [`${green}.1`]],
      ['Greys, white and black', [`${grey}.1`]],
      ['Not read yet', [`${unread}.1`]],
    ]);
    const swatch = byShade.groups[1]?.swatches.find(({ code }) => code === `${green}.1`);
    expect(swatch).toMatchObject({
      chip: { name: 'Moss', colour: expect.stringMatching(/^#/) },
      colour: 'L* 44.0, a* −30.0, b* 30.0 (D65, 10°)',
      verdict: 'approved',
      note: 'In the tin.',
    });
  });

  it('says of a swatch that was not read that no colour is recorded, and has room to staple it to', async () => {
    const { text } = await house.page('/dye-bench/swatch-book?by=hue');
    expect(text).toContain('no colour recorded');
    expect(text.match(/class="book-staple"/g)).toHaveLength(4);
  });
});
