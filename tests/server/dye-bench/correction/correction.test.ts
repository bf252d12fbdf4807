import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import {
  addVessel,
  finish,
  keepRecipe,
  makeGround,
  makeOrganza,
  makeShade,
  plan,
  planFields,
  recipeFields,
  start,
} from '../recipe/making.ts';

const SCALE = { scale: '500', basis: 'conditioned' };

let house: TestHouse;
let code: string;
let moss: number;
beforeAll(async () => {
  house = await openTestHouse();
  const { piece, shadeId } = house.write((tx) => {
    const stock = makeGround(tx, {
      name: 'Cotton lawn',
      content: { cotton: 100 },
      width: '1 m',
      gramsPerM2: 100,
    });
    return { piece: makeBolt(tx, stock.lotId, '10 m'), shadeId: makeShade(tx, 'Moss') };
  });
  moss = shadeId;
  const recipeId = await keepRecipe(
    house,
    recipeFields(moss, {
      name: 'Moss on cotton',
      fibre: 'cotton',
      dye_class: 'reactive',
      method: 'vinyl sulphone or monofluorotriazine',
      'auxiliaries.0.what': 'salt/as-sold',
      'auxiliaries.0.amount': '50 g/L',
      'auxiliaries.1.what': 'soda-ash/anhydrous',
      'auxiliaries.1.amount': '15 g/L',
      temperature: '60',
      shrinkage: '0',
    }),
  );
  const vesselId = await addVessel(house, 'Large pot', '40');
  // Put on the scale: 500 g.
  const form = planFields({ recipeId, vesselId, lengths: { [piece.code]: '5' } });
  const answer = await house.send('/dye-bench/batches/new', { ...form, ...SCALE }).expect(200);
  code = answer.body.location.split('/').at(-1);
});
afterAll(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;
const path = () => `/dye-bench/batches/${code}/correction`;

describe('a correction', () => {
  it('is for what was dyed', async () => {
    expect((await house.page(path())).text).toContain('was not dyed yet');
    await start(house, code);
    const page = await data(path());
    expect(page.found).toBeNull();
    expect((await house.page(`/dye-bench/batches/${code}`)).text).toContain('Correct it');
  });

  // A craft supplier's page: 10 g of thiourea dioxide and 20 g of soda to 500 g in 8 L, 100 °C on cellulose, 15 to 20 min.
  it('gives a stripping bath with its amounts, steps and cautions', async () => {
    const { found } = await data(`${path()}?trouble=too-dark`);
    const way = found.ways.find(({ id }: { id: string }) => id === 'thiourea-dioxide');
    expect(way.bath).toMatchObject({ mass: '500 g', volume: '8 L', heat: '100 °C for 15 min', problems: [] });
    expect(
      way.bath.amounts.map(({ name, amount }: { name: string; amount: string }) => [name, amount]),
    ).toEqual([
      ['thiourea dioxide', '10 g'],
      ['soda ash, anhydrous', '20 g'],
    ]);
    expect(way.bath.steps.map(({ title }: { title: string }) => title)).toEqual([
      'Wet the cloth out',
      'Set the bath at 40 °C',
      'Add thiourea dioxide',
      'Heat to 100 °C',
      'Hold 100 °C',
      'Cool to 60 °C',
      'Rinse three times',
      'A last bath with citric acid',
      'Dry',
    ]);
    expect(found.cautions.all.map(({ id }: { id: string }) => id)).toContain('strip-gas');
    expect(found.refused.join(' ')).toContain('no dye makes a shade paler');
    // Citric acid after thiourea dioxide: out of the cloth first.
    const rinse = way.bath.steps.find(({ title }: { title: string }) => title === 'Rinse three times');
    expect(rinse.says).toContain('sulphur');
  });

  it('has its cautions open until they are read for this batch, and leads back to what was asked', async () => {
    const asked = `${path()}?trouble=too-dark&after=none`;
    const { found } = await data(asked);
    expect(found.cautions.unread).toContain('strip-gas');
    const open = /<details class="screen-only" open>\s*<summary><b>Cautions:/;
    expect((await house.page(asked)).text).toMatch(open);
    const read = { trouble: 'too-dark', after: 'none', cautions: found.cautions.unread.join('\n') };
    const { body } = await house.send(`${path()}/reads`, read).expect(200);
    expect(body.location).toBe(asked);
    expect((await data(asked)).found.cautions.unread).toEqual([]);
    const { text } = await house.page(asked);
    expect(text).not.toMatch(open);
    expect(text).toContain('Cautions, read:');
    await house.send(`${path()}/reads`, { ...read, cautions: '' }).expect(422);
  });

  it('is a batch of its own, and only of what is back', async () => {
    const { text } = await house.page(`${path()}?trouble=too-dark`);
    expect(text).toContain('finish this batch first');
    const form = { trouble: 'too-dark', after: 'none', strip: 'thiourea-dioxide', becomes: 'new' };
    await house.send(path(), form).expect(409);
    await finish(house, code, ['5']);
    expect((await house.page(`${path()}?trouble=too-dark`)).text).toContain('Plan it as a batch of its own');
    const { body } = await house.send(path(), form).expect(200);
    const planned = await data(body.location);
    expect(planned.recipe.chip.name).toBe('Stripped Moss');
    const vessel = planned.fields.vessel_id.options.at(-1).value;
    const worked = await data(`${body.location}&vessel_id=${vessel}&scale=500&basis=conditioned`);
    expect(worked.figures.massMg).toBe(500_000);
    expect(worked.figures.bath.lines.map(({ massMg }: { massMg: number }) => massMg)).toEqual([
      10_000, 20_000,
    ]);
    expect(worked.figures.warnings.map(({ text: said }: { text: string }) => said).join(' ')).toContain(
      'Stripping bath is worked by published figures or its label',
    );
    const warned = worked.figures.warnings.map(({ text: said }: { text: string }) => said).join(' ');
    expect(warned).not.toContain('overdyeing goes darker');
    const query = new URL(body.location, 'http://workroom').searchParams;
    const batch = await house
      .send('/dye-bench/batches/new', {
        recipe_id: query.get('recipe_id') ?? '',
        vessel_id: vessel,
        over: 'yes',
        ...SCALE,
        pieces: [{ piece: query.get('pieces.0.piece') ?? '', length: '5' }],
      })
      .expect(200);
    const stripped = batch.body.location.split('/').at(-1);
    await start(house, stripped);
    await finish(house, stripped, ['4.95']);
    const { back, byLabel } = await data(`/dye-bench/batches/${stripped}`);
    expect(byLabel).toBeNull();
    const lot = await data(back[0].lot.href);
    expect(JSON.stringify(lot)).toContain('Stripped Moss');
    // What is stripped is ground for the next dyeing, and another strip of the same batch has a name of its own.
    const pieces = await data('/dye-bench/batches/new?recipe_id=1');
    expect(pieces.pieces.map(({ code: each }: { code: string }) => each)).toContain(back[0].piece.code);
  });

  // faqs.tips: 20 to 40 % of reactive dye is lost to the water; half of the rest when the soda is in is our rule.
  it('adds nothing to reactive dye once the soda is in, and says what that would yield', async () => {
    const vesselId = await addVessel(house, 'Small tub', '60');
    const [ground] = (await data('/dye-bench/batches/new?recipe_id=1')).pieces;
    const form = planFields({ recipeId: 1, vesselId, lengths: { [ground.code]: '1' } });
    const { body } = await house.send('/dye-bench/batches/new', form).expect(200);
    const late = body.location.split('/').at(-1);
    await start(house, late);
    const bench = async () => (await data(`/dye-bench/batches/${late}/bench`)).bath;
    const done = (step: string) =>
      house.send(`/dye-bench/batches/${late}/logs/steps`, { bath: '1', step }).expect(200);
    await done('begin');
    for (let step = (await bench()).step; !step.title.startsWith('Hold'); step = (await bench()).step)
      await done(step.key);
    const page = await data(`/dye-bench/batches/${late}/addition`);
    expect(page.refused).toMatch(/The soda is in\. Of reactive dye 20 to 40 % is lost/);
    const { found } = await data(`/dye-bench/batches/${late}/correction?trouble=too-light`);
    expect(found.refused.join(' ')).toContain('30 to 40 %');
    expect(found.ways.map(({ id }: { id: string }) => id)).toEqual(['overdye']);
  });

  it('refuses what the cloth does not stand, and a way that there is not', async () => {
    await house
      .send(path(), { trouble: 'too-dark', after: 'none', strip: 'ammonia', becomes: 'new' })
      .expect(409);
    await house
      .send(path(), { trouble: 'too-dark', after: 'none', strip: 'fire', becomes: 'new' })
      .expect(422);
  });
});

describe('a batch that was fixed', () => {
  it('is known to be fixed once that step is done or it is back, and has the syntan stripped first', async () => {
    const { piece, fern } = house.write((tx) => {
      const { lotId } = makeGround(tx, { name: 'Nylon voile', content: { nylon: 100 }, gramsPerM2: 30 });
      return { piece: makeBolt(tx, lotId, '10 m'), fern: makeShade(tx, 'Fixed fern') };
    });
    const fields = { 'auxiliaries.2.what': 'syntan/as-sold', 'auxiliaries.2.amount': '2 %' };
    const recipeId = await keepRecipe(house, recipeFields(fern, { name: 'Fixed fern', ...fields }));
    const vesselId = await addVessel(house, 'Fixing pot', '20');
    const fixed = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4 m' } });
    await start(house, fixed);
    const asked = `/dye-bench/batches/${fixed}/correction?trouble=too-dark`;
    expect((await data(asked)).asked.after).toBe('none');
    await finish(house, fixed, ['3.9']);
    const page = await data(asked);
    expect([page.asked.after, page.fields.after.value]).toEqual(['syntan', 'syntan']);
    expect(page.found.first.map(({ id }: { id: string }) => id)).toEqual(['syntan-off']);
    // Whoever knows that it was left out says so.
    expect((await data(`${asked}&after=none`)).found.first).toEqual([]);
  });
});

describe('levelling in the bath that stands', () => {
  const inPot = async () => {
    const { piece, fern } = house.write((tx) => ({ ...makeOrganza(tx), fern: makeShade(tx, 'Fern') }));
    const recipeId = await keepRecipe(
      house,
      recipeFields(fern, {
        name: 'Fern by milling dye',
        dye_class: 'acid-milling',
        'auxiliaries.1.what': 'ammonium-sulphate/as-sold',
        'auxiliaries.1.amount': '4 %',
      }),
    );
    const vesselId = await addVessel(house, 'Milling pot', '20');
    const batch = { recipeId, vesselId, lengths: { [piece.code]: '4 m' } };
    const found = await plan(house, batch);
    await start(house, found);
    const stands = async () => (await data(`/dye-bench/batches/${found}/bench`)).bath;
    for (let step = 'begin'; step !== ''; ) {
      await house.send(`/dye-bench/batches/${found}/logs/steps`, { bath: '1', step }).expect(200);
      const next = (await stands()).step;
      step = next.title.startsWith('Hold') ? '' : next.key;
    }
    return `/dye-bench/batches/${found}/correction?trouble=unlevel&after=none`;
  };

  it('says that no source gives a dose, and works out the grams of the one on the label', async () => {
    const asked = await inPot();
    const way = (body: { found: { ways: { id: string }[] } }) =>
      body.found.ways.find(({ id }) => id === 'level-up') as never as {
        asks: { name: string; baths: { amount: string; how: string; href: string }[] };
      };
    expect(way(await data(asked)).asks).toEqual({ name: 'levelling agent', baths: [] });
    expect((await house.page(asked)).text).toContain(
      'No source gives a dose of levelling agent for levelling',
    );
    // 4 m of the organza weigh 180 g, in 1:30, as sheer cloth moves freely: 1 % of it is 1.8 g.
    const [bath] = way(await data(`${asked}&dose=1 %25`)).asks.baths;
    expect(bath).toMatchObject({ amount: '1.8 g', how: '180 g × 1 % = 1.8 g' });
    const byHand = await data(bath?.href ?? '');
    expect(byHand.looked.name).toBe('Levelling agent');
    const refused = await house.page(`${asked}&dose=5`);
    expect(refused.status).toBe(422);
    expect(refused.text).toContain('Say what the amount is for');
  });
});
