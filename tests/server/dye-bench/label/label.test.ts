import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fillIn, offerFor } from '../../../../server/dye-bench/recipe/offer.ts';
import { readRecipe } from '../../../../server/dye-bench/recipe/store.ts';
import { typedIn } from '../../shelf/furnished.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, keepRecipe, makeGround, makeShade, plan, start } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

/** The invented label of a reactive dye. */
const LABEL: Record<string, string> = {
  source: 'tub of 250 g, invented',
  start: '25',
  temperature: '50',
  hold: '70',
  heat_rate: '2',
  ph_from: '10.5',
  ph_to: '11',
  'additions.0.what': 'salt',
  'additions.0.minutes': '5',
  'additions.1.what': 'dye',
  'additions.1.at': '30',
  'additions.1.minutes': '15',
  'additions.2.what': 'soda-ash',
  'additions.2.at': '40',
  'additions.2.minutes': '10',
  'doses.0.what': 'salt/as-sold',
  'doses.0.up_to': '1 %',
  'doses.0.amount': '20 g/L',
  'doses.1.what': 'salt/as-sold',
  'doses.1.amount': '45 g/L',
  'washes.0.says': 'Rinse cold until clear.',
  'washes.0.at': '20',
  'washes.0.minutes': '12',
  'washes.1.says': 'Soap.',
  'washes.1.at': '70',
  'washes.1.minutes': '25',
  'washes.1.what': 'detergent/as-sold',
  'washes.1.amount': '2',
};

async function addDye(name: string): Promise<number> {
  await house
    .submit('/dye-bench/dyes', {
      name,
      dye_class: 'reactive',
      method: 'vinyl sulphone or monofluorotriazine',
    })
    .expect(303);
  const { body } = await house.data('/dye-bench/dyes');
  return body.dyes.find((dye: { name: string }) => dye.name === name).id;
}

/** A recipe with all that is offered for cotton, of which a batch of dense cotton can be planned. */
async function furnishCotton(dyes: Record<string, string>) {
  const { piece, madder } = house.write((tx) => {
    const { lotId, clothId } = makeGround(tx, { name: 'Sateen', content: { cotton: 100 }, gramsPerM2: 120 });
    tx.run(tx.db.updateTable('cloth').set({ construction: 'sateen' }).where('id', '=', clothId));
    return { piece: makeBolt(tx, lotId, '20 m'), madder: makeShade(tx, 'Madder') };
  });
  const asked = { shade_id: String(madder), fibre: 'cotton', dye_class: 'reactive', ...dyes };
  const recipeId = await keepRecipe(house, { ...fillIn(asked, offerFor(asked)), name: 'Madder on cotton' });
  const vesselId = await addVessel(house, 'Large pot', '60');
  return { recipeId, vesselId, lengths: { [piece.code]: '5' } };
}
/** The next version of a recipe as its form opens, with some fields changed. Gives its number. */
async function nextVersion(id: number, changed: Record<string, string> = {}): Promise<number> {
  const { name: _, shade_id: __, fibre: ___, ...filled } = readRecipe(house.book, id).typed;
  const answer = await house.submit(`/dye-bench/recipes/${id}/versions/new`, { ...filled, ...changed });
  if (answer.status !== 303) throw new Error(answer.text.slice(0, 4000));
  return Number(/recipes\/(\d+)/.exec(answer.headers.location ?? '')?.[1]);
}
const recipe = async (id: number) => (await house.data(`/dye-bench/recipes/${id}`).expect(200)).body;
const batch = async (code: string) => (await house.data(`/dye-bench/batches/${code}`).expect(200)).body;
const figure = (figures: { label: string; value: string; source: string }[], name: string) =>
  figures.find(({ label }) => label === name);

