import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import {
  addVessel,
  finish,
  furnish,
  keepRecipe,
  makeOrganza,
  makeShade,
  plan,
  recipeFields,
  start,
} from './recipe/making.ts';

const validator = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: {
    'no-trailing-whitespace': 'off',
    'void-style': ['error', { style: 'omit' }],
    'doctype-style': 'off',
  },
});

async function faultsOf(house: TestHouse, path: string, status = 200): Promise<string[]> {
  const { text } = await house.page(path).expect(status);
  const report = await validator.validateString(text);
  return report.results.flatMap(({ messages }) =>
    messages.map(({ line, message }) => `${path} ${line}: ${message}`),
  );
}

describe('an empty bench', () => {
  let house: TestHouse;
  beforeAll(async () => {
    house = await openTestHouse();
  });
  afterAll(() => house.shut());

  it('says what a batch needs and leads there', async () => {
    const { body } = await house.data('/dye-bench').expect(200);
    expect(body).toMatchObject({ inPot: [], planned: [], done: [], earlier: null });
    expect(body.missing.map(({ href }: { href: string }) => href)).toEqual([
      '/dye-bench/recipes/new',
      '/dye-bench/vessels',
      '/shelf/receive',
    ]);
    const { text } = await house.page('/dye-bench');
    for (const said of ['Nothing is being dyed.', 'No batch is planned.', 'No batch is done yet.']) {
      expect(text).toContain(said);
    }
  });

  it('asks for a recipe first, then for a vessel, then for undyed cloth', async () => {
    const { stock, moss } = house.write((tx) => ({ stock: makeOrganza(tx), moss: makeShade(tx, 'Moss') }));
    const first = await house.page(`/dye-bench/batches/new?shade=${moss}&cloth=${stock.clothId}`).expect(200);
    expect(first.text).toContain('No recipe gives Moss yet.');
    expect(first.text).toContain(`/dye-bench/recipes/new?shade_id=${moss}&amp;fibre=nylon`);
    const recipeId = await keepRecipe(
      house,
      recipeFields(moss, { fibre: 'cotton', dye_class: 'reactive', temperature: '60' }),
    );
    const path = `/dye-bench/batches/new?recipe_id=${recipeId}`;
    expect((await house.page(path).expect(200)).text).toContain('No vessel is in use.');
    await addVessel(house, 'Pot', '10');
    const third = await house.page(path).expect(200);
    expect(third.text).toContain('No undyed cloth that takes this dye is free.');
    expect(third.text).toContain('Nylon organza');
  });

  it('has pages without a fault in their markup', async () => {
    const paths = ['/dye-bench', '/dye-bench/recipes', '/dye-bench/vessels', '/dye-bench/batches/new'];
    const faults = await Promise.all(paths.map((path) => faultsOf(house, path)));
    expect(faults.flat()).toEqual([]);
  });
});

const QUICK =
  '/dye-bench/quick?mass=620+g&weighed=conditioned&fibres.0.fibre=nylon&dyes.0.owf=1.1&dyes.1.owf=0.05&offered=yes&vessel=12&strips=7&heater=2+kW&sheer=yes&material=aluminium';

