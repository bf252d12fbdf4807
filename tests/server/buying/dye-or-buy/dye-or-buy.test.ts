import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  addVessel,
  finish,
  keepRecipe,
  makeOrganza,
  makeShade,
  plan,
  recipeFields,
  start,
} from '../../dye-bench/recipe/making.ts';
import { makeTier, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
let made: {
  clothId: number;
  lotId: number;
  groundId: number;
  moss: number;
  piece: { id: number; code: string };
};

// Nylon organza of 45 g a metre, 10 m of it undyed for 40.00. Three strips 32 cm deep as wide as the cloth are wanted in
// moss: 96 cm of fresh cloth.
beforeEach(async () => {
  house = await openTestHouse();
  made = house.write((tx) => {
    const { clothId, shadeId: groundId, lotId, piece } = makeOrganza(tx, '10 m', 4000);
    const moss = makeShade(tx, 'Moss');
    makeTier(tx, { clothId, shadeId: moss, lotId: 0 });
    return { clothId, lotId, groundId, moss, piece };
  });
});
afterEach(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;
const wanted = async () => (await data(`/orders/dye-or-buy?cloth=${made.clothId}&shade=${made.moss}`)).wanted;
const offer = (supplier: number, shadeId: number, price: string, lead_days = '4') =>
  house
    .send(`/orders/suppliers/${supplier}/offers/new`, {
      cloth_id: String(made.clothId),
      shade_id: String(shadeId),
      price_per: 'm',
      step: '10 cm',
      lead_days,
      prices: [{ length: '', price }],
    })
    .expect(200);

describe('dye or buy', () => {
  it('says what is missing where nothing is known yet', async () => {
    const page = await wanted();
    expect(page).toMatchObject({ strips: 3, ways: [], recipes: 0 });
    const { text } = await house.page(`/orders/dye-or-buy?cloth=${made.clothId}&shade=${made.moss}`);
    expect(text).toContain('No offer in force sells it in this shade');
    expect(text).toContain('There is no recipe of this shade.');
    await house.data('/orders/dye-or-buy?cloth=1&shade=999').expect(404);
  });

  it('puts buying, dyeing what lies there and dyeing bought cloth beside each other', async () => {
    await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
    await offer(1, made.moss, '12');
    await offer(1, made.groundId, '5');
    await keepRecipe(house, recipeFields(made.moss));
    await addVessel(house, 'Small pot', '5');
    const { ways } = await wanted();
    expect(ways.map(({ kind }: { kind: string }) => kind)).toEqual(['buy', 'dye', 'dye bought cloth']);
    const [buy, dye, both] = ways;
    // 96 cm are sold as a metre.
    expect(buy).toMatchObject({ totalMinor: 1200, lots: '1 lot' });
    // 96 cm ÷ 0.975 are 98.47 cm, at 4.00 a metre 3.94; nothing else has a price yet.
    expect(dye).toMatchObject({ totalMinor: 394, toSpendMinor: 0, lots: '1 lot', isCheapest: false });
    expect(dye.total).toMatch(/^at least /);
    expect(dye.risks.join(' ')).toContain('No approved swatch of this lot yet');
    expect(both.totalMinor).toBe(500);
    expect(both.readyOn > buy.readyOn).toBe(true);
    expect(dye.next.href).toContain(`pieces.0.piece=${made.piece.code}`);
    const filled = await data(dye.next.href);
    expect(filled.figures.pieces[0].expectedTicks).toBeGreaterThanOrEqual(96 * 1600);
  });

  it('counts dyes, heat and hours once they have a price, and calls the cheapest so', async () => {
    await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
    await offer(1, made.moss, '90');
    await keepRecipe(
      house,
      recipeFields(made.moss, {
        'auxiliaries.0.what': '',
        'auxiliaries.0.amount': '',
        'auxiliaries.1.what': '',
        'auxiliaries.1.amount': '',
      }),
    );
    await addVessel(house, 'Small pot', '5');
    await house.send('/dye-bench/dyes', {
      name: 'Fern A',
      dye_class: 'acid-levelling',
      price: '20',
      price_for: '100 g',
    });
    await house.send('/setup/fuel', { energy: '0.30', hour: '18', auxiliaries: [] }).expect(200);
    const { ways } = await wanted();
    const dye = ways.find(({ kind }: { kind: string }) => kind === 'dye');
    const hours = dye.parts.at(-1);
    expect(hours.what).toContain('of work, 1 bath');
    expect(hours.cost).not.toBe('');
    expect(dye.isCheapest).toBe(true);
    // The parts are the total.
    const minor = (cost: string) => Math.round(Number(cost.replace(/[^0-9.]/g, '')) * 100);
    expect(dye.parts.reduce((sum: number, { cost }: { cost: string }) => sum + minor(cost), 0)).toBe(
      dye.totalMinor,
    );
  });

  it('trusts an approved swatch of the undyed lot, and counts no day for one then', async () => {
    const recipeId = await keepRecipe(house, recipeFields(made.moss));
    await addVessel(house, 'Small pot', '5');
    const before = (await wanted()).ways[0];
    const swatches = [{ recipe_id: String(recipeId), depth: '' }];
    const job = { lot_id: String(made.lotId), mass: '5', lab_ratio: '1:20', bulk_ratio: '1:20', swatches };
    const { body } = await house.send('/dye-bench/swatches/new', job).expect(200);
    const { result } = await data(body.location);
    const judged = { verdict: 'approved', seen_by: 'eye', light: 'daylight', state: 'dry' };
    await house
      .send(`${body.location}/results`, { swatch_id: result.swatch_id.options.at(-1).value, ...judged })
      .expect(200);
    const after = (await wanted()).ways[0];
    expect(after.risks.join(' ')).toContain('The swatch of this lot is approved.');
    expect(after.readyOn < before.readyOn).toBe(true);
  });

  it('takes off what is planned, leaves planned cloth alone, and trusts a recipe that was dyed by', async () => {
    const recipeId = await keepRecipe(house, recipeFields(made.moss));
    const vesselId = await addVessel(house, 'Small pot', '5');
    const code = await plan(house, { recipeId, vesselId, lengths: { [made.piece.code]: '0.7' } });
    const page = await wanted();
    expect(page.strips).toBe(1);
    expect(page.coming).toContain(`2 strips from batch ${code}`);
    await start(house, code);
    await finish(house, code, ['0.68']);
    const again = await wanted();
    expect(again).toMatchObject({ strips: 1, coming: '' });
    expect(again.ways[0].risks.join(' ')).toContain('Dyed once by this recipe.');
    // All the rest is planned: nothing undyed is to spare.
    await plan(house, { recipeId, vesselId, lengths: { [made.piece.code]: '0.5' } });
    expect(await data('/short').then(({ short }) => short[0]?.toGet ?? 'nothing')).toBe('nothing more');
    expect((await wanted()).strips).toBe(0);
  });
});