describe('the maker’s label of a dye', () => {
  it('goes before what was offered, on the recipe and step by step on the card, and says whose each figure is', async () => {
    const id = await addDye('Madder R');
    const made = await furnishCotton({ 'dyes.0.name': 'Madder R', 'dyes.0.owf': '2' });
    const code = await plan(house, made);
    const before = await batch(code);
    expect(before.order.steps.map(({ source }: { source: string }) => source)).not.toContain(
      "from the maker's label: tub of 250 g, invented",
    );
    await house.submit(`/dye-bench/dyes/${id}/label`, LABEL).expect(303);
    const body = await recipe(made.recipeId);
    expect(body.label).toEqual({
      says: 'Worked by the maker’s label of Madder R',
      source: 'tub of 250 g, invented',
      others: '',
    });
    const label = "from the maker's label: tub of 250 g, invented";
    expect(figure(body.figures, 'Temperature')).toMatchObject({ value: '50 °C', source: label });
    expect(figure(body.figures, 'Hold')).toMatchObject({ value: '70 min', source: label });
    expect(figure(body.figures, 'pH')).toMatchObject({ value: '10.5 to 11', source: label });
    expect(figure(body.figures, 'Liquor ratio')?.source).not.toBe(label);
    const line = (name: string) => body.lines.find((each: { name: string }) => each.name.startsWith(name));
    expect(line('Salt')).toMatchObject({ asked: '45 g/L', source: label });
    expect(line('Soda')).toMatchObject({ source: expect.not.stringContaining('label') });
    const { order, card } = await batch(code);
    const steps = order.steps.map(({ title, minutes, source }: Record<string, string>) => [
      title,
      minutes,
      source === label,
    ]);
    for (const wanted of [
      ['Set the bath at 25 °C', '10 min', true],
      ['Hold 50 °C', '70 min', true],
      ['Heat to 30 °C', '3 min', true],
      ['Dry', '120 min', false],
    ]) {
      expect(steps).toContainEqual(wanted);
    }
    const says = order.steps.map(({ says: text }: { says: string }) => text).join(' ');
    expect(says).toContain('Rinse cold until clear.');
    expect(says).toContain('Soap.');
    expect(card.lines.find(({ name }: { name: string }) => name.startsWith('Salt'))).toMatchObject({
      asked: '45 g/L',
      source: label,
    });
  });

  it('does not touch a batch that has started, nor a figure that the workroom wrote down itself', async () => {
    const id = await addDye('Madder R');
    const made = await furnishCotton({ 'dyes.0.name': 'Madder R', 'dyes.0.owf': '2' });
    const own = await nextVersion(made.recipeId, { hold: '33' });
    const code = await plan(house, { ...made, recipeId: own });
    await start(house, code);
    await house.submit(`/dye-bench/dyes/${id}/label`, LABEL).expect(303);
    expect(figure((await batch(code)).card.figures, 'Temperature')?.value).toBe('60 °C');
    const body = await recipe(own);
    expect(figure(body.figures, 'Hold')).toMatchObject({ value: '33 min', source: "this workroom's own" });
    expect(figure(body.figures, 'Temperature')?.value).toBe('50 °C');
    expect(body.warnings.map(({ text }: { text: string }) => text)).toContain(
      'The label says 70 min, and this recipe has 33 min as its own time.',
    );
  });

  it('is that of the largest share, and a label that says something else is told on recipe and card', async () => {
    const [red, blue] = [await addDye('Madder R'), await addDye('Woad B')];
    await house.submit(`/dye-bench/dyes/${red}/label`, LABEL).expect(303);
    await house.submit(`/dye-bench/dyes/${blue}/label`, { temperature: '40' }).expect(303);
    const made = await furnishCotton({
      'dyes.0.name': 'Woad B',
      'dyes.0.owf': '0.5',
      'dyes.1.name': 'Madder R',
      'dyes.1.owf': '1',
    });
    const body = await recipe(made.recipeId);
    expect(body.label).toMatchObject({
      says: 'Worked by the maker’s label of Madder R',
      others: 'The label of Woad B says something else.',
    });
    const { card } = await batch(await plan(house, made));
    expect(card.warnings.map(({ id }: { id: string }) => id)).toContain('label-others');
  });

  it('is shown as it was entered, unchanged when it is saved again, and taken away by an empty one', async () => {
    const id = await addDye('Madder R');
    const path = `/dye-bench/dyes/${id}/label`;
    await house.submit(path, LABEL).expect(303);
    const { body } = await house.data(path).expect(200);
    expect(typedIn(body.fields)).toMatchObject(LABEL);
    expect(body.entered).toMatchObject([{ empty: false }]);
    await house.submit(path, LABEL).expect(303);
    expect((await house.data(path)).body.entered).toHaveLength(1);
    await house.submit(path, {}).expect(303);
    expect((await house.data(path)).body.entered).toMatchObject([{ empty: true }, { empty: false }]);
    const page = await house.page(path).expect(200);
    expect(page.text).toContain('says nothing');
  });

  it('says what cannot be, beside its field', async () => {
    const id = await addDye('Madder R');
    const refused = await house
      .submit(`/dye-bench/dyes/${id}/label`, {
        ...LABEL,
        start: '60',
        ph_from: '12',
        'additions.2.at': '28',
        'washes.0.amount': '3',
        'washes.1.amount': '',
      })
      .expect(422);
    for (const words of [
      'set no hotter than it is dyed at',
      'pH from: enter the lower figure first.',
      'The bath is at 60 °C by then',
      'Takes: choose what this amount is of.',
      'Amount: enter grams in a litre.',
      'value="tub of 250 g, invented"',
    ]) {
      expect(refused.text).toContain(words);
    }
    const hot = await house.submit(`/dye-bench/dyes/${id}/label`, { temperature: '130' }).expect(422);
    expect(hot.text).toContain('An open bath gets no hotter than 100 °C');
    const late = await house
      .submit(`/dye-bench/dyes/${id}/label`, { ...LABEL, 'additions.2.at': '55' })
      .expect(422);
    expect(late.text).toContain('The label dyes at 50 °C');
    const owf = await house
      .submit(`/dye-bench/dyes/${id}/label`, { ...LABEL, 'washes.1.amount': '2 %' })
      .expect(422);
    expect(owf.text).toContain('A wash-off is dosed by its litres');
  });
});