describe('a bench at work', () => {
  let house: TestHouse;
  let recipeId: number;
  let piece: string;
  beforeAll(async () => {
    house = await openTestHouse();
    const made = await furnish(house, '60 m', 0, '9');
    recipeId = made.recipeId;
    piece = made.piece.code;
    const lengths = { [piece]: '4' };
    for (let number = 1; number <= 3; number += 1) {
      await plan(house, {
        recipeId,
        vesselId: made.vesselId,
        lengths,
        ...(number === 3 ? { due: '2026-03-01' } : {}),
      });
    }
    await start(house, 'D1');
    await start(house, 'D2');
    await finish(house, 'D2', ['3.9']);
  });
  afterAll(() => house.shut());

  it('lists batches by their state, the overdue said in words', async () => {
    const { body } = await house.data('/dye-bench');
    expect(body.inPot).toMatchObject([
      { code: 'D1', length: '4 m', since: expect.stringContaining('2 Mar 2026') },
    ]);
    expect(body.planned).toMatchObject([{ code: 'D3', due: '1 Mar 2026', overdue: true }]);
    expect(body.done).toMatchObject([{ code: 'D2', finished: expect.stringContaining('2 Mar 2026') }]);
    expect((await house.page('/dye-bench')).text).toContain('1 Mar 2026, overdue');
  });

  it('gives each page the data that it prints, as JSON', async () => {
    const { body } = await house.data('/dye-bench/batches/D1').expect(200);
    const { text } = await house.page('/dye-bench/batches/D1').expect(200);
    for (const printed of [body.said, body.card.mass, body.card.bathVolume, body.card.lines[0].perBath]) {
      expect(text).toContain(printed);
    }
    expect(body.figures.massMg).toBe(180_000);
  });

  it('shows one bath at the bench: large amounts, then the cautions, and at most three things to do outside folds', async () => {
    const { text } = await house.page('/dye-bench/batches/D1/bench').expect(200);
    expect(text).toContain('data-hand="bench"');
    const order = ['Breathe in no dye dust', 'outrank this page', '1.8 g', 'At 98 °C', '45 min'];
    const places = order.map((each) => text.indexOf(each));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(places[2]).toBeLessThan(places[0] ?? 0);
    const main = text.slice(text.indexOf('data-hand="bench"'), text.indexOf('</main>'));
    const shut = main.replace(/<(details|template)[\s\S]*?<\/\1>/g, '');
    expect(shut.match(/class="button|<button/g)?.length).toBeLessThanOrEqual(3);
    expect(main).not.toContain('<input type="text"');
  });

  it('starts a planned batch at the bench too', async () => {
    const { text } = await house.page('/dye-bench/batches/D3/bench').expect(200);
    expect(text).toContain('action="/dye-bench/batches/D3/starts"');
  });

  it('prints every caution and a place to write down what was weighed', async () => {
    const { text } = await house.page('/dye-bench/batches/D1').expect(200);
    expect(text).toContain('<th scope="col" class="print-only">Weighed</th>');
    const cautions = text.slice(
      text.indexOf('id="read-first"'),
      text.indexOf('</section>', text.indexOf('id="read-first"')),
    );
    expect(cautions).not.toContain('screen-only');
    // A phone folds the full text below its few words; a desk and a printer show it.
    expect(cautions).toContain('<details class="fold-on-phone"><summary>');
    expect(cautions).toContain('Breathe in no dye dust');
  });

  it('has pages without a fault in their markup, refused forms among them', async () => {
    const worked = `/dye-bench/batches/new?recipe_id=${recipeId}&vessel_id=1&pieces.0.piece=${piece}&pieces.0.length=2&wanted=3`;
    const paths: [string, number?][] = [
      ['/dye-bench'],
      ['/dye-bench/recipes'],
      [`/dye-bench/recipes/${recipeId}`],
      ['/dye-bench/recipes/new?fibre=cotton'],
      ['/dye-bench/recipes/new?fibre=polyester&dye_class=vat'],
      [`/dye-bench/recipes/${recipeId}/versions/new`],
      ['/dye-bench/vessels'],
      ['/dye-bench/vessels/1'],
      ['/dye-bench/dyes'],
      ['/dye-bench/fibres'],
      ['/dye-bench/quick'],
      [QUICK],
      [QUICK.replace('vessel=12', 'vessel=5+gal'), 422],
      ['/dye-bench/batches/new'],
      [`${worked}&strip=0.4&strips=3&scale=80&basis=conditioned&stocks.0.strength=1`],
      [worked],
      [`${worked}&pieces.1.piece=${piece}&pieces.1.length=x`, 422],
      ['/dye-bench/batches/D1'],
      ['/dye-bench/batches/D1/bench'],
      ['/dye-bench/batches/D1/finish'],
      ['/dye-bench/batches/D2'],
      ['/dye-bench/batches/D2/finish'],
      ['/dye-bench/batches/D3'],
      ['/dye-bench/batches/D3/bench'],
    ];
    const faults = await Promise.all(paths.map(([path, status]) => faultsOf(house, path, status)));
    expect(faults.flat()).toEqual([]);
  });
});

describe('the pieces offered', () => {
  it('are fifty at once, narrowed by cloth, and keep a length that was typed where it stood', async () => {
    const house = await openTestHouse();
    const { stock, recipeId } = await furnish(house, '100 m');
    house.write((tx) => {
      for (let bolt = 1; bolt <= 55; bolt += 1) makeBolt(tx, stock.lotId, `${bolt} m`);
    });
    const { body } = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}`);
    expect(body.pieces).toHaveLength(50);
    expect(body.more).toBe(true);
    // The longest bolt is beyond the fifty; typed in row 0, it stays there among them.
    const query = `recipe_id=${recipeId}&vessel_id=1&pieces.0.piece=B1&pieces.0.length=1000`;
    const typed = await house.data(`/dye-bench/batches/new?${query}`).expect(422);
    expect(typed.body.error.problems[0].field).toBe('pieces.0.length');
    const { pieces } = typed.body.page;
    expect(pieces.find(({ code }: { code: string }) => code === 'B1')).toMatchObject({
      fields: { index: 0, length: { name: 'pieces.0.length', value: '1000' } },
    });
    const places = pieces.map(({ fields }: { fields: { index: number } }) => fields.index);
    expect(new Set(places).size).toBe(51);
    const one = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}&cloth=${stock.clothId}`);
    expect(one.body.fields.cloth.value).toBe(String(stock.clothId));
    await house.shut();
  });
});
