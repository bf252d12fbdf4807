import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { keepRecipe, makeShade, recipeFields, textsOf, versionFields } from './making.ts';

let house: TestHouse;
let moss: number;
let white: number;
beforeAll(async () => {
  house = await openTestHouse();
  moss = house.write((tx) => makeShade(tx, 'Moss'));
  white = house.write((tx) => makeShade(tx, 'White', 1));
});
afterAll(() => house.shut());

describe('a recipe', () => {
  it('is asked for where there is none', async () => {
    const { text } = await house.page('/dye-bench/recipes').expect(200);
    expect(text).toContain('No recipe is written down yet.');
    expect(text).toContain('href="/dye-bench/recipes/new"');
  });

  it('is kept as it was written, with every amount for a kilogram of cloth', async () => {
    const id = await keepRecipe(house, recipeFields(moss, { ph_from: '4', ph_to: '5.5', note: 'Dull day' }));
    const { body } = await house.data(`/dye-bench/recipes/${id}`).expect(200);
    expect(body).toMatchObject({
      name: 'Moss on nylon',
      version: 1,
      fibre: 'nylon',
      dyeClass: 'levelling acid dye',
      depth: '2 % owf',
      shrinkage: '2.5 %',
      bathPerKilogram: '20 L',
      note: 'Dull day',
    });
    // 1000 g: 2 % is 20 g, 0.5 % is 5 g; 20 L at 1 g/L are 20 g, at 1.0625 g/mL 18.8 mL (density from memory).
    expect(body.lines).toMatchObject([
      { name: 'Fern A', asked: '2 % owf', perKilogram: '20 g' },
      { name: 'Levelling agent', asked: '0.5 % owf', perKilogram: '5 g' },
      { name: 'Acetic acid, 56 % by mass', asked: '1 g/L', perKilogram: '20 g (≈ 18.82 mL)' },
    ]);
    expect(body.figures.map(({ label, value }: { label: string; value: string }) => [label, value])).toEqual([
      ['Liquor ratio', '1:20'],
      ['Temperature', '98 °C'],
      ['Hold', '45 min'],
      ['pH', '4 to 5.5'],
    ]);
  });

  it('has its cautions before its amounts, the label and the safety data sheet among them', async () => {
    const { text } = await house.page('/dye-bench/recipes/1').expect(200);
    const cautions = text.indexOf('Breathe in no dye dust');
    expect(cautions).toBeGreaterThan(0);
    expect(cautions).toBeLessThan(text.indexOf('20 g'));
    expect(text).toContain('Pour acid into water');
    expect(text).toContain('safety data sheet of each product outrank this page');
    expect(text).toContain('local rules for waste water');
  });

  it('is kept once however often the form is sent', async () => {
    const request_key = newKey();
    const fields = { request_key, ...recipeFields(moss, { name: 'Twice' }) };
    const first = await house.submit('/dye-bench/recipes/new', fields).expect(303);
    const second = await house.submit('/dye-bench/recipes/new', fields).expect(303);
    expect(second.headers.location).toBe(first.headers.location);
    const { body } = await house.data('/dye-bench/recipes');
    expect(body.recipes.filter(({ name }: { name: string }) => name === 'Twice')).toHaveLength(1);
  });

  it('is found by shade and fibre, and says so where none is', async () => {
    const found = await house.data(`/dye-bench/recipes?shade=${moss}&fibre=nylon`);
    expect(found.body.pager.total).toBe(2);
    const none = await house.page(`/dye-bench/recipes?fibre=silk`).expect(200);
    expect(none.text).toContain('No recipe matches these filters.');
  });

  it('is unknown by another number', async () => {
    await house.page('/dye-bench/recipes/999').expect(404);
    await house.page('/dye-bench/recipes/x').expect(404);
  });
});

