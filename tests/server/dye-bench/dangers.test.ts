import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { insertRecipe, OWN } from '../../../server/dye-bench/recipe/store.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { makeBolt, openTestHouse, type TestHouse } from '../support.ts';
import { addressOf, cotton, workOut } from './quick/quick-asking.ts';
import {
  addVessel,
  finish,
  furnish,
  keepRecipe,
  makeGround,
  makeShade,
  plan,
  planFields,
  recipeFields,
  start,
} from './recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const HYDROS_AND_VINEGAR = {
  'auxiliaries.0.what': 'acetic-acid/vinegar-5',
  'auxiliaries.0.amount': '20 g/L',
  'auxiliaries.1.what': 'hydrosulphite/as-sold',
  'auxiliaries.1.amount': '2 g/L',
};
const shadeOf = (name = 'Moss') => house.write((tx) => makeShade(tx, name));
const problemsOf = (body: { error: { problems: { field: string; message: string }[] } }) =>
  body.error.problems;

/** A cloth of these percents with a bolt of 10 m. */
const clothOf = (name: string, content: Record<string, number>) =>
  house.write((tx) => {
    const stock = makeGround(tx, { name, content, gramsPerM2: 100 });
    return { ...stock, piece: makeBolt(tx, stock.lotId, '10 m') };
  });

/** What a label says of a cloth comes out to be another thing. */
const becomes = (clothId: number, content: Record<string, number>) =>
  house.write((tx) => {
    tx.run(tx.db.deleteFrom('cloth_fibre').where('cloth_id', '=', clothId));
    for (const [fibre, percent] of Object.entries(content)) {
      tx.run(tx.db.insertInto('cloth_fibre').values({ cloth_id: clothId, fibre, share_bp: percent * 100 }));
    }
  });

const REACTIVE = {
  name: 'Moss on cotton',
  fibre: 'cotton',
  dye_class: 'reactive',
  method: 'vinyl sulphone or monofluorotriazine',
  'auxiliaries.0.what': 'salt/as-sold',
  'auxiliaries.0.amount': '40 g/L',
  'auxiliaries.1.what': 'soda-ash/anhydrous',
  'auxiliaries.1.amount': '10 g/L',
  temperature: '60',
};

describe('a recipe', () => {
  it('is refused beside the field where chemicals clash, and keeps what was typed', async () => {
    const fields = recipeFields(shadeOf(), HYDROS_AND_VINEGAR);
    const { body } = await house.send('/dye-bench/recipes/new', fields).expect(422);
    expect(problemsOf(body)).toContainEqual({
      field: 'auxiliaries.1.what',
      message: expect.stringMatching(/^Sodium hydrosulphite with vinegar.* gives sulphur dioxide.*rinse/),
    });
    const { text } = await house.submit('/dye-bench/recipes/new', fields).expect(422);
    expect(text).toContain('href="#f-auxiliaries-1-what"');
    expect(text).toContain('gives sulphur dioxide, a gas that harms the lungs');
    expect(text).toMatch(/<option value="hydrosulphite\/as-sold" selected>/);
    expect(text).toContain('value="20 g/L"');
  });

  it('asks for the group of another chemical, and looks it up', async () => {
    const moss = shadeOf();
    const { text } = await house.page('/dye-bench/recipes/new').expect(200);
    expect(text).toContain('value="other/hydros"');
    expect(text).not.toContain('value="other/as-sold"');
    const other = (form: string) =>
      recipeFields(moss, {
        'auxiliaries.2.what': `other/${form}`,
        'auxiliaries.2.amount': '1 g/L',
        'auxiliaries.2.name': 'Stain lifter',
      });
    const unsaid = await house.send('/dye-bench/recipes/new', other('as-sold')).expect(422);
    expect(problemsOf(unsaid.body)).toEqual([
      { field: 'auxiliaries.2.what', message: expect.stringContaining('what group Stain lifter is of') },
    ]);
    const hydros = await house.send('/dye-bench/recipes/new', other('hydros')).expect(422);
    expect(problemsOf(hydros.body)[0]?.message).toMatch(/sulphur dioxide/);
    const id = await keepRecipe(house, other('none'));
    const { body } = await house.data(`/dye-bench/recipes/${id}`).expect(200);
    expect(body.lines.at(-1)).toMatchObject({ name: 'Stain lifter' });
  });

  it('that comes near a limit is kept, and its page warns', async () => {
    const id = await keepRecipe(
      house,
      recipeFields(shadeOf(), {
        fibre: 'silk',
        temperature: '88',
        temperature_label: 'yes',
        name: 'Moss on silk',
      }),
    );
    const { body } = await house.data(`/dye-bench/recipes/${id}`).expect(200);
    expect(body.warnings).toContainEqual({
      id: 'limit-silk',
      text: 'Silk: it loses lustre above 85 °C, and this bath is at 88 °C (our rule). Dye it at 85 °C at most.',
      source: expect.stringContaining('our rule'),
    });
    const { text } = await house.page(`/dye-bench/recipes/${id}`).expect(200);
    expect(text).toContain('it loses lustre above 85 °C');
  });
});

