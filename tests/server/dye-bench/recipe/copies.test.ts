import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { keepRecipe, makeGround, makeShade, recipeFields, textsOf, versionFields } from './making.ts';

let house: TestHouse;
let moss: number;
let fern: number;
let source: number;
beforeAll(async () => {
  house = await openTestHouse();
  [moss, fern] = house.write((tx) => [makeShade(tx, 'Moss'), makeShade(tx, 'Fern')]);
  source = await keepRecipe(house, recipeFields(moss));
});
afterAll(() => house.shut());

/** The fields of a form as it is drawn, as a browser sends them back. */
function sentBack(body: { forWhat: { name: string; value: string }[]; fields: object }) {
  const rows = Object.entries(body.fields).flatMap(([, list]) =>
    Array.isArray(list)
      ? list.flatMap((row: object) =>
          Object.values(row).filter((field) => typeof field?.value === 'string' && !('checked' in field)),
        )
      : [],
  );
  const asked = [...body.forWhat, ...rows].map(({ name, value }) => [name, value]);
  return { ...textsOf(body.fields), ...Object.fromEntries(asked) };
}

describe('a version', () => {
  it('keeps the shade and the fibre of the one before, and is not asked for them', async () => {
    const path = `/dye-bench/recipes/${source}/versions/new`;
    const { body } = await house.data(path).expect(200);
    expect(body.forWhat).toEqual([]);
    expect(body.follows).toMatchObject({ fibre: 'nylon', chip: { name: 'Moss' } });
    const sneaked = await house.send(path, { ...versionFields(moss), shade_id: String(fern) }).expect(422);
    expect(sneaked.body.error.problems).not.toEqual([]);
    const other = await keepRecipe(house, recipeFields(moss, { name: 'Lichen' }));
    const kept = await house
      .send(`/dye-bench/recipes/${other}/versions/new`, versionFields(moss, { 'dyes.0.owf': '1.5' }))
      .expect(200);
    const after = await house.data(kept.body.location).expect(200);
    expect(after.body).toMatchObject({ chip: { name: 'Moss' }, fibre: 'nylon' });
    expect(after.body.made).toMatchObject({
      how: 'Follows version 1',
      changes: [{ what: 'Fern A', was: '2 % owf', now: '1.5 % owf' }],
    });
    // The next one starts from its own figures.
    const next = await house.data(`${kept.body.location}/versions/new`).expect(200);
    expect(textsOf(next.body.fields.dyes[0])).toMatchObject({ owf: '1.5' });
  });

  it('takes figures offered for its own fibre', async () => {
    const path = `/dye-bench/recipes/${source}/versions/new?dye_class=acid-milling&depth=dark`;
    const { body } = await house.data(path).expect(200);
    expect(body.notes[0].text).toContain('on nylon');
  });
});

describe('a copy', () => {
  it('for another shade has all its figures and says that the shade alone differs', async () => {
    const { body } = await house.data(`/dye-bench/recipes/${source}/copy?shade_id=${fern}`).expect(200);
    expect(body.copies.changes).toEqual([{ what: 'Shade', was: 'Moss', now: 'Fern', source: '' }]);
    const fields = sentBack(body);
    expect(fields).toMatchObject({ name: 'Fern on nylon', temperature: '98', 'dyes.0.name': 'Fern A' });
    const sent = await house
      .submit(`/dye-bench/recipes/${source}/copy`, { ...fields, 'dyes.0.owf': '1' })
      .expect(303);
    const { body: made } = await house.data(sent.headers.location ?? '');
    expect(made).toMatchObject({ name: 'Fern on nylon', version: 1, chip: { name: 'Fern' } });
    expect(made.made).toMatchObject({
      how: 'Copied from Moss on nylon, version 1',
      cloth: null,
      changes: [
        { what: 'Shade', was: 'Moss', now: 'Fern' },
        { what: 'Fern A', was: '2 % owf', now: '1 % owf' },
      ],
    });
    const before = await house.data(`/dye-bench/recipes/${source}`);
    expect(before.body.made).toBeNull();
  });

  it('for another fibre of the same class has the figures offered for that, each told', async () => {
    const { body } = await house.data(`/dye-bench/recipes/${source}/copy?fibre=silk`).expect(200);
    const fields = sentBack(body);
    expect(fields).toMatchObject({ fibre: 'silk', dye_class: 'acid-levelling', 'dyes.0.name': 'Fern A' });
    const changes: { what: string; was: string; now: string }[] = body.copies.changes;
    expect(changes).toContainEqual(expect.objectContaining({ what: 'Fibre', was: 'nylon', now: 'silk' }));
    // Silk is never worked at 98 °C: the offer stays below, and the list says so.
    const heat = changes.find(({ what }) => what === 'Temperature');
    expect(heat?.was).toBe('98 °C');
    expect(Number.parseInt(heat?.now ?? '', 10)).toBeLessThanOrEqual(90);
  });

  it('for a fibre that its class does not dye takes another class, and its dyes stay behind', async () => {
    const { body } = await house.data(`/dye-bench/recipes/${source}/copy?fibre=cotton`).expect(200);
    const fields = sentBack(body);
    expect(fields.dye_class).not.toMatch(/^acid/);
    expect(fields['dyes.0.name']).toBe('');
    const gone = { what: 'Fern A', was: '2 % owf', now: '', source: '' };
    expect(body.copies.changes).toContainEqual(gone);
    const path = `/dye-bench/recipes/${source}/copy`;
    const refused = await house.submit(path, { ...fields, hold: 'long' }).expect(422);
    expect(refused.text).toContain('The name of the dye');
    expect(refused.text).toContain('Shown once every figure can be read.');
  });

  it('for a cloth takes its fibre, checks all of its fibres and remembers it', async () => {
    const { clothId } = house.write((tx) =>
      makeGround(tx, { name: 'Silk and wool', content: { silk: 70, wool: 30 }, gramsPerM2: 60 }),
    );
    const path = `/dye-bench/recipes/${source}/copy`;
    const { body } = await house.data(`${path}?cloth_id=${clothId}`).expect(200);
    const fields = sentBack(body);
    expect(fields).toMatchObject({ fibre: 'silk', cloth_id: String(clothId) });
    expect(body.notes.at(-1).text).toContain('How much Silk and wool shrinks is its own');
    const wrong = await house.send(path, { ...fields, fibre: 'nylon' }).expect(422);
    expect(wrong.body.error.problems[0]).toMatchObject({
      field: 'fibre',
      message: 'The cloth has no nylon: choose one of its fibres.',
    });
    const sent = await house.submit(path, { ...fields, name: 'Moss on silk and wool' }).expect(303);
    const { body: made } = await house.data(sent.headers.location ?? '');
    expect(made.made.cloth).toMatchObject({ name: 'Silk and wool' });
  });

  it('is refused under a name that is taken, and of a recipe that there is not', async () => {
    const path = `/dye-bench/recipes/${source}/copy`;
    const { body } = await house.data(path).expect(200);
    const same = await house.send(path, { ...sentBack(body), name: 'Moss on nylon' }).expect(422);
    expect(same.body.error.problems[0]).toMatchObject({ field: 'name' });
    await house.page('/dye-bench/recipes/999/copy').expect(404);
  });
});
