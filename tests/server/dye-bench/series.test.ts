import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { makeBolt, makeLot, openTestHouse, type TestHouse } from '../support.ts';
import { addVessel, keepRecipe, makeOrganza, makeShade, recipeFields } from './recipe/making.ts';

let house: TestHouse;
let organza: ReturnType<typeof makeOrganza>;
let recipe: number;
let vesselId: number;
beforeAll(async () => {
  house = await openTestHouse();
  const made = house.write((tx) => {
    const first = makeOrganza(tx, '18 m');
    for (const bolt of ['17 m', '9 m']) makeBolt(tx, makeLot(tx, first.clothId, first.shadeId), bolt);
    return { first, moss: makeShade(tx, 'Moss') };
  });
  organza = made.first;
  recipe = await keepRecipe(
    house,
    recipeFields(made.moss, { 'dyes.1.name': 'Straw A', 'dyes.1.owf': '0.5', shrinkage: '0' }),
  );
  vesselId = await addVessel(house, 'Cauldron', '40');
});
afterAll(() => house.shut());

const PATH = '/dye-bench/series/new';

function series(changed: Record<string, unknown> = {}) {
  return {
    name: 'Fen',
    from_recipe_id: String(recipe),
    cloth_id: String(organza.clothId),
    depths: '0.1/0.2/0.4/0.8/1.6',
    vessel_id: String(vesselId),
    swatch: '5',
    rows: ['8', '8', '8', '8', '8'].map((length, at) => ({
      shade_id: '',
      shade_name: `Fen ${at + 1}`,
      length,
    })),
    ...changed,
  };
}

function inAddress(fields: Record<string, unknown>): string {
  const flat = Object.entries(fields).flatMap(([name, value]) =>
    Array.isArray(value)
      ? value.flatMap((row: Record<string, string>, at) =>
          Object.entries(row).map(([field, text]) => [`${name}.${at}.${field}`, text]),
        )
      : [[name, String(value)]],
  );
  return `${PATH}?${new URLSearchParams(flat)}`;
}

