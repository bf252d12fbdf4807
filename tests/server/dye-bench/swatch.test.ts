import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { openTestHouse, type TestHouse } from '../support.ts';
import { addVessel, keepRecipe, makeOrganza, makeShade, plan, recipeFields, start } from './recipe/making.ts';

let house: TestHouse;
let organza: ReturnType<typeof makeOrganza>;
let moss: number;
let recipe: number;
let vesselId: number;
beforeAll(async () => {
  house = await openTestHouse();
  [organza, moss] = house.write((tx) => [makeOrganza(tx), makeShade(tx, 'Moss')]);
  recipe = await keepRecipe(house, recipeFields(moss));
  vesselId = await addVessel(house, 'Small pot', '5');
  await house
    .submit('/dye-bench/dyes', { name: 'Fern A', dye_class: 'acid-levelling', lot: '24-1' })
    .expect(303);
});
afterAll(() => house.shut());

function job(changed: Record<string, unknown> = {}) {
  return {
    lot_id: String(organza.lotId),
    mass: '5',
    lab_ratio: '1:20',
    bulk_ratio: '1:20',
    swatches: [{ recipe_id: String(recipe), depth: '' }],
    ...changed,
  };
}

async function planJob(changed: Record<string, unknown> = {}): Promise<string> {
  const answer = await house.send('/dye-bench/swatches/new', job(changed)).expect(200);
  return answer.body.location;
}

async function judge(path: string, changed: Record<string, string> = {}) {
  const { body } = await house.data(path).expect(200);
  const [first] = body.result.swatch_id.options.slice(-1);
  return house.send(`${path}/results`, {
    swatch_id: first.value,
    verdict: 'approved',
    seen_by: 'eye',
    light: 'daylight, north window',
    state: 'dry',
    ...changed,
  });
}

describe('swatches', () => {
  it('are asked for where there is none, and filled in from a recipe and a lot', async () => {
    const none = await house.page('/dye-bench/swatches').expect(200);
    expect(none.text).toContain('No swatch is planned yet.');
    const path = `/dye-bench/swatches/new?recipe=${recipe}&lot=${organza.lotId}`;
    const { body } = await house.data(path).expect(200);
    const texts = body.fields.map(({ name, value }: { name: string; value: string }) => [name, value]);
    expect(Object.fromEntries(texts)).toEqual({
      lot_id: String(organza.lotId),
      mass: '5',
      lab_ratio: '1:20',
      bulk_ratio: '1:20',
    });
    expect(body.swatches[0].recipe_id.value).toBe(String(recipe));
  });

  it('of several depths are measured from one stock of each dye, with the water that is left', async () => {
    const depths = ['0.5', '1', '', '4'];
    const path = await planJob({
      swatches: depths.map((depth) => ({ recipe_id: String(recipe), depth })),
    });
    const { body } = await house.data(path).expect(200);
    expect(body).toMatchObject({
      mass: '5 g',
      labRatio: '1:20',
      dyeLots: ['Fern A: lot 24-1'],
      trouble: '',
    });
    // 5 g of 30 g/m² are a sixth of a square metre: 40.8 cm each way, shown up to the step.
    expect(body.cut.square).toBe('≈ 40.9 cm');
    expect(body.cut.pieces).toEqual([{ code: organza.piece.code, href: expect.any(String) }]);
    const [stock] = body.amounts.stocks;
    expect(body.amounts.stocks).toHaveLength(1);
    // 5 g × 0.5 % is 25 mg: 5 mL of a stock of 0.5 g in 100 mL, which a pipette measures, and up to 40 mL for 4 %.
    expect(stock).toMatchObject({ name: 'Fern A', lot: '24-1' });
    expect(stock.strength).toBe('0.5 g in 100 mL');
    expect(body.amounts.baths.map(({ volume }: { volume: string }) => volume)).toEqual(
      depths.map(() => '100 mL'),
    );
    // 0.5 % of 5 g is 25 mg of levelling agent, which a balance of 0.01 g does not resolve.
    expect(body.amounts.baths[0].lines[1].dissolved).toContain('dissolve 0.25 g to 100 mL and take 10 mL');
    const dye = (at: number) => Number.parseFloat(body.amounts.baths[at].lines[0].amount);
    expect([0, 1, 2, 3].map(dye)).toEqual([5, 10, 20, 40]);
    expect(body.swatches.map(({ depth }: { depth: string }) => depth)).toEqual([
      '0.5 % owf',
      '1 % owf',
      '2 % owf',
      '4 % owf',
    ]);
    const { text } = await house.page(path).expect(200);
    expect(text).toContain('safety data sheet');
  });

  it.each([
    ['no recipe', { swatches: [] }, 'swatches'],
    ['a depth beyond any dye', { swatches: [{ recipe_id: '1', depth: '30' }] }, 'swatches.0.depth'],
    [
      'depths too far apart',
      { swatches: ['0.001', '20'].map((depth) => ({ recipe_id: '1', depth })) },
      'swatches',
    ],
    ['no mass', { mass: '' }, 'mass'],
  ])('with %s are refused at the field, and nothing is kept', async (_, changed, field) => {
    const before = await house.data('/dye-bench/swatches');
    const { body } = await house.send('/dye-bench/swatches/new', job(changed)).expect(422);
    expect(body.error.problems[0].field).toBe(field);
    const after = await house.data('/dye-bench/swatches');
    expect(after.body.pager.total).toBe(before.body.pager.total);
  });
});