describe('a batch', () => {
  it('of cotton with wool is refused with reactive dye and soda, and told the way', async () => {
    const blend = clothOf('Winceyette', { cotton: 80, wool: 20 });
    const recipeId = await keepRecipe(house, recipeFields(shadeOf(), REACTIVE));
    const vesselId = await addVessel(house, 'Small pot', '50');
    const lengths = { [blend.piece.code]: '2' };
    const { body } = await house
      .send('/dye-bench/batches/new', planFields({ recipeId, vesselId, lengths }))
      .expect(422);
    expect(problemsOf(body)).toEqual([
      {
        field: 'pieces.0.length',
        message: expect.stringMatching(/Wool: hot alkali dissolves it.*pH 11\.\d.*60 °C.*wool-blocking/),
      },
    ]);
    const page = await house.page(`/dye-bench/batches/new?recipe_id=${recipeId}`).expect(200);
    expect(page.text).toContain('Wool: hot alkali dissolves it');
  });

  it('of a recipe that was kept before the rule was refuses the plan with the reason', async () => {
    const { piece, moss, vesselId } = await furnish(house);
    const recipe: Recipe = {
      dyeClass: 'acid-levelling',
      method: '',
      dyes: [{ name: 'Fern A', owfMilli: 2000 }],
      auxiliaries: [
        { kind: 'acetic-acid', name: 'vinegar', form: 'vinegar-5', per: 'litre', mgPerLitre: 20_000 },
        { kind: 'hydrosulphite', name: 'hydros', form: 'as-sold', per: 'litre', mgPerLitre: 2000 },
      ],
      liquorRatioMilli: 20_000,
      temperatureC: 98,
      holdMinutes: 45,
      marks: { liquorRatioMilli: OWN, temperatureC: OWN, holdMinutes: OWN, pH: OWN, rates: OWN },
    };
    const recipeId = house.write((tx) =>
      insertRecipe(tx, {
        name: 'Of before',
        version: 1,
        followsId: null,
        shadeId: moss,
        fibre: 'nylon',
        recipe,
        auxiliaryMarks: [OWN, OWN],
        shrinkageBp: 0,
        note: '',
        typed: {},
      }),
    );
    const lengths = { [piece.code]: '2' };
    const { body } = await house
      .send('/dye-bench/batches/new', planFields({ recipeId, vesselId, lengths }))
      .expect(422);
    expect(problemsOf(body)[0]?.message).toMatch(/gives sulphur dioxide/);
  });

  it('that was planned is not started once its cloth is known to be harmed', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    becomes(stock.clothId, { nylon: 95, metallised: 5 });
    const { body } = await house.data(`/dye-bench/batches/${code}`).expect(200);
    expect(body.trouble.join(' ')).toContain('Metallised film yarn');
    const refused = await house.send(`/dye-bench/batches/${code}/starts`, {}).expect(409);
    expect(refused.body.error.message).toContain('Metallised film yarn');
  });

  it('is refused a vessel that its bath eats, at the vessel', async () => {
    const cotton = clothOf('Lawn', { cotton: 100 });
    const recipeId = await keepRecipe(house, recipeFields(shadeOf(), REACTIVE));
    await house
      .submit('/dye-bench/vessels', { name: 'Old pan', volume: '50', material: 'aluminium' })
      .expect(303);
    const { body: bench } = await house.data('/dye-bench/vessels');
    const vesselId = bench.vessels[0].id;
    const lengths = { [cotton.piece.code]: '2' };
    const { body } = await house
      .send('/dye-bench/batches/new', planFields({ recipeId, vesselId, lengths }))
      .expect(422);
    expect(problemsOf(body)).toEqual([
      {
        field: 'vessel_id',
        message: expect.stringMatching(/Soda ash.* with the vessel of aluminium gives hydrogen/),
      },
    ]);
    const steel = await addVessel(house, 'Steel pot', '40');
    const query = `recipe_id=${recipeId}&vessel_id=${steel}&pieces.0.piece=${cotton.piece.code}&pieces.0.length=2`;
    const worked = await house.data(`/dye-bench/batches/new?${query}`).expect(200);
    const offers: { vessel: string; baths: number; how: string }[] = worked.body.byVessel;
    expect(offers.find(({ vessel }) => vessel.startsWith('Old pan'))).toMatchObject({
      baths: 0,
      how: expect.stringContaining('hydrogen'),
    });
  });

  it('tells on its card what is between its baths, at the drain, and in the vessel before', async () => {
    const polyester = clothOf('Satin', { polyester: 100 });
    const { piece, vesselId } = await furnish(house);
    const disperse = await keepRecipe(
      house,
      recipeFields(shadeOf('Rust'), {
        name: 'Rust on polyester',
        fibre: 'polyester',
        dye_class: 'disperse',
        // By its label this dye goes deeper than a tint at the boil.
        temperature_label: 'yes',
        'auxiliaries.0.what': 'dispersant/as-sold',
        'auxiliaries.0.amount': '1 g/L',
        'auxiliaries.1.what': 'acetic-acid/vinegar-5',
        'auxiliaries.1.amount': '20 g/L',
      }),
    );
    const first = await plan(house, {
      recipeId: disperse,
      vesselId,
      lengths: { [polyester.piece.code]: '0.5' },
    });
    const { body } = await house.data(`/dye-bench/batches/${first}`).expect(200);
    const drain = body.card.warnings.find(({ id }: { id: string }) => id === 'drain');
    expect(drain.text).toMatch(/At the drain: .*sodium hydrosulphite with vinegar.* gives sulphur dioxide/);
    const says = (title: RegExp): string =>
      body.order.steps.find((step: { title: string }) => title.test(step.title)).says;
    expect(says(/^Rinse/)).toMatch(/Drain, and rinse 3 times.*pH paper.*our rule.*sulphur dioxide/);
    expect(says(/^Reduction clear/)).toMatch(
      /Order: Fill the bath first, then sprinkle the powder in slowly/,
    );
    expect(says(/^Reduction clear/)).toMatch(/Order: Caustic soda into cold water/);
    const { text } = await house.page(`/dye-bench/batches/${first}`).expect(200);
    expect(text).toContain('At the drain: let the spent baths go one after the other');
    await start(house, first);
    // The last bath of polyester was the one with vinegar.
    const reduced = await keepRecipe(
      house,
      recipeFields(shadeOf('Sand'), { name: 'Stripped', 'auxiliaries.1.what': 'hydrosulphite/as-sold' }),
    );
    const next = await plan(house, { recipeId: reduced, vesselId, lengths: { [piece.code]: '2' } });
    const after = await house.data(`/dye-bench/batches/${next}`).expect(200);
    const held = after.body.card.warnings.find(({ id }: { id: string }) => id === 'bath-before');
    expect(held.text).toMatch(/^Small pot held D1 last\. Drain, and rinse 3 times.*sulphur dioxide/);
  });
});