describe('a graded series', () => {
  it('is asked for where there is none', async () => {
    const { text } = await house.page('/dye-bench/series').expect(200);
    expect(text).toContain('No graded series is planned yet.');
  });

  it('is worked out from its address without writing: five depths over three lots, none mixed', async () => {
    const { body } = await house.data(inAddress(series())).expect(200);
    const { steps, stocks } = body.worked;
    expect(steps.map(({ depth }: Record<string, string>) => depth)).toEqual(
      ['0.1', '0.2', '0.4', '0.8', '1.6'].map((depth) => `${depth} % owf`),
    );
    // 2 and 0.5 in proportion: four fifths and one fifth of each depth.
    expect(steps[4].dyes).toBe('Fern A 1.28 % owf, Straw A 0.32 % owf');
    // 18, 17 and 9 m hold two, two and one of 8 m.
    expect(
      steps.every(
        ({ mixed, lengths }: { mixed: boolean; lengths: unknown[] }) => !mixed && lengths.length === 1,
      ),
    ).toBe(true);
    const lots = steps.map(({ lots: named }: { lots: string }) => named);
    expect(new Set(lots).size).toBe(3);
    // 8 m of 45 g a metre.
    expect(steps[0].mass).toBe('360 g');
    expect(stocks.map(({ name }: { name: string }) => name)).toEqual(['Fern A', 'Straw A']);
    expect(steps.slice(1).map(({ difference }: Record<string, string>) => difference)).toEqual(
      [0, 1, 2, 3].map(
        () => 'Difference not known: no swatch of it is measured, and of 5 depths to work it out from 0 are.',
      ),
    );
    const { body: list } = await house.data('/dye-bench/series');
    expect(list.series).toEqual([]);
  });

  it.each([
    [
      'two lots unasked',
      { rows: ['10', '10', '10', '10'].map((length) => ({ length })), depths: '1/2/3/4' },
      /rows\.\d\.length/,
      /no one lot holds that/,
    ],
    ['no depth', { depths: '' }, /^depths$/, /first and the last depth/],
    ['half a ladder', { depths: '', first: '0.1', steps: '5' }, /^last$/, /both depths/],
    [
      'one shade twice',
      { rows: [0, 1].map(() => ({ shade_id: '', shade_name: 'Reed', length: '' })) },
      /rows\.1\.shade_name/,
      /Two steps have this name/,
    ],
    [
      'a shade that there is',
      { rows: [{ shade_id: '', shade_name: 'moss', length: '' }] },
      /rows\.0\.shade_name/,
      /a shade Moss already/,
    ],
    ['depths all alike', { depths: '', first: '1', last: '1', steps: '3' }, /^last$/, /the same/],
  ])('with %s is refused at its field, and nothing is made', async (_, changed, field, message) => {
    const { body } = await house.send(PATH, series(changed)).expect(422);
    expect(body.error.problems[0].field).toMatch(field);
    expect(body.error.problems[0].message).toMatch(message);
    const shades = house.book.all(
      house.book.db.selectFrom('shade').select('name').where('name', 'like', 'Fen%'),
    );
    expect(shades).toEqual([]);
  });

  it('is made in one go: of each step a shade, a recipe, a swatch and a batch', async () => {
    const answer = await house.send(PATH, series()).expect(200);
    expect(answer.body.done ?? answer.body.said).toContain('5 steps, 5 batches, 5 swatches');
    const { body } = await house.data(answer.body.location).expect(200);
    expect(body.steps).toHaveLength(5);
    for (const [at, step] of body.steps.entries()) {
      expect(step).toMatchObject({
        chip: { name: `Fen ${at + 1}` },
        recipe: { name: `Fen ${at + 1} on nylon` },
        batch: { state: 'planned', mixed: false, length: '8 m' },
        swatch: { verdict: 'not judged yet' },
      });
    }
    // The order of the baths is from pale to deep, and the depths halve.
    expect(body.order.map(({ shade }: { shade: string }) => shade)).toEqual(
      [1, 2, 3, 4, 5].map((at) => `Fen ${at}`),
    );
    expect(body.halving).toEqual(['1', '1/2', '1/4', '1/8', '1/16']);
    // One stock for all: each bath takes twice as much as the one before.
    const taken = body.baths.map(({ lines }: { lines: { amount: string }[] }) => {
      const [, amount = '', unit = ''] = /([\d.]+) (mL|L)/.exec(lines[0]?.amount ?? '') ?? [];
      return Number(amount) * (unit === 'L' ? 1000 : 1);
    });
    for (let at = 1; at < 5; at += 1) expect(taken[at] / taken[at - 1]).toBeCloseTo(2, 1);
    // The card of each batch measures from that stock too.
    for (const { batch } of body.steps) {
      const { body: card } = await house.data(batch.href).expect(200);
      const shown = body.baths.find(({ name }: { name: string }) => name.startsWith(`${card.code},`));
      expect(shown.volumeHow).toBe(card.card.bathHow);
      const stocks = card.card.lines.slice(0, 2).map(({ stock }: { stock: string }) => stock);
      expect(stocks).toEqual(
        body.stocks.map(({ strength }: { strength: string }) => `from a stock of ${strength}`),
      );
    }
    const copied = await house.data(body.steps[4].recipe.href).expect(200);
    expect(copied.body.made.how).toContain('Copied from Moss on nylon');
    expect(copied.body.depth).toBe('1.6 % owf');
    // A new version of a step starts from its own figures.
    const version = await house.data(`${body.steps[4].recipe.href}/versions/new`).expect(200);
    expect(version.body.fields.dyes[0].owf.value).toBe('1.28');
    expect(checkBook(house.book).findings).toEqual([]);
    const { text } = await house.page(answer.body.location).expect(200);
    expect(text).toContain('In one pot, from pale to deep');
  });

  it('takes off what planned batches want: the same again finds no cloth', async () => {
    const { body } = await house
      .send(
        PATH,
        series({
          name: 'Marsh',
          rows: ['8', '8', '8', '8', '8'].map((length, at) => ({ shade_name: `Marsh ${at}`, length })),
        }),
      )
      .expect(422);
    expect(body.error.problems).toHaveLength(5);
  });

  it('tells neighbours apart once their swatches are measured', async () => {
    const path = '/dye-bench/series/S1';
    const { body } = await house.data(path).expect(200);
    for (const [at, { swatch }] of body.steps.entries()) {
      if (at > 1) continue;
      const job = await house.data(swatch.href).expect(200);
      const option = job.body.result.swatch_id.options.find(({ label }: { label: string }) =>
        label.startsWith(`${swatch.name},`),
      );
      const l = String(85 - at * 9);
      await house
        .send(`${swatch.href}/results`, {
          swatch_id: option.value,
          verdict: 'approved',
          seen_by: 'instrument',
          light: 'D65',
          viewing: 'D65/10',
          state: 'dry',
          l,
          a: '-8',
          b: '12',
        })
        .expect(200);
    }
    const after = await house.data(path).expect(200);
    expect(after.body.steps[1].difference).toMatch(/^ΔE00 \d+(\.\d)? to the step before$/);
    expect(after.body.steps[2].difference).toContain('Difference not known');
    expect(after.body.steps[0].swatch.verdict).toBe('approved');
  });

  it('moves the dyes from one recipe to another, and refuses two that do not go together', async () => {
    const moss = house.write((tx) => makeShade(tx, 'Rust'));
    const other = await keepRecipe(
      house,
      recipeFields(moss, { name: 'Rust on nylon', 'dyes.0.name': 'Rust A' }),
    );
    const silk = await keepRecipe(
      house,
      recipeFields(moss, { name: 'Rust on silk', fibre: 'silk', temperature: '85' }),
    );
    const rows = [0, 1, 2].map((at) => ({ shade_name: `Turning ${at}`, length: '' }));
    const moving = { name: 'Turning', depths: '1/2/3', rows, swatch: '' };
    const refused = await house.send(PATH, series({ ...moving, to_recipe_id: String(silk) })).expect(422);
    expect(refused.body.error.problems[0].field).toBe('to_recipe_id');
    const answer = await house.send(PATH, series({ ...moving, to_recipe_id: String(other) })).expect(200);
    const { body } = await house.data(answer.body.location).expect(200);
    expect(
      body.steps.map(({ dyes, moved, batch, swatch }: Record<string, unknown>) => [
        dyes,
        moved,
        batch,
        swatch,
      ]),
    ).toEqual([
      ['Fern A 0.8 % owf, Straw A 0.2 % owf', '0 %', null, null],
      ['Fern A 0.8 % owf, Straw A 0.2 % owf, Rust A 1 % owf', '50 %', null, null],
      ['Rust A 3 % owf', '100 %', null, null],
    ]);
  });

  it('may take two lots for a step where that is asked, and says so', async () => {
    const rows = [
      { shade_name: 'Mixed', length: '2.5' },
      { shade_name: 'None', length: '' },
    ];
    const mixing = series({ name: 'Mixed', depths: '1/2', rows, swatch: '' });
    await house.send(PATH, mixing).expect(422);
    const answer = await house.send(PATH, { ...mixing, mixing: 'yes' }).expect(200);
    const { body } = await house.data(answer.body.location).expect(200);
    expect(body.steps[0].batch).toMatchObject({ mixed: true });
  });
});