describe('judging a swatch', () => {
  it('keeps by whom, how, in which light, wet or dry, and each verdict; the last counts', async () => {
    const path = await planJob();
    await judge(path, { verdict: '', state: 'wet' });
    await judge(path, { verdict: 'adjusted', note: 'A fifth more green.', light: 'warm stage light' });
    await judge(path, {
      seen_by: 'instrument',
      l: '50',
      a: '-10',
      b: '12',
      viewing: 'D65/10',
    });
    const { body } = await house.data(path).expect(200);
    const [swatch] = body.swatches;
    expect(swatch.verdict).toBe('approved');
    expect(swatch.results).toMatchObject([
      { verdict: 'looked at', how: 'by eye, wet, in daylight, north window' },
      { verdict: 'adjusted', how: 'by eye, dry, in warm stage light', note: 'A fifth more green.' },
      { verdict: 'approved', lab: 'L* 50, a* −10, b* 12' },
    ]);
    expect(swatch.next.text).toBe('Plan a batch');
    const list = await house.page('/dye-bench/swatches').expect(200);
    expect(list.text).toContain('one swatch: 1 approved');
  });

  it.each([
    ['an instrument without its values', { seen_by: 'instrument' }, 'l'],
    ['two of three values', { l: '50', a: '1' }, 'b'],
    ['values of nobody knows which light', { l: '50', a: '1', b: '2' }, 'viewing'],
    ['a photograph that nobody finds', { seen_by: 'photo' }, 'photo'],
    ['an adjustment that says nothing', { verdict: 'adjusted' }, 'note'],
    ['no light', { light: '' }, 'light'],
  ])('by %s is refused', async (_, changed, field) => {
    const path = await planJob();
    const answer = await judge(path, changed as Record<string, string>);
    expect(answer.status).toBe(422);
    const fields = answer.body.error.problems.map((problem: { field: string }) => problem.field);
    expect(fields).toContain(field);
  });

  it('at another depth leads to a recipe of that depth', async () => {
    const path = await planJob({ swatches: [{ recipe_id: String(recipe), depth: '1' }] });
    await judge(path);
    const { body } = await house.data(path).expect(200);
    expect(body.swatches[0].next.text).toBe('Keep a recipe of this depth');
    const copy = await house.data(body.swatches[0].next.href).expect(200);
    expect(copy.body.copies.changes).toMatchObject([{ what: 'Fern A', was: '2 % owf', now: '1 % owf' }]);
  });

  it('that is to be adjusted goes on in the same job', async () => {
    const path = await planJob();
    await judge(path, { verdict: 'adjusted', note: 'Paler.' });
    await house
      .send(`${path}/swatches`, { swatches: [{ recipe_id: String(recipe), depth: '1.8' }] })
      .expect(200);
    const { body } = await house.data(path).expect(200);
    expect(body.swatches.map(({ depth, verdict }: Record<string, string>) => [depth, verdict])).toEqual([
      ['2 % owf', 'adjusted'],
      ['1.8 % owf', ''],
    ]);
  });
});

