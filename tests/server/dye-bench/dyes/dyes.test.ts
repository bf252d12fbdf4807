import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { typedIn } from '../../shelf/furnished.ts';
import { openTestHouse, type TestHouse } from '../../support.ts';
import { keepRecipe, makeShade, recipeFields } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const FERN = {
  name: 'Fern A',
  dye_class: 'acid-levelling',
  strength: '150',
  lot: 'F-12',
  price: '12.50',
  price_for: '100 g',
  label_notes: 'Set at 40 °C.',
};

const dyes = async () => (await house.data('/dye-bench/dyes')).body.dyes;

describe('the workroom’s own dyes', () => {
  it('are asked for where there is none', async () => {
    const { text } = await house.page('/dye-bench/dyes').expect(200);
    expect(text).toContain('No dye is on the list.');
  });

  it('tell what a gram costs: 12.50 for 100 g is 0.125', async () => {
    await house.submit('/dye-bench/dyes', FERN).expect(303);
    expect(await dyes()).toMatchObject([
      {
        name: 'Fern A',
        dyeClass: 'Levelling acid dye',
        strength: '150 %',
        lot: 'F-12',
        perGram: '0.125 EUR',
      },
    ]);
  });

  it.each([
    [{ name: '' }, 'name'],
    [{ dye_class: 'lake' }, 'dye_class'],
    [{ strength: '0' }, 'strength'],
    [{ price_for: '' }, 'price_for'],
    [{ price: '' }, 'price'],
    [{ price_for: '0 g' }, 'price_for'],
  ])('refuse %j at its field and keep what was typed', async (changed, field) => {
    const answer = await house.submit('/dye-bench/dyes', { ...FERN, ...changed });
    expect(answer.status).toBe(422);
    expect(answer.text).toContain(`id="f-${field}-error"`);
    expect(answer.text).toContain('Set at 40 °C.');
    expect(await dyes()).toEqual([]);
  });

  it('have names of their own, are changed for the next lot, put away and taken back', async () => {
    await house.submit('/dye-bench/dyes', FERN).expect(303);
    const again = await house.submit('/dye-bench/dyes', FERN);
    expect([again.status, again.text.includes('There is a dye Fern A already, on the list.')]).toEqual([
      422,
      true,
    ]);
    const [{ href }] = await dyes();
    await house.submit(href, { ...FERN, lot: 'F-13' }).expect(303);
    expect(await dyes()).toMatchObject([{ name: 'Fern A', lot: 'F-13' }]);
    await house.submit(`${href}/put-aways`, {}).expect(303);
    expect(await dyes()).toEqual([]);
    expect((await house.submit(`${href}/put-aways`, {})).status).toBe(409);
    await house.submit(`${href}/take-backs`, {}).expect(303);
    expect(await dyes()).toHaveLength(1);
  });

  it('are offered to recipes of their class, tell their label there, and are refused to another class', async () => {
    await house.submit('/dye-bench/dyes', FERN).expect(303);
    const moss = house.write((tx) => makeShade(tx, 'Moss'));
    const form = await house.data('/dye-bench/recipes/new?fibre=nylon&dye_class=acid-levelling');
    expect(form.body.fields.dyes[0].name.suggest).toEqual(['Fern A']);
    expect(
      (await house.data('/dye-bench/recipes/new?fibre=polyester&dye_class=disperse')).body.fields.dyes[0].name
        .suggest,
    ).toEqual([]);
    const id = await keepRecipe(house, recipeFields(moss));
    const { body } = await house.data(`/dye-bench/recipes/${id}`);
    expect(body.lines[0]).toMatchObject({
      name: 'Fern A',
      source: 'lot F-12; 150 % of the maker’s standard; Set at 40 °C.',
    });
    const other = { name: 'Moss again', dye_class: 'acid-milling', 'dyes.0.name': 'Fern A' };
    const refused = await house.submit('/dye-bench/recipes/new', recipeFields(moss, other));
    expect(refused.status).toBe(422);
    expect(refused.text).toContain(
      'Fern A is on your list as a levelling acid dye, and this recipe is for milling acid dye.',
    );
  });
});

describe('the balance and the measures', () => {
  const bench = async () => (await house.data('/dye-bench/vessels')).body.bench;

  it('are 0.01 g, pipettes and 5 % until others are written down', async () => {
    expect(typedIn(await bench())).toEqual({ balance: '0.01', measures_with: 'pipette', off: '5' });
    await house
      .submit('/dye-bench/balance', { balance: '0.1 g', measures_with: 'piston', off: '2 %' })
      .expect(303);
    expect(typedIn(await bench())).toEqual({ balance: '0.1', measures_with: 'piston', off: '2' });
    const { body } = await house.data('/dye-bench/vessels');
    // 2 × 0.0579 g ÷ 2 %.
    expect(body).toMatchObject({ off: '2 %', least: expect.stringMatching(/5\.79/) });
    expect((await house.data('/dye-bench/quick')).body.balance).toBe('0.1 g');
  });

  it('are refused where nothing measures so, with what was typed kept', async () => {
    const typed = { balance: '0', measures_with: 'eye', off: '0.1' };
    const answer = await house.submit('/dye-bench/balance', typed).expect(422);
    for (const words of ['Give its step from 0.001 g to 100 g.', 'enter 0.5 % or more', 'value="0.1"']) {
      expect(answer.text).toContain(words);
    }
    expect(typedIn(await bench()).off).toBe('5');
  });
});

describe('a vessel', () => {
  it('is changed: what it is made of, what it weighs and what heats it', async () => {
    await house.submit('/dye-bench/vessels', { name: 'Pot', volume: '2.5 US gal' }).expect(303);
    const [{ href }] = (await house.data('/dye-bench/vessels')).body.vessels;
    const fitted = {
      name: 'Pot',
      volume: '10',
      material: 'aluminium',
      empty: '1.2',
      heater: '2 kW',
      heater_kind: 'gas',
      note: '',
    };
    await house.submit(href, fitted).expect(303);
    const { vessels } = (await house.data('/dye-bench/vessels')).body;
    expect(vessels).toMatchObject([
      {
        volumeMl: 10_000,
        emptyMg: 1_200_000,
        watts: 2000,
        fittings: 'Aluminium, 1.2 kg empty, gas burner 2 kW',
      },
    ]);
    const refused = await house.submit(href, { ...fitted, heater_kind: '' });
    expect([refused.status, refused.text.includes('Say what kind of heater it is')]).toEqual([422, true]);
  });
});

describe('which dye for which fibre', () => {
  it('tells every pair with where it comes from, and sealed work as the commission dyer’s', async () => {
    const { body } = await house.data('/dye-bench/fibres');
    expect(body.fibres).toHaveLength(18);
    for (const fibre of body.fibres) {
      for (const row of [...fibre.dyes, ...fibre.ways]) expect(row.source).not.toBe('');
    }
    const { text } = await house.page('/dye-bench/fibres').expect(200);
    expect(text.match(/Commission dyer only/g)).toHaveLength(3);
  });
});
