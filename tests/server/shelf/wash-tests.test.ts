import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeGarment, makeTierOf, pageOf, problemsOf, stockOf } from '../garments/making.ts';
import { openTestHouse, type Stock, type TestHouse } from '../support.ts';

let house: TestHouse;
let stock: Stock;
beforeAll(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterAll(() => house.shut());

// 350 mm to 339.5 mm is −3 % by the formula of ISO 5077 (texfire.net).
const TEST = {
  treatment: 'Wash at 40 °C, dried flat',
  length_before: '35',
  length_after: '33.95',
  width_before: '35',
  width_after: '34.3',
  from: '147',
  follow: '',
};
const path = () => `/shelf/cloths/${stock.clothId}/wash-tests`;
const keep = (fields: object) => house.send(path(), { ...TEST, ...fields });
const tests = async () => (await house.data(path()).expect(200)).body.tests;

describe('a wash test', () => {
  it('is kept with what it changes, and leaves the strips alone unless they are to follow', async () => {
    expect((await house.page(path()).expect(200)).text).toContain('No test yet');
    const code = await makeGarment(house);
    // 200 cm of girth at 52.5 cm down, 2.9 times full: 580 cm are four strips of 147 cm less 2 cm of seams.
    await makeTierOf(house, code, stock, { drop: '52.5', fullness: '2.9' });
    const strips = async () => (await pageOf(house, code)).needs[0]?.strips;
    expect(await strips()).toBe(4);
    expect((await keep({})).status).toBe(200);
    expect(await strips()).toBe(4);
    const [first] = await tests();
    expect(first).toMatchObject({ along: '−3 %', across: '−2 %', isSet: false });
    // 10 m ÷ 0.97 = 10.31 m; 147 cm × 0.98 = 144.06 cm.
    expect(first.buy).toBe('≈ 10.31 m for 10 m');
    expect(first.width).toContain('would be left of 147 cm');

    expect((await keep({ follow: 'yes' })).status).toBe(200);
    expect(await strips()).toBe(5);
    const cloth = (await house.data(`/shelf/cloths/${stock.clothId}`).expect(200)).body;
    expect(cloth.usableWidth).toBe('≈ 144 cm');
    // Tested again it starts from the width before, not from what is left.
    const form = (await house.data(path()).expect(200)).body.fields;
    expect(form.from.value).toBe('147');
    // The form of the cloth says what is stored, so saving it again changes nothing.
    const edit = (await house.data(`/shelf/cloths/${stock.clothId}/edit`).expect(200)).body.fields;
    expect(edit.usable_width.value).toMatch(/^144[.]06/);
  });

  it('is refused at its fields', async () => {
    const before = (await tests()).length;
    expect(problemsOf(await keep({ treatment: '', width_after: '' }))).toHaveProperty('width_after');
    expect(problemsOf(await keep({ from: '900' }))).toHaveProperty('from');
    expect(problemsOf(await keep({ width_after: '70', follow: 'yes' }))).toHaveProperty('follow');
    expect(await tests()).toHaveLength(before);
    expect((await house.data('/shelf/cloths/999/wash-tests')).status).toBe(404);
  });
});
