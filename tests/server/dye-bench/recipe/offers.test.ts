import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { keepRecipe, makeShade, recipeFields, textsOf } from './making.ts';

let house: TestHouse;
let moss: number;
beforeAll(async () => {
  house = await openTestHouse();
  moss = house.write((tx) => makeShade(tx, 'Moss'));
});
afterAll(() => house.shut());

const offer = async (query: string) => (await house.data(`/dye-bench/recipes/new?${query}`).expect(200)).body;
/** What stands in the rows of a list. */
const rowsOf = ({ fields }: { fields: Record<string, object[]> }, list: string) =>
  fields[list]?.map(textsOf) ?? [];

describe('offered figures', () => {
  // The figures and their sources are those of src/dye/starter-recipe.ts; here they are seen to reach the form.
  it.each([
    ['nylon', 'acid-levelling', '1:20', '98', 'tradetextile.com'],
    ['polyester', 'disperse', '1:30', '98', 'common practice for an open pot'],
    ['cotton', 'reactive', '1:20', '60', 'common practice for an open pot'],
    ['viscose', 'reactive', '1:20', '60', 'common practice for an open pot'],
    ['silk', 'acid-levelling', '1:30', '85', 'common practice for an open pot'],
    ['wool', 'acid-levelling', '1:30', '98', 'textileinformation.blogspot.com'],
  ])('fill the form in for %s', async (fibre, dyeClass, ratio, temperature, source) => {
    const form = await offer(`fibre=${fibre}`);
    expect(textsOf(form.fields)).toMatchObject({ dye_class: dyeClass, liquor_ratio: ratio, temperature });
    expect(form.fields.liquor_ratio.hint).toContain(source);
    for (const field of ['temperature', 'hold', 'ph_from', 'shrinkage']) {
      expect(form.fields[field].hint).not.toBe('');
    }
    expect(form.hints.dyes).not.toBe('');
    expect(form.hints.auxiliaries).not.toBe('');
    expect(rowsOf(form, 'auxiliaries').filter(({ amount }) => amount !== '').length).toBeGreaterThan(0);
  });

  it('take salt and soda from the table for reactive dye by depth', async () => {
    // Journal article hindawi.com jma/2016/9739380, table 2: 4 % owf takes 70 g/L of salt and 20 g/L of soda.
    const dark = await offer('fibre=cotton&dye_class=reactive&depth=dark');
    expect(rowsOf(dark, 'auxiliaries')).toMatchObject([
      { what: 'salt/as-sold', amount: '70 g/L' },
      { what: 'soda-ash/anhydrous', amount: '20 g/L' },
      { what: '' },
    ]);
    // The same table: 1.5 % takes 50 and 15 g/L. The dyes that are typed go before the depth that is chosen.
    const typed = await offer('fibre=cotton&dye_class=reactive&depth=dark&dyes.0.owf=1&dyes.1.owf=0.5');
    expect(rowsOf(typed, 'auxiliaries')).toMatchObject([
      { amount: '50 g/L' },
      { amount: '15 g/L' },
      { what: '' },
    ]);
  });

  it('offer vinegar as it is measured, and keep the same when it is saved as offered', async () => {
    // tradetextile.com, archive page 38365: acetic acid 1 % on nylon; vinegar has 50 g of it in a litre, so 10 g of
    // acid to the kilogram are 200 mL.
    const form = await offer('fibre=nylon&dye_class=acid-levelling');
    const [{ what = '', amount = '' } = {}] = rowsOf(form, 'auxiliaries');
    expect([what, amount]).toEqual(['acetic-acid/vinegar-5', '200 mL to 1 kg of cloth']);
    const recipeId = await keepRecipe(house, {
      ...recipeFields(moss, { name: 'As offered' }),
      'auxiliaries.0.what': what,
      'auxiliaries.0.amount': amount,
    });
    const { body } = await house.data(`/dye-bench/recipes/${recipeId}`);
    const line = body.lines.find(({ name }: { name: string }) => name.includes('inegar'));
    expect(line).toMatchObject({
      asked: '200 mL to 1 kg of cloth',
      source: expect.stringContaining('tradetextile.com'),
    });
    const polyester = await offer('fibre=polyester');
    expect(polyester.fields.auxiliaries[1].amount.value).toBe('20 mL/L');
  });

  it('are refused in mL for what is weighed, beside the amount', async () => {
    const fields = recipeFields(moss, { name: 'Salted', 'auxiliaries.0.what': 'salt/as-sold' });
    const { body } = await house
      .send('/dye-bench/recipes/new', { ...fields, 'auxiliaries.0.amount': '20 mL/L' })
      .expect(422);
    expect(body.error.problems).toEqual([
      { field: 'auxiliaries.0.amount', message: expect.stringContaining('so it is weighed') },
    ]);
  });

  it('keep names, dyes and note, and put every offered figure in the place of what was typed', async () => {
    const form = await offer(
      'fibre=silk&name=Rose&note=Soft&dyes.0.name=Madder&dyes.0.owf=0.75&temperature=40',
    );
    expect(form.forWhat[0]).toMatchObject({ name: 'name', value: 'Rose' });
    expect(textsOf(form.fields)).toMatchObject({ note: 'Soft', temperature: '85' });
    expect(textsOf(form.fields.dyes[0])).toMatchObject({ name: 'Madder', owf: '0.75' });
  });

  it('give more rows without touching what was typed', async () => {
    const form = await offer('fibre=silk&temperature=40&keep=typed&dyes.0.name=Madder&dyes.0.owf=1');
    expect(form.fields.temperature.value).toBe('40');
    expect(form.fields.dyes).toHaveLength(5);
  });

  it('say why nothing is offered, and what would work', async () => {
    const wrong = await offer('fibre=polyester&dye_class=acid-levelling');
    expect(wrong.notes).toMatchObject([{ kind: 'stop', text: expect.stringContaining('disperse dye does') }]);
    const never = await offer('fibre=glass');
    expect(never.notes).toMatchObject([
      { kind: 'stop', text: expect.stringContaining('no dye bath colours it') },
    ]);
    const pale = await offer('fibre=acrylic&dye_class=disperse');
    expect(pale.notes).toMatchObject([
      { kind: 'warn', text: expect.stringContaining('No figures are offered') },
    ]);
    expect(pale.fields.temperature.value).toBe('');
  });

  it('name 130 °C for polyester as work for a commission dyer and never fill it in', async () => {
    const form = await offer('fibre=polyester');
    expect(JSON.stringify(form.notes)).toContain('commission dyer');
    expect(form.fields.temperature.value).toBe('98');
  });
});