describe('what is suggested for a dye with a label', () => {
  const ASKED = {
    fibre: 'cotton',
    dye_class: 'reactive',
    'dyes.0.name': 'Madder R',
    'dyes.0.owf': '2',
  };
  /** The label of above with a dose of something that is not offered for cotton otherwise. */
  const MORE = { ...LABEL, 'doses.2.what': 'levelling-agent/as-sold', 'doses.2.amount': '1 g/L' };

  it('is what the label says, ticked as that, and the rest from our figures', async () => {
    const id = await addDye('Madder R');
    await house.submit(`/dye-bench/dyes/${id}/label`, MORE).expect(303);
    const { body } = await house.data(`/dye-bench/recipes/new?${new URLSearchParams(ASKED)}`).expect(200);
    const typed = typedIn(body.fields);
    expect(typed).toMatchObject({ temperature: '50', hold: '70', ph_from: '10.5', ph_to: '11' });
    expect(typed).toMatchObject({ temperature_label: 'yes', hold_label: 'yes', ph_label: 'yes' });
    expect(typed.liquor_ratio_label ?? '').toBe('');
    expect(body.notes[0].text).toMatch(/^Figures of the maker’s label of Madder R stand at each field/);
    expect(body.hints.auxiliaries).toMatch(
      /Salt.*: 45 g\/L \(from the maker's label: tub of 250 g, invented\)/,
    );
    const rows = Object.entries(typed).filter(([, value]) => value === 'levelling-agent/as-sold');
    expect(rows).toHaveLength(1);
    const made = await keepRecipe(house, {
      ...typed,
      fibre: 'cotton',
      shade_id: String(house.write((tx) => makeShade(tx, 'Madder'))),
      name: 'Madder by its label',
    });
    const kept = await recipe(made);
    expect(kept.warnings.filter(({ id: what }: { id: string }) => what.startsWith('label-'))).toEqual([]);
    expect(figure(kept.figures, 'Temperature')).toMatchObject({ source: "from the maker's label" });
    expect(kept.lacking).toBeNull();
  });

  it('is what a quick bath is worked by', async () => {
    const id = await addDye('Madder R');
    await house.submit(`/dye-bench/dyes/${id}/label`, MORE).expect(303);
    const quick = {
      mass: '500',
      weighed: 'conditioned',
      'fibres.0.fibre': 'cotton',
      dye_class: 'reactive',
      'dyes.0.name': 'Madder R',
      'dyes.0.owf': '2',
      offered: 'yes',
    };
    const { body } = await house.data(`/dye-bench/quick?${new URLSearchParams(quick)}`).expect(200);
    expect(body.result.label).toBe('Worked by the maker’s label of Madder R');
    expect(figure(body.result.figures, 'Temperature')?.value).toBe('50 °C');
    const salt = body.result.lines.find(({ name }: { name: string }) => name.startsWith('Salt'));
    expect(salt).toMatchObject({ asked: '45 g/L', source: "from the maker's label: tub of 250 g, invented" });
    const other = { ...quick, temperature: '40', 'dyes.0.name': 'Another' };
    const { body: without } = await house.data(`/dye-bench/quick?${new URLSearchParams(other)}`).expect(200);
    expect(without.result.label).toBe('');
    const hotter = { ...quick, temperature: '55' };
    const { body: typed } = await house.data(`/dye-bench/quick?${new URLSearchParams(hotter)}`).expect(200);
    expect(typed.result.warnings.map(({ text }: { text: string }) => text)).toContain(
      'The label says 50 °C, and this recipe has 55 °C as its own temperature.',
    );
  });

  it('is added to a recipe that lacks it in one step, as a version of its own', async () => {
    const id = await addDye('Madder R');
    const { recipeId } = await furnishCotton({ 'dyes.0.name': 'Madder R', 'dyes.0.owf': '2' });
    await house.submit(`/dye-bench/dyes/${id}/label`, MORE).expect(303);
    const { lacking, lines } = await recipe(recipeId);
    expect(lacking.doses).toBe('1 g/L of levelling agent');
    const added = await house.submit(lacking.action, { request_key: lacking.requestKey }).expect(303);
    const next = await recipe(Number(/(\d+)/.exec(added.headers.location ?? '')?.[1]));
    expect(next).toMatchObject({ version: 2, lacking: null });
    expect(next.lines).toHaveLength(lines.length + 1);
    expect(next.lines.at(-1)).toMatchObject({
      asked: '1 g/L',
      source: "from the maker's label: tub of 250 g, invented",
    });
    expect((await recipe(recipeId)).lacking).toBeNull();
    const again = await house.submit(`/dye-bench/recipes/${next.id}/label-doses`, {}).expect(409);
    expect(again.text).toContain('has all that its label doses');
    await house.submit(lacking.action, {}).expect(409);
    // The next version opens with it.
    expect(typedIn((await house.data(next.newVersion)).body.fields)['auxiliaries.2.label']).toBe('yes');
  });
});

describe('a label on paper', () => {
  it('is what it says, in words, and not its form', async () => {
    const id = await addDye('Madder R');
    expect((await house.page(`/dye-bench/dyes/${id}/label`)).text).toContain(
      'Nothing is entered of this label',
    );
    await house.submit(`/dye-bench/dyes/${id}/label`, LABEL).expect(303);
    const { body } = await house.data(`/dye-bench/dyes/${id}/label`).expect(200);
    expect(body.sheet.figures).toContainEqual({ label: 'Dye at', value: `${LABEL.temperature} °C` });
    expect(body.sheet.doses[0]).toEqual({
      what: 'Salt (sodium chloride)',
      upTo: `up to ${LABEL['doses.0.up_to']} owf`,
      amount: LABEL['doses.0.amount'],
    });
    expect(body.sheet.washes[1]).toEqual({
      says: 'Soap.',
      at: '70 °C',
      minutes: '25 min',
      takes: '2 g/L of detergent',
    });
  });
});

describe('the maker’s label of a recipe', () => {
  it('goes along with a copy for the same fibre and class, and is left behind by another', async () => {
    const made = await furnishCotton({ 'dyes.0.name': 'Free dye', 'dyes.0.owf': '2' });
    await house.submit(`/dye-bench/recipes/${made.recipeId}/label`, { temperature: '45' }).expect(303);
    const copyAs = async (name: string, query: string) => {
      const { body } = await house.data(`/dye-bench/recipes/${made.recipeId}/copy${query}`).expect(200);
      const forWhat = body.forWhat.map((each: { name: string; value: string }) => [each.name, each.value]);
      const said = {
        ...Object.fromEntries(forWhat),
        ...typedIn(body.fields),
        'dyes.0.name': 'Some dye',
        name,
      };
      const sent = await house.submit(`/dye-bench/recipes/${made.recipeId}/copy`, said);
      expect(sent.status).toBe(303);
      return recipe(Number(/recipes\/(\d+)/.exec(sent.headers.location ?? '')?.[1]));
    };
    // What stands at the field of a copy and what is suggested for it are one offer.
    const opened = (await house.data(`/dye-bench/recipes/${made.recipeId}/copy`)).body;
    expect(opened.fields.temperature.hint).toBe("Suggested 45 °C: from the maker's label.");
    const same = await copyAs('Second', '');
    expect(same.label).toMatchObject({ says: 'Worked by its own maker’s label' });
    expect(figure(same.figures, 'Temperature')?.value).toBe('45 °C');
    const anew = await house.data(
      `/dye-bench/recipes/${made.recipeId}/copy?fibre=cotton&dye_class=reactive&depth=medium`,
    );
    expect(typedIn(anew.body.fields)).toMatchObject({ temperature: '45', temperature_label: 'yes' });
    const viscose = await copyAs('Third', '?fibre=viscose');
    expect(viscose.label).toBeNull();
  });

  it('goes before that of its dyes, holds for later versions, and is refused where the fibre does not stand it', async () => {
    const id = await addDye('Madder R');
    await house.submit(`/dye-bench/dyes/${id}/label`, LABEL).expect(303);
    const made = await furnishCotton({ 'dyes.0.name': 'Madder R', 'dyes.0.owf': '2' });
    const path = `/dye-bench/recipes/${made.recipeId}/label`;
    await house.submit(path, { temperature: '45' }).expect(303);
    const body = await recipe(made.recipeId);
    expect(body.label).toMatchObject({ says: 'Worked by its own maker’s label' });
    expect(figure(body.figures, 'Temperature')).toMatchObject({
      value: '45 °C',
      source: "from the maker's label",
    });
    const next = await nextVersion(made.recipeId);
    expect(figure((await recipe(next)).figures, 'Temperature')?.value).toBe('45 °C');
    const chlorine = await house
      .submit(path, {
        'washes.0.says': 'Bleach.',
        'washes.0.at': '60',
        'washes.0.minutes': '10',
        'washes.0.what': 'other/hypochlorite',
        'washes.0.amount': '2',
      })
      .expect(422);
    expect(chlorine.text).toMatch(/chlorine/i);
    await house.submit(path, {}).expect(303);
    expect((await recipe(made.recipeId)).label).toMatchObject({
      says: 'Worked by the maker’s label of Madder R',
    });
  });
});