describe('a batch of dyed pieces', () => {
  it('tells what may be left in them of the batch before', async () => {
    const twill = clothOf('Twill', { nylon: 100 });
    const moss = shadeOf();
    const acid = await keepRecipe(house, recipeFields(moss));
    const reduced = await keepRecipe(
      house,
      recipeFields(shadeOf('Rust'), {
        name: 'Stripped',
        'auxiliaries.1.what': 'hydrosulphite/as-sold',
      }),
    );
    const [first, second] = [await addVessel(house, 'Pot A', '40'), await addVessel(house, 'Pot B', '30')];
    const code = await plan(house, {
      recipeId: acid,
      vesselId: first,
      lengths: { [twill.piece.code]: '2' },
    });
    await start(house, code);
    await finish(house, code, ['2']);
    const dyed = house.book.first(
      house.book.db
        .selectFrom('piece')
        .innerJoin('lot', 'lot.id', 'piece.lot_id')
        .select('piece.code')
        .where('lot.batch_id', 'is not', null),
    );
    const lengths = { [dyed?.code ?? '']: '1' };
    const fields = planFields({ recipeId: reduced, vesselId: second, lengths });
    const { body } = await house.send('/dye-bench/batches/new', { ...fields, over: 'yes' }).expect(200);
    const made = await house.data(body.location).expect(200);
    const warnings: { id: string; text: string }[] = made.body.card.warnings;
    expect(warnings.filter(({ id }) => id === 'bath-before').map(({ text }) => text)).toEqual([
      expect.stringMatching(/was dyed in D1\. Drain, and rinse 3 times.*sulphur dioxide/),
    ]);
  });
});