describe('a batch', () => {
  const warned = (body: { card: { warnings: { text: string }[] } }) =>
    body.card.warnings.map(({ text }) => text).filter((text) => /swatch/i.test(text));

  it('asks for an approved swatch of its lot and its dye lot, and starts without one all the same', async () => {
    const other = await keepRecipe(house, recipeFields(moss, { name: 'Deep moss', 'dyes.0.owf': '3' }));
    const lengths = { [organza.piece.code]: '1 m' };
    const batch = await plan(house, { recipeId: other, vesselId, lengths });
    const path = `/dye-bench/batches/${batch}`;
    const before = await house.data(path).expect(200);
    expect(before.body.swatches).toMatchObject([{ approved: false, said: 'none by this recipe' }]);
    expect(warned(before.body)[0]).toContain('No approved swatch of Nylon organza, lot');

    const swatches = await planJob({ swatches: [{ recipe_id: String(other), depth: '' }] });
    expect((await house.data(path)).body.swatches[0].said).toContain('not judged yet');
    await judge(swatches, { state: 'wet' });
    const wet = await house.data(path);
    expect(wet.body.swatches[0].approved).toBe(true);
    expect(warned(wet.body)[0]).toContain('was approved wet');
    await judge(swatches);
    expect(warned((await house.data(path)).body)).toEqual([]);

    // Another tub of the dye: the swatch says nothing of it.
    const { body: dyes } = await house.data('/dye-bench/dyes');
    const [fern] = dyes.dyes ?? dyes.groups?.[0]?.dyes ?? [];
    await house
      .submit(`/dye-bench/dyes/${fern.id}`, { name: 'Fern A', dye_class: 'acid-levelling', lot: '25-9' })
      .expect(303);
    expect(warned((await house.data(path)).body)[0]).toContain('Fern A was lot 24-1 and is lot 25-9 now');
    await start(house, batch);
    // The card keeps what was known when it started.
    expect(warned((await house.data(path)).body)[0]).toContain('25-9');
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('has no swatch in one that was given up, or of another lot or ratio', async () => {
    const third = await keepRecipe(house, recipeFields(moss, { name: 'Third moss', 'dyes.0.owf': '1.1' }));
    const batch = await plan(house, {
      recipeId: third,
      vesselId,
      lengths: { [organza.piece.code]: '1 m' },
    });
    const swatches = await planJob({
      swatches: [{ recipe_id: String(third), depth: '' }],
      lab_ratio: '1:40',
    });
    const path = `/dye-bench/batches/${batch}`;
    await judge(swatches, { verdict: 'given up' });
    expect((await house.data(path)).body.swatches).toMatchObject([{ approved: false }]);
    await judge(swatches);
    expect(warned((await house.data(path)).body)[0]).toContain('was dyed at 1:40, the recipe is 1:20');
  });
});

describe('the strength of a lot', () => {
  it('is found by two measured swatches of one dye in both lots, and stands where it is typed for a batch', async () => {
    const recipeId = await keepRecipe(
      house,
      recipeFields(moss, { name: 'Weld on nylon', 'dyes.0.name': 'Weld', 'dyes.0.owf': '1' }),
    );
    const found = async () => {
      const { body } = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}`).expect(200);
      return body.strengths[0].found;
    };
    const measured = async (lot: string, y: number, depth = '') => {
      const path = await planJob({
        swatches: [{ recipe_id: String(recipeId), depth }],
        lots: [{ name: 'Weld', lot }],
      });
      const l = (116 * Math.cbrt(y) - 16).toFixed(4);
      await judge(path, { seen_by: 'instrument', l, a: '0', b: '0', viewing: 'D65/2' }).then(({ status }) =>
        expect(status).toBe(200),
      );
    };
    await measured('A', 0.2);
    expect(await found()).toEqual([]);
    // Another depth tells nothing.
    await measured('B', 0.25, '2');
    expect(await found()).toEqual([]);
    await measured('B', 0.25);
    // Kubelka and Munk by hand: (0.75² ÷ 0.5) ÷ (0.8² ÷ 0.4) = 1.125 ÷ 1.6 = 70.31 %.
    expect(await found()).toMatchObject([{ strength: '70.31 %', lots: 'Lot B against lot A' }]);
    const { text } = await house.page(`/dye-bench/batches/new?recipe_id=${recipeId}`).expect(200);
    expect(text).toMatch(/Lot B against lot A: <b>70\.31 %<\/b>, by swatches/);
  });
});
