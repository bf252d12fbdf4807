import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import {
  addVessel,
  furnish,
  keepRecipe,
  makeGround,
  makeShade,
  plan,
  recipeFields,
  start,
} from './recipe/making.ts';

let house: TestHouse;
let now: Date;
beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openTestHouse(() => now);
});
afterEach(() => house.shut());

const water = (alkalinity: string) => house.submit('/setup/water', { alkalinity }).expect(303);
const batchPath = (code: string, rest = '') => `/dye-bench/batches/${code}${rest}`;
const bench = async (code: string) => (await house.data(batchPath(code, '/bench')).expect(200)).body.bath;
const log = (code: string, what: string, fields: object) =>
  house.send(batchPath(code, `/logs/${what}`), { bath: '1', ...fields }).expect(200);

/** Acetic acid of 56 %, 1 g/L: 0.56 g/L of acid, between 4.24 (0.5 g/L) and 3.89 (1 g/L) in water of 100 mg/L. */
const IN_WATER_OF_100 = /^expected 4\.[12], ±0\.3: measure$/;

describe('the pH on the pages of the dye bench', () => {
  it('stands on the recipe beside what its class wants, with the dose that would reach that', async () => {
    const { recipeId } = await furnish(house);
    const read = async () => (await house.data(`/dye-bench/recipes/${recipeId}`).expect(200)).body.ph;
    // 0.5 g/L is 3.43 in soft water, and 5.04 in water of 300 mg/L.
    expect((await read()).expected).toMatch(/^expected 3\.4 in soft to 4\.[89] in hard water: measure$/);
    expect((await read()).notes).toEqual([expect.stringContaining('enter its alkalinity under Setup')]);
    await water('100');
    const ph = await read();
    expect(ph.expected).toMatch(IN_WATER_OF_100);
    expect(ph).toMatchObject({
      wants: '4 to 6',
      wantsSource: expect.stringMatching(/^published: tradetextile\.com, archive page 38365/),
      verdict: 'as wanted',
      notes: [],
      water: 'Water measured on 2 Mar 2026: alkalinity 100 mg/L.',
    });
    expect(ph.dose).toMatch(
      /^To come to pH 5\.0 each bath of 20 L takes about \d.* mL \(0\.\d+ mL\/L\) of acetic acid, 56 % by mass\.$/,
    );
    const page = await house.page(`/dye-bench/recipes/${recipeId}`).expect(200);
    expect(page.text).toContain('as wanted');
  });

  it('offers no other dose of an acid that the maker’s label doses', async () => {
    await water('100');
    const moss = house.write((tx) => makeShade(tx, 'Moss'));
    const fields = recipeFields(moss, { 'auxiliaries.1.amount': '4 g/L', 'auxiliaries.1.label': 'yes' });
    const id = await keepRecipe(house, fields);
    const { ph } = (await house.data(`/dye-bench/recipes/${id}`).expect(200)).body;
    expect(ph.verdict).toBe('more sour than wanted');
    expect(ph.dose).toBe('The dose of acetic acid, 56 % by mass is the maker’s: keep to it, and measure.');
  });

  it('is that of the litre for an amount on cloth: the same acid is weaker in a longer bath', async () => {
    await water('100');
    const moss = house.write((tx) => makeShade(tx, 'Moss'));
    const expected = async (ratio: string) => {
      const fields = recipeFields(moss, {
        name: `At ${ratio}`,
        liquor_ratio: ratio,
        'auxiliaries.1.what': 'acetic-acid/glacial',
        'auxiliaries.1.amount': '2 %',
      });
      const id = await keepRecipe(house, fields);
      return (await house.data(`/dye-bench/recipes/${id}`).expect(200)).body.ph.expected;
    };
    // 2 % is 1 g/L at 1:20 and 0.5 g/L at 1:40.
    expect(await expected('1:20')).toBe('expected 3.9, ±0.3: measure');
    expect(await expected('1:40')).toBe('expected 4.2, ±0.3: measure');
  });

  it('stands on the quick bath and on the card, and a started card keeps the water of its day', async () => {
    await water('100');
    const quick = await house
      .data('/dye-bench/quick?mass=500&weighed=conditioned&fibres.0.fibre=nylon&depth=pale&offered=yes')
      .expect(200);
    expect(quick.body.result.ph).toMatchObject({
      wants: '4 to 6',
      water: expect.stringContaining('100 mg/L'),
    });
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    await water('300');
    const { body } = await house.data(batchPath(code)).expect(200);
    expect(body.card.ph.expected).toMatch(IN_WATER_OF_100);
    expect(body.figures.ph.water.alkalinityTenths).toBe(1000);
  });

  it('is read at the pot around what the step wants, and a reading before the alkali is no deviation', async () => {
    await water('100');
    const { piece, moss } = house.write((tx) => {
      const { lotId } = makeGround(tx, { name: 'Voile', content: { cotton: 100 }, gramsPerM2: 60 });
      return { piece: makeBolt(tx, lotId, '10 m'), moss: makeShade(tx, 'Moss') };
    });
    const recipeId = await keepRecipe(
      house,
      recipeFields(moss, {
        name: 'Moss on cotton',
        fibre: 'cotton',
        dye_class: 'reactive',
        method: 'vinyl sulphone or monofluorotriazine',
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '5 g/L',
        'auxiliaries.1.what': 'soda-ash/anhydrous',
        'auxiliaries.1.amount': '5 g/L',
        temperature: '60',
        ph_from: '10',
        ph_to: '11',
      }),
    );
    const vesselId = await addVessel(house, 'Blue pot', '10');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    await log(code, 'steps', { step: 'begin' });
    const seen: string[] = [];
    for (;;) {
      const { step, ph, phs } = await bench(code);
      if (!step) break;
      const values = phs.map(({ value }: { value: string }) => Number(value));
      if (step.key === 'set-1') {
        expect(ph).toBe('pH expected 7.5, ±0.3: measure');
        expect(values).toContain(7.5);
        await log(code, 'phs', { ph: '7.5' });
      }
      if (step.title.startsWith('Hold')) {
        expect(ph).toMatch(/^pH 10 to 11 wanted; expected 1[01]\.\d, ±0\.3: measure$/);
        expect(values).toContain(10.5);
        await log(code, 'phs', { ph: '9' });
      }
      seen.push(step.key);
      now = new Date(now.getTime() + Number.parseInt(step.minutes, 10) * 60_000);
      await log(code, 'steps', { step: step.key });
    }
    expect(seen).toContain('set-1');
    const { baths } = (await house.data(batchPath(code, '/record')).expect(200)).body;
    expect(baths[0].deviations).toEqual([expect.stringContaining('pH 9, 10 to 11 wanted')]);
    const [early, late] = baths[0].readings;
    expect(early).toMatchObject({ logged: 'pH 7.5', planned: '' });
    expect(late).toMatchObject({ logged: 'pH 9', planned: '10 to 11' });
  });
});

