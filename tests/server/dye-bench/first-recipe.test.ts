import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Tx } from '../../../server/database/book.ts';
import type { AgainPageData } from '../../../server/dye-bench/first-recipe/again-page.ts';
import type { ExpectedPageData } from '../../../server/dye-bench/first-recipe/expected-page.ts';
import type { FirstRecipePageData } from '../../../server/dye-bench/first-recipe/first-page.ts';
import { expectedShadePath, shadeAgainPath } from '../../../server/kit/paths.ts';
import type { Observer } from '../../../src/colour/colour-reading.ts';
import { deltaE00, type Lab } from '../../../src/colour/lab.ts';
import { someMixture } from '../../src/colour/prediction/dye-worlds.ts';
import { makeBolt, type TestHouse } from '../support.ts';
import { type DyeHouse, openDyeHouse, tenths, DYE_WORLD as world } from './dye-house.ts';
import { addVessel, keepRecipe, recipeFields } from './recipe/making.ts';

const DYES = ['Aster', 'Bracken', 'Clover'];
let dyes: DyeHouse;
let house: TestHouse;
let cloth: number;
let other: number;
let otherGround: number;
let lotId: number;
beforeAll(async () => {
  dyes = await openDyeHouse(DYES);
  ({ house, cloth, other, otherGround, lotId } = dyes);
});
afterAll(() => house.shut());

function idOfShade(name: string): number {
  return house.book.first(house.book.db.selectFrom('shade').select('id').where('name', '=', name))?.id ?? 0;
}

/** "L* 50.0, a* −1.0, b* 3.0" as figures. */
function labIn(said: string): Lab {
  const [l = 0, a = 0, b = 0] = [...said.replaceAll('−', '-').matchAll(/\* (-?[\d.]+)/g)].map(([, text]) =>
    Number(text),
  );
  return { l, a, b };
}

function makeWanted(tx: Tx, name: string, lab: Lab | null, observer: Observer = '10'): number {
  const colour = { lab_l: lab?.l ?? null, lab_a: lab?.a ?? null, lab_b: lab?.b ?? null };
  const values = { name, ground: 0 as const, ...colour, lab_how: lab ? ('instrument' as const) : null };
  return tx.run(tx.db.insertInto('shade').values({ ...values, lab_observer: observer })).lastId;
}

const record: DyeHouse['record'] = (amounts, changed) => dyes.record(amounts, changed);

async function first(shadeId: number | null, more = ''): Promise<FirstRecipePageData> {
  const shade = shadeId === null ? '' : `&shade_id=${shadeId}`;
  const { body } = await house.data(`/dye-bench/first-recipe?cloth_id=${cloth}${shade}${more}`).expect(200);
  return body;
}