describe('at the pot', () => {
  /** 2 m of organza, 90 g in 1.8 L, with a tenth of a gram of sulphuric acid to the litre, about pH 2.7. */
  async function startSour(): Promise<string> {
    const { piece, moss, vesselId } = await furnish(house);
    const recipeId = await keepRecipe(
      house,
      recipeFields(moss, {
        name: 'Sour',
        'auxiliaries.1.what': 'sulphuric-acid/as-sold',
        'auxiliaries.1.amount': '0.1 g/L',
      }),
    );
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    for (const step of ['begin', 'prepare', 'weigh', 'dissolve']) {
      await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step }).expect(200);
    }
    return code;
  }
  const weigh = (code: string, amount: string) =>
    house.send(`/dye-bench/batches/${code}/logs/steps`, {
      bath: '1',
      step: 'set-1',
      things: [{ name: 'sulphuric acid', amount, lot: '' }],
    });
  const logged = () =>
    house.book.all(house.book.db.selectFrom('batch_log').select('what').where('what', '=', 'set-1'));

  it('refuses an amount that the cloth does not stand, before it is logged', async () => {
    const code = await startSour();
    const { body } = await weigh(code, '1.8 g').expect(422);
    expect(problemsOf(body)).toEqual([
      {
        field: 'things.0.amount',
        message: expect.stringMatching(/^Nylon: hot strong acid breaks it down.*pH 1\.\d.*Do not put it in/),
      },
    ]);
    expect(logged()).toEqual([]);
    await weigh(code, '0.2 g').expect(200);
    expect(logged()).toHaveLength(1);
  });

  it('warns on the page of an addition, and refuses dye for cloth that its bath harms', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const { body } = await house.data(`/dye-bench/batches/${code}/addition`).expect(200);
    expect(body.warnings.map(({ text }: { text: string }) => text).join(' ')).toMatch(/Acid into water/);
    await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step: 'begin' }).expect(200);
    becomes(stock.clothId, { nylon: 95, metallised: 5 });
    const dyes = [{ name: 'Fern A', target: '2', reached: '1' }];
    const refused = await house.send(`/dye-bench/batches/${code}/addition`, { dyes }).expect(409);
    expect(refused.body.error.message).toMatch(/Metallised film yarn.*Add nothing to this bath/);
  });
});

describe('the quick bath', () => {
  const blend = {
    mass: '500 g',
    weighed: 'conditioned',
    'fibres.0.fibre': 'cotton',
    'fibres.0.share': '70',
    'fibres.1.fibre': 'silk',
    'fibres.1.share': '30',
    dye_class: 'reactive',
    'dyes.0.owf': '2',
  };

  it('refuses what is offered where the blend does not stand it, in words and in figures', async () => {
    const address = addressOf({ ...blend, offered: 'yes' });
    const { text } = await house.page(address);
    expect(text).toContain('href="#f-offered"');
    expect(text).toContain('Silk: hot alkali dissolves it');
    expect(text).toContain('two tones');
  });

  it('tells the orders to keep', async () => {
    const { warnings } = await workOut(house, cotton({ mass: '500 g', 'dyes.0.owf': '2', offered: 'yes' }));
    expect(warnings.find(({ id }) => id === 'order-reactive-alkali')?.text).toMatch(/^Order: Alkali last/);
  });

  it('refuses a vessel that the bath eats, at what it is made of', async () => {
    const address = addressOf({
      mass: '500 g',
      weighed: 'conditioned',
      'fibres.0.fibre': 'cotton',
      'dyes.0.owf': '2',
      offered: 'yes',
      material: 'aluminium',
    });
    const { text } = await house.page(address);
    expect(text).toContain('href="#f-material"');
    expect(text).toContain('gives hydrogen');
  });
});