describe('the limits of a fibre in the workroom’s water', () => {
  // Soda ash 1 g/L: pH 10.99 in soft water and 10.38 in water of 200 mg/L; hot silk is refused above 10.5.
  const silk = (name: string) => ({
    name,
    shade_id: String(house.write((tx) => makeShade(tx, name))),
    fibre: 'silk',
    dye_class: 'reactive',
    'dyes.0.name': 'Fern R',
    'dyes.0.owf': '1',
    'auxiliaries.0.what': 'soda-ash/anhydrous',
    'auxiliaries.0.amount': '1 g/L',
    liquor_ratio: '1:30',
    temperature: '60',
    hold: '45',
    shrinkage: '2',
  });

  it('refuse in soft water what they only warn of in hard water', async () => {
    const refused = await house.submit('/dye-bench/recipes/new', silk('Soft')).expect(422);
    expect(refused.text).toContain('pH 11.0 from soda ash in soft water at 60 °C');
    await water('200');
    const id = await keepRecipe(house, silk('Hard'));
    const { warnings } = (await house.data(`/dye-bench/recipes/${id}`).expect(200)).body;
    expect(warnings.map(({ text }: { text: string }) => text)).toContainEqual(
      expect.stringMatching(/^Silk: hot alkali weakens it.*pH 10\.4 from soda ash in water of 200 mg\/L/),
    );
  });

  it('are those of the water of the day on which a batch is started', async () => {
    await water('200');
    const recipeId = await keepRecipe(house, silk('Hard'));
    const cloth = house.write((tx) => {
      const stock = makeGround(tx, { name: 'Habotai', content: { silk: 100 }, gramsPerM2: 40 });
      return makeBolt(tx, stock.lotId, '10 m');
    });
    const vesselId = await addVessel(house, 'Small pot', '10');
    const code = await plan(house, { recipeId, vesselId, lengths: { [cloth.code]: '2 m' } });
    now = new Date('2026-03-03T12:00:00.000Z');
    await water('50');
    const { text } = await house.submit(batchPath(code, '/starts'), {}).expect(409);
    expect(text).toContain('from soda ash in water of 50 mg/L alkalinity');
  });
});