describe('a first recipe', () => {
  let wanted: number;
  const target = world.shadeOf([0.6, 0.3, 0]);

  it('is refused step by step, with what to dye next', async () => {
    wanted = house.write((tx) => makeWanted(tx, 'Heath', target));
    expect((await first(wanted)).notYet?.text).toMatch(
      /no undyed swatch of Silk habotai on Silk habotai ground/,
    );
    await record([0, 0, 0]).expect(200);
    await record([1, 0, 0]).expect(200);
    const few = (await first(wanted)).notYet;
    expect(few?.text).toMatch(/No dye has 3 depths alone/);
    expect(few?.more).toEqual([expect.stringMatching(/^Aster: 1 of 3 depths alone/)]);
    expect((await first(wanted, '&ground_id=over')).notYet?.text).toMatch(
      /Dyeing over a colour is not predicted/,
    );
  });

  it('is a rough guess from single dyes, no nearer than 6', async () => {
    for (const dye of [0, 1, 2])
      for (const depth of [0.25, 1, 4])
        if (dye > 0 || depth !== 1) await record([0, 0, 0].with(dye, depth)).expect(200);
    const { found, doubts } = await first(wanted);
    expect(doubts[0]).toMatchObject({
      label: 'Rough guess',
      text: expect.stringMatching(/^0 mixtures are known/),
    });
    for (const { within } of found?.recipes ?? []) expect(Number(within)).toBeGreaterThanOrEqual(6);
    expect(found?.recipes.length).toBeGreaterThan(0);
  });

  it('comes with a band from mixtures, its cost, and dyed comes out within the band', async () => {
    for (let mixture = 0; mixture < 10; mixture++)
      await record(someMixture(world).map((each) => Math.round(each * 100) / 100)).expect(200);
    const { found, doubts, learned, leftOut } = await first(wanted);
    expect(doubts).toEqual([]);
    expect(leftOut).toEqual([]);
    expect(learned).toContain('1 undyed, 9 of one dye, 10 mixtures, read for D65, 10°');
    const [recipe] = found?.recipes ?? [];
    const amounts = DYES.map((name) =>
      Number.parseFloat(recipe?.dyes.find((dye) => dye.name === name)?.percent ?? '0'),
    );
    const really = deltaE00(world.shadeOf(amounts), target);
    expect(Number(recipe?.within)).toBeLessThan(6);
    expect(really).toBeLessThanOrEqual(Number(recipe?.within));
    // 1 % of a kilogram is 10 g, and 100 g cost 10 €.
    expect(recipe?.cost).toBe(`€${amounts.reduce((sum, each) => sum + each, 0).toFixed(2)}`);
  });

  it('leads to the recipe form, filled in', async () => {
    const { found } = await first(wanted);
    const write = found?.recipes[0]?.write ?? '';
    const { body } = await house.data(write).expect(200);
    expect(body.forWhat.map(({ value }: { value: string }) => value)).toEqual([
      'Heath on Silk habotai',
      String(wanted),
      'silk',
    ]);
    expect(body.fields.dyes[0]).toMatchObject({ name: { value: found?.recipes[0]?.dyes[0]?.name } });
    expect(body.fields.temperature.value).not.toBe('');
  });

  it('for a shade of the other observer says that it was turned', async () => {
    const two = house.write((tx) => makeWanted(tx, 'Moor', target, '2'));
    const { target: told } = await first(two);
    expect(told?.notes[0]).toMatch(/for the 2° observer, the swatches’ for 10°/);
  });

  it('leaves swatches of the other observer out, and says so', async () => {
    await record([0.5, 0.5, 0], { viewing: 'D65/2' }).expect(200);
    const { leftOut } = await first(wanted);
    expect(leftOut).toEqual([
      {
        why: expect.stringMatching(/2° and 10° are never mixed/),
        count: '1 swatch',
        names: expect.any(String),
      },
    ]);
  });

  it('says that a shade that these dyes do not reach is not reached', async () => {
    const far = house.write((tx) => makeWanted(tx, 'Signal', { l: 90, a: -60, b: 90 }));
    const { found } = await first(far);
    expect(found?.reached).toBe(false);
    const { text } = await house.page(`/dye-bench/first-recipe?cloth_id=${cloth}&shade_id=${far}`);
    expect(text).toContain('These dyes do not reach the shade');
  });

  it('wants a colour of the shade, in D65', async () => {
    const none = house.write((tx) => makeWanted(tx, 'Dream', null));
    const { text } = await house
      .page(`/dye-bench/first-recipe?cloth_id=${cloth}&shade_id=${none}`)
      .expect(200);
    expect(text).toContain('Dream has no colour yet');
  });

  it('on another cloth asks for one swatch of 1 % of each dye, and is a rough guess with them', async () => {
    const on = { cloth_id: String(other), ground_id: String(otherGround) };
    const path = `/dye-bench/first-recipe?cloth_id=${other}&shade_id=${wanted}`;
    const bare = await house.data(path).expect(200);
    expect(bare.body.notYet.more).toEqual(DYES.map((name) => `Then dye 1 % ${name}.`));
    await record([0, 0, 0], on).expect(200);
    const undyed = await house.data(path).expect(200);
    expect(undyed.body.notYet.text).toMatch(/Dye one swatch of 1 % of each on Silk chiffon first/);
    for (const dye of [0, 1]) await record([0, 0, 0].with(dye, 1), on).expect(200);
    const { body } = await house.data(path).expect(200);
    expect(body.doubts.map(({ label }: { label: string }) => label)).toEqual(['Rough guess', 'Not used']);
    for (const { within, dyes } of body.found.recipes) {
      expect(Number(within)).toBeGreaterThanOrEqual(6);
      expect(dyes.map(({ name }: { name: string }) => name)).not.toContain('Clover');
    }
  });
});

