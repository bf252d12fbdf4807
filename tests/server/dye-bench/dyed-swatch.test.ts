import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { newKey, type TestHouse } from '../support.ts';
import { type DyeHouse, openDyeHouse } from './dye-house.ts';

let dyes: DyeHouse;
let house: TestHouse;
let dyeIds: readonly number[];
beforeAll(async () => {
  dyes = await openDyeHouse(['Aster', 'Bracken', 'Clover']);
  ({ house, dyeIds } = dyes);
});
afterAll(() => house.shut());

const record: DyeHouse['record'] = (amounts, changed) => dyes.record(amounts, changed);

describe('a swatch to learn from', () => {
  const count = () => house.book.all(house.book.db.selectFrom('dyed_swatch').select('id')).length;

  it.each([
    ['unlevel work', { level: 'unlevel' }, 'level', /no one colour/],
    ['no colour', { l: '', a: '', b: '' }, 'l', /Enter the colour/],
    ['half a colour', { b: '' }, 'b', /all three/],
    ['a colour that is none', { l: '140' }, 'l', /0 to 100/],
    ['no light', { viewing: '' }, 'viewing', /Choose what the values are for/],
    ['no cloth', { cloth_id: '' }, 'cloth_id', /Choose a cloth/],
    ['no amount', { dyes: [{ dye_id: '1', owf: '0' }] }, 'dyes.0.owf', /more than 0/],
    ['a dye that is none', { dyes: [{ dye_id: '999', owf: '1' }] }, 'dyes.0.dye_id', /Choose a dye/],
    ['a dye twice', { dyes: ['1', '1'].map((dye_id) => ({ dye_id, owf: '1' })) }, 'dyes.1.dye_id', /already/],
  ])('with %s is refused at the field, and nothing is kept', async (_, changed, field, message) => {
    const before = count();
    const { body } = await record([0.3, 0, 0], changed).expect(422);
    expect(body.error.problems).toContainEqual({ field, message: expect.stringMatching(message) });
    expect(count()).toBe(before);
  });

  it('has dyes of one class', async () => {
    await house.submit('/dye-bench/dyes', { name: 'Drab', dye_class: 'disperse' }).expect(303);
    const drab = house.book.first(house.book.db.selectFrom('dye').select('id').where('name', '=', 'Drab'));
    const dyes = [dyeIds[0], drab?.id].map((id) => ({ dye_id: String(id), owf: '1' }));
    const { body } = await record([1, 0, 0], { dyes }).expect(422);
    expect(body.error.problems[0]).toMatchObject({ field: 'dyes.1.dye_id' });
  });

  it('of a fluorescent dye is not offered', async () => {
    const form = { name: 'Glow', dye_class: 'acid-levelling', fluorescent: 'yes' };
    await house.submit('/dye-bench/dyes', form).expect(303);
    const { text } = await house.page('/dye-bench/first-recipe/swatches').expect(200);
    expect(text).not.toContain('>Glow<');
  });

  it('is undone like any other deed, once', async () => {
    const key = newKey();
    await record([0.9, 0, 0], { request_key: key }).expect(200);
    const left = () =>
      house.book.all(house.book.db.selectFrom('dyed_swatch').select('id').where('undone_key', 'is', null))
        .length;
    const before = left();
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(left()).toBe(before - 1);
    await house.submit('/undo', { undoes: key }).expect(409);
  });

  it('can be taken out, once', async () => {
    const { body } = await record([0.7, 0, 0]).expect(200);
    const [, id] = /Swatch (\d+)/.exec(body.said) ?? [];
    const out = () => house.send('/dye-bench/first-recipe/take-outs', { swatch_id: String(id) });
    await out().expect(200);
    const { body: again } = await out().expect(422);
    expect(again.error.problems[0].field).toBe('swatch_id');
    expect(checkBook(house.book).findings).toEqual([]);
  });
});