describe('a reactive dye', () => {
  const onCotton = (changed: Record<string, string>) =>
    recipeFields(moss, { fibre: 'cotton', dye_class: 'reactive', ...changed });

  it('is worked by its group, chosen from those that are known; the heat follows', async () => {
    const asked = '/dye-bench/recipes/new?fibre=cotton&dye_class=reactive&method=dichlorotriazine';
    const { body } = await house.data(asked).expect(200);
    // 25 to 40 °C and pH 10 to 11: fibres2fabrics.blogspot.com, March 2011; faqs.tips.
    expect(textsOf(body.fields)).toMatchObject({
      method: 'dichlorotriazine',
      temperature: '40',
      ph_from: '10',
    });
    expect(body.fields.method.options.map(({ value }: { value: string }) => value)).toEqual([
      '',
      'dichlorotriazine',
      'vinyl sulphone or monofluorotriazine',
      'monochlorotriazine',
      'trichloropyrimidine',
    ]);
  });

  it('of one group on the list is not worked as another, unless the label says so', async () => {
    const dye = { name: 'Rust R', dye_class: 'reactive', method: 'dichlorotriazine' };
    await house.submit('/dye-bench/dyes', dye).expect(303);
    const method = 'monochlorotriazine';
    const fields = onCotton({ name: 'Rust', 'dyes.0.name': 'Rust R', method, temperature: '80' });
    const refused = await house.submit('/dye-bench/recipes/new', fields).expect(422);
    expect(refused.text).toContain('Rust R is on your list as dichlorotriazine');
    await keepRecipe(house, { ...fields, temperature_label: 'on' });
  });

  it('heats and cools by rates of the recipe, told with where they come from', async () => {
    const rates = { heat_rate: '0.5', cool_rate: '1.5 °C/min', rates_label: 'on' };
    const id = await keepRecipe(house, onCotton({ name: 'Slow rust', temperature: '60', ...rates }));
    const { body } = await house.data(`/dye-bench/recipes/${id}`).expect(200);
    expect(body.figures.slice(-2)).toEqual([
      { label: 'Heat by', value: '0.5 °C a minute', source: "from the maker's label" },
      { label: 'Cool by', value: '1.5 °C a minute', source: "from the maker's label" },
    ]);
    const none = await house
      .submit('/dye-bench/recipes/new', onCotton({ name: 'Never', heat_rate: '0' }))
      .expect(422);
    expect(none.text).toContain('0.1 to 10 °C a minute');
  });
});