describe('a recipe of dyes that are known', () => {
  let recipeId: number;
  let swatchId: number;
  let job: string;
  const DYED = [0.5, 0.25, 0];
  const target = world.shadeOf([0.6, 0.3, 0]);

  it('says which shade to expect, and how near', async () => {
    const fields = recipeFields(idOfShade('Heath'), {
      name: 'Heath on silk',
      fibre: 'silk',
      'dyes.0.name': 'Aster',
      'dyes.0.owf': '0.5',
      'dyes.1.name': 'Bracken',
      'dyes.1.owf': '0.25',
      temperature: '85',
    });
    recipeId = await keepRecipe(house, fields);
    const { body } = await house.data(`${expectedShadePath(recipeId)}&cloth_id=${cloth}`).expect(200);
    const told: ExpectedPageData = body;
    const really = world.shadeOf(DYED);
    expect(deltaE00(labIn(told.shown?.lab ?? ''), really)).toBeLessThanOrEqual(Number(told.shown?.within));
    expect(told.shown?.nearest[0]?.chip.name).toBe('Heath');
    const deep = await house.data(`${expectedShadePath(recipeId)}&cloth_id=${cloth}&depth=3`).expect(200);
    expect(labIn(deep.body.shown.lab).l).toBeLessThan(really.l - 5);
    const page = await house.page(expectedShadePath(recipeId)).expect(200);
    expect(page.text).toContain('Likely within');
  });

  it('is not predicted with a fluorescent dye, and none that was put away is proposed', async () => {
    const form = { name: 'Glow', dye_class: 'acid-levelling', fluorescent: 'yes' };
    await house.submit('/dye-bench/dyes', form).expect(303);
    const glowing = { name: 'Lit', fibre: 'silk', temperature: '85', 'dyes.0.name': 'Glow' };
    const id = await keepRecipe(house, recipeFields(idOfShade('Heath'), glowing));
    const { body } = await house.data(`${expectedShadePath(id)}&cloth_id=${cloth}`).expect(200);
    expect(body.notYet.text).toMatch(/^Glow: fluorescent/);
    const bracken = dyes.dyeIds[1];
    await house.submit(`/dye-bench/dyes/${bracken}/put-aways`, {}).expect(303);
    const { found } = await first(idOfShade('Heath'));
    const used = found?.recipes.flatMap((recipe) => recipe.dyes.map(({ name }) => name));
    expect(used).not.toContain('Bracken');
    await house.submit(`/dye-bench/dyes/${bracken}/take-backs`, {}).expect(303);
  });

  it('asks for a dye that is not known on the cloth', async () => {
    const unknown = recipeFields(idOfShade('Heath'), { name: 'Odd', fibre: 'silk', temperature: '85' });
    const id = await keepRecipe(house, unknown);
    const { body } = await house.data(`${expectedShadePath(id)}&cloth_id=${cloth}`).expect(200);
    expect(body.notYet.text).toMatch(/^Fern A: not known on Silk habotai/);
  });

  it('is corrected from a trial that was read: as the target differs, less what may be an error', async () => {
    house.write((tx) => makeBolt(tx, lotId, '5 m'));
    const planned = await house
      .send('/dye-bench/swatches/new', {
        lot_id: String(lotId),
        mass: '5',
        lab_ratio: '1:20',
        bulk_ratio: '1:20',
        swatches: [{ recipe_id: String(recipeId), depth: '' }],
      })
      .expect(200);
    job = planned.body.location;
    const { body } = await house.data(job).expect(200);
    swatchId = Number(body.result.swatch_id.options.at(-1).value);
    const unread: AgainPageData = (
      await house.data(shadeAgainPath({ kind: 'swatch', id: swatchId })).expect(200)
    ).body;
    expect(unread.stop?.text).toMatch(/not read yet/);
    const { l, a, b } = world.shadeOf(DYED);
    const seen = {
      verdict: 'adjusted',
      seen_by: 'instrument',
      light: 'daylight',
      state: 'dry',
      note: 'Too pale.',
    };
    await house
      .send(`${job}/results`, {
        swatch_id: String(swatchId),
        ...seen,
        viewing: 'D65/10',
        l: tenths(l),
        a: tenths(a),
        b: tenths(b),
      })
      .expect(200);
    const again: AgainPageData = (
      await house.data(shadeAgainPath({ kind: 'swatch', id: swatchId })).expect(200)
    ).body;
    const next = again.next?.correction;
    const [aster = 0, bracken = 0] = (next?.rows ?? []).map(({ now }) => Number.parseFloat(now));
    expect(Number.parseFloat(next?.share ?? '')).toBeGreaterThan(80);
    expect(deltaE00(world.shadeOf([aster, bracken, 0]), target)).toBeLessThan(
      deltaE00(world.shadeOf(DYED), target) / 2,
    );
    const version = await house.data(next?.write ?? '').expect(200);
    expect(
      version.body.fields.dyes.slice(0, 2).map((row: { owf: { value: string } }) => Number(row.owf.value)),
    ).toEqual([aster, bracken]);
    expect(version.body.fields.temperature.value).toBe('85');
  });

  it('is corrected from a photo of both together before readings of each, by their difference alone', async () => {
    const [trial, wanted] = [world.shadeOf(DYED), target];
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('pair_judgement').values({
          lot_id: null,
          swatch_id: swatchId,
          to_lot_id: null,
          to_swatch_id: null,
          to_shade_id: idOfShade('Heath'),
          how: 'photo',
          verdict: null,
          delta_centi: Math.round(100 * deltaE00(trial, wanted)),
          uncertainty_centi: 100,
          diff_l: trial.l - wanted.l,
          diff_a: trial.a - wanted.a,
          diff_b: trial.b - wanted.b,
          light: 'daylight',
          state: 'dry',
          at: tx.at,
          person_id: tx.personId,
          request_key: tx.requestKey,
        }),
      ),
    );
    const again: AgainPageData = (
      await house.data(shadeAgainPath({ kind: 'swatch', id: swatchId })).expect(200)
    ).body;
    expect(again.next).toMatchObject({ how: expect.stringMatching(/^From one photo/), uncertainty: '1.0' });
    // (d² − e²) ÷ d², where 19 of 20 errors lie within 1.0 and their mean square is 3 ÷ 7.815.
    const seen = deltaE00(trial, wanted);
    expect(again.next?.correction?.share).toBe(`${Math.round(100 * (1 - 3 / 7.815 / seen ** 2))} %`);
  });

  it('is corrected from what was typed before what the book has, and kept where that errs as much', async () => {
    const typed = {
      seen: 'photo',
      wanted_l: '50',
      wanted_a: '10',
      wanted_b: '0',
      trial_l: '50.3',
      trial_a: '10',
      trial_b: '0',
    };
    const query = new URLSearchParams(typed);
    const same = await house.data(`${shadeAgainPath({ kind: 'swatch', id: swatchId })}&${query}`).expect(200);
    expect(same.body.next).toMatchObject({ correction: null, how: expect.stringMatching(/one photo/) });
    const darker = await house.data(
      `${shadeAgainPath({ kind: 'swatch', id: swatchId })}&${new URLSearchParams({ ...typed, trial_l: '45' })}`,
    );
    for (const { was, now } of darker.body.next.correction.rows)
      expect(Number.parseFloat(now)).toBeLessThan(Number.parseFloat(was));
  });

  it.each([
    ['half of a colour', { seen: 'photo', wanted_l: '50' }, 'wanted_a'],
    ['a colour without how it was read', { wanted_l: '50', wanted_a: '0', wanted_b: '0' }, 'seen'],
  ])('is not corrected from %s, and what was typed stays', async (_, typed, field) => {
    const { text } = await house.page(
      `${shadeAgainPath({ kind: 'swatch', id: swatchId })}&${new URLSearchParams(typed as never)}`,
    );
    expect(text).toContain(`id="f-${field}-error"`);
    expect(text).toContain('value="50"');
  });

  it('is not corrected from an unlevel trial', async () => {
    const { body } = await house
      .data(`${shadeAgainPath({ kind: 'swatch', id: swatchId })}&level=unlevel`)
      .expect(200);
    expect(body).toMatchObject({ next: null, stop: { text: expect.stringMatching(/no one colour/) } });
  });

  it('is given to a graded series step by step, with depths that look even', async () => {
    const vessel = await addVessel(house, 'Pan', '5');
    const query = new URLSearchParams({
      name: 'Fell',
      from_recipe_id: String(recipeId),
      cloth_id: String(cloth),
      first: '0.2',
      last: '3.2',
      steps: '5',
      vessel_id: String(vessel),
    });
    const { body } = await house.data(`/dye-bench/series/new?${query}`).redirects(1);
    expect(body.problems ?? body.error?.problems ?? []).toEqual([]);
    const apart = body.worked.steps.slice(1).map(({ difference }: { difference: string }) => difference);
    for (const each of apart)
      expect(each).toMatch(/^ΔE00 [\d.]+ to the step before, predicted; each step likely within/);
    const even = body.worked.even.depths.split('/').map(Number);
    const looks = even.map((depth: number) => world.shadeOf([(depth * 2) / 3, depth / 3, 0]));
    const evenApart = looks.slice(1).map((lab: Lab, at: number) => deltaE00(looks[at] ?? lab, lab));
    const ratioApart = [0.2, 0.4, 0.8, 1.6, 3.2]
      .map((depth) => world.shadeOf([(depth * 2) / 3, depth / 3, 0]))
      .flatMap((lab, at, all) => (at === 0 ? [] : [deltaE00(all[at - 1] ?? lab, lab)]));
    const spread = (of: readonly number[]) => Math.max(...of) - Math.min(...of);
    expect(spread(evenApart)).toBeLessThan(spread(ratioApart));
  });
});