describe('where a figure comes from', () => {
  const sources = async (changed: Record<string, string>) => {
    const fields = {
      ...recipeFields(moss),
      liquor_ratio_label: '',
      name: `Recipe ${Object.keys(changed)} ${Object.values(changed)}`,
      ...changed,
    };
    const answer = await house.send('/dye-bench/recipes/new', fields).expect(200);
    const { body } = await house.data(answer.body.location);
    const of = (rows: { label?: string; name?: string; source: string }[]) =>
      Object.fromEntries(rows.map((row) => [row.label ?? row.name, row.source]));
    return { ...of(body.figures), ...of(body.lines) };
  };

  it('is that of the offer where it was left as it was offered', async () => {
    const found = await sources({ liquor_ratio: '20', hold: '45' });
    expect(found['Liquor ratio']).toBe('published: tradetextile.com, archive page 38365');
    expect(found.Hold).toBe('from memory');
    expect(found['Levelling agent']).toBe('published: tradetextile.com, archive page 38365');
  });

  it("is the workroom's own where it was changed", async () => {
    const found = await sources({ liquor_ratio: '25', 'auxiliaries.0.amount': '0.4 %' });
    expect(found['Liquor ratio']).toBe("this workroom's own");
    expect(found['Levelling agent']).toBe("this workroom's own");
    expect(found['Acetic acid, 56 % by mass']).toBe("this workroom's own");
  });

  it("is the maker's label where that is ticked, which goes before what is offered", async () => {
    const found = await sources({ temperature_label: 'yes', 'auxiliaries.1.label': 'yes' });
    expect(found.Temperature).toBe("from the maker's label");
    expect(found['Acetic acid, 56 % by mass']).toBe("from the maker's label");
  });

  it('lets the label go hotter than the offer, never hotter than the fibre stands', async () => {
    const silk = { fibre: 'silk', temperature: '93' };
    const own = await house
      .send('/dye-bench/recipes/new', recipeFields(moss, { name: 'Hot', ...silk }))
      .expect(422);
    expect(own.body.error.problems[0].message).toContain('Up to 95 °C where the label says so');
    const found = await sources({ ...silk, temperature_label: 'yes' });
    expect(found.Temperature).toBe("from the maker's label");
    const never = { ...silk, temperature: '97', temperature_label: 'yes', name: 'Hotter' };
    await house.send('/dye-bench/recipes/new', recipeFields(moss, never)).expect(422);
  });
});