describe('what cannot work', () => {
  const refusals: [string, Record<string, string>, string, RegExp][] = [
    ['acid dye on polyester', { fibre: 'polyester' }, 'dye_class', /disperse dye does/],
    ['disperse dye on cotton', { fibre: 'cotton', dye_class: 'disperse' }, 'dye_class', /reactive dye/],
    ['any dye on olefin', { fibre: 'olefin', dye_class: 'disperse' }, 'dye_class', /buy it in the shade/],
    ['400 % of dye', { 'dyes.0.owf': '400' }, 'dyes.0.owf', /20 %/],
    ['boiling silk', { fibre: 'silk' }, 'temperature', /85 °C at most/],
    ['130 °C in a pot', { temperature: '130' }, 'temperature', /commission dyer/],
    ['2 L of bath to a kilogram', { liquor_ratio: '2' }, 'liquor_ratio', /does not cover the cloth/],
    ['pH the wrong way round', { ph_from: '6', ph_to: '4' }, 'ph_from', /lower figure first/],
    [
      'a nameless other thing',
      { 'auxiliaries.4.what': 'other/as-sold', 'auxiliaries.4.amount': '1 g/L' },
      'auxiliaries.4.name',
      /Say what it is/,
    ],
  ];
  it.each(refusals)('%s is refused at its field with the reason', async (_, changed, field, reason) => {
    const fields = recipeFields(moss, { name: 'Never', ...changed });
    const answer = await house.submit('/dye-bench/recipes/new', fields).expect(422);
    expect(answer.text).toContain(`href="#f-${field.replaceAll('.', '-')}"`);
    const sent = await house.send('/dye-bench/recipes/new', fields).expect(422);
    expect(sent.body.error.problems).toContainEqual({ field, message: expect.stringMatching(reason) });
    const { body } = await house.data('/dye-bench/recipes');
    expect(body.recipes.map(({ name }: { name: string }) => name)).not.toContain('Never');
  });

  it('keeps what was typed and tells every field at once', async () => {
    const answer = await house
      .submit('/dye-bench/recipes/new', {
        ...recipeFields(moss),
        name: '',
        'dyes.0.owf': 'a lot',
        'auxiliaries.1.amount': '5',
        liquor_ratio: '1,500',
        hold: '45.5',
        shrinkage: '101 %',
      })
      .expect(422);
    for (const kept of ['a lot', '1,500', '45.5', '101 %']) expect(answer.text).toContain(`value="${kept}"`);
    expect(answer.text).toContain('Please fix 6 things');
    expect(answer.text).toContain('write 5 g/L, by the litre of bath, or 2 %, on weight of fabric');
  });

  it('tells a row by its own place where rows before it were left blank', async () => {
    const fields = recipeFields(moss, { name: 'Gaps', 'dyes.0.name': '', 'dyes.0.owf': '' });
    const gaps = { ...fields, 'dyes.2.name': 'Fern A', 'dyes.2.owf': '50' };
    const { body } = await house.send('/dye-bench/recipes/new', gaps).expect(422);
    expect(body.error.problems).toMatchObject([{ field: 'dyes.2.owf' }]);
  });

  it('asks for a shade that dyeing gives, and for a name of its own', async () => {
    const ground = await house
      .send('/dye-bench/recipes/new', recipeFields(white, { name: 'Blank' }))
      .expect(422);
    expect(ground.body.error.problems[0]).toMatchObject({ field: 'shade_id' });
    const same = await house.send('/dye-bench/recipes/new', recipeFields(moss)).expect(422);
    expect(same.body.error.problems[0]).toMatchObject({
      field: 'name',
      message: expect.stringContaining('new version'),
    });
  });
});

describe('a version', () => {
  it('follows the one before, which stays as it was', async () => {
    const first = await keepRecipe(house, recipeFields(moss, { name: 'Ivy' }));
    const form = await house.data(`/dye-bench/recipes/${first}/versions/new`).expect(200);
    expect(textsOf(form.body.fields)).toMatchObject({
      liquor_ratio: '1:20',
      temperature: '98',
      shrinkage: '2.5',
    });
    expect(textsOf(form.body.fields.dyes[0])).toMatchObject({ name: 'Fern A', owf: '2' });
    const fields = versionFields(moss, { 'dyes.0.owf': '2.25' });
    const answer = await house.send(`/dye-bench/recipes/${first}/versions/new`, fields).expect(200);
    const after = await house.data(answer.body.location);
    expect(after.body).toMatchObject({ name: 'Ivy', version: 2, depth: '2.25 % owf' });
    const before = await house.data(`/dye-bench/recipes/${first}`);
    expect(before.body).toMatchObject({ version: 1, depth: '2 % owf', newest: answer.body.location });
    const list = await house.data('/dye-bench/recipes');
    expect(list.body.recipes.filter(({ name }: { name: string }) => name === 'Ivy')).toMatchObject([
      { version: 2 },
    ]);
  });

  it('is refused once another follows, with the way to it', async () => {
    const first = await keepRecipe(house, recipeFields(moss, { name: 'Reed' }));
    const fields = versionFields(moss);
    const path = `/dye-bench/recipes/${first}/versions/new`;
    await house.submit(path, fields).expect(303);
    const late = await house.submit(path, { ...fields, 'dyes.0.owf': '3.125' }).expect(409);
    expect(late.text).toContain('Version 1 of Reed was followed by version 2 already');
    expect(late.text).toContain('The newer version of Reed');
    expect(late.text).toContain('value="3.125"');
  });
});
