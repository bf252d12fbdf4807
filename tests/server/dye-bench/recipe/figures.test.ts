import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import {
  addVessel,
  furnish,
  keepRecipe,
  makeGround,
  makeShade,
  plan,
  planFields,
  recipeFields,
} from './making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

type Line = { name: string; perBath: string; perBathVolume: string; inAll: string };
const amounts = (card: { lines: Line[] }) =>
  Object.fromEntries(card.lines.map(({ name, inAll }) => [name, inAll]));

async function workOut(batch: Parameters<typeof planFields>[0], more = '') {
  const { pieces, recipe_id, vessel_id } = planFields(batch);
  const rows = pieces.map(
    ({ piece, length }, row) =>
      `&pieces.${row}.piece=${piece}&pieces.${row}.length=${encodeURIComponent(length)}`,
  );
  const query = `recipe_id=${recipe_id}&vessel_id=${vessel_id}${rows.join('')}${more}`;
  return house.data(`/dye-bench/batches/new?${query}`);
}

/** A cloth by the metre, a recipe and a vessel, worked out for one length. */
async function card(made: {
  content: Record<string, number>;
  gramsPerM2: number;
  width?: string;
  length: string;
  recipe: Record<string, string>;
  vessel: string;
  more?: string;
}) {
  const { piece, shade } = house.write((tx) => {
    const width = made.width ?? '1 m';
    const { content, gramsPerM2 } = made;
    const stock = makeGround(tx, { name: 'Sample', content, gramsPerM2, width });
    const bolt = makeBolt(tx, stock.lotId, '2000 m', 0, width);
    return { piece: bolt, shade: makeShade(tx, 'Wanted') };
  });
  const fields = Object.entries(recipeFields(shade)).filter(([name]) => !name.startsWith('auxiliaries'));
  const recipeId = await keepRecipe(house, { ...Object.fromEntries(fields), ...made.recipe });
  const vesselId = await addVessel(house, 'Vessel', made.vessel);
  const answer = await workOut({ recipeId, vesselId, lengths: { [piece.code]: made.length } }, made.more);
  expect(answer.status).toBe(200);
  return answer.body;
}

const COTTON = { fibre: 'cotton', dye_class: 'reactive', temperature: '60', hold: '60' };

describe('worked examples', () => {
  it('5 g at 10:1 in 50 mL: 1.5 % of dye, auxiliaries 0.5, 2 and 1 g/L, Glauber 40 and soda 10 g/L', async () => {
    // textilecalculation.blogspot.com, January 2015, lab dip: bath 50 mL; from 1 % stock 2.5, 10 and 5 mL of the
    // auxiliaries and 7.5 mL of dye, that is 25, 100, 50 and 75 mg; from 20 % stock 10 mL of Glauber's salt and
    // 2.5 mL of soda, that is 2 and 0.5 g.
    const { card: worked } = await card({
      content: { cotton: 100 },
      gramsPerM2: 5,
      length: '1 m',
      vessel: '100 ml',
      recipe: {
        ...COTTON,
        liquor_ratio: '10:1',
        'dyes.0.owf': '1.5',
        'auxiliaries.0.what': 'sequestrant/as-sold',
        'auxiliaries.0.amount': '0.5 g/L',
        'auxiliaries.1.what': 'levelling-agent/as-sold',
        'auxiliaries.1.amount': '2 g/L',
        'auxiliaries.2.what': 'lubricant/as-sold',
        'auxiliaries.2.amount': '1 g/L',
        'auxiliaries.3.what': 'glauber-salt/decahydrate',
        'auxiliaries.3.amount': '40 g/L',
        'auxiliaries.4.what': 'soda-ash/anhydrous',
        'auxiliaries.4.amount': '10 g/L',
      },
      more: [1, 1, 1, 1, 20, 20].map((strength, line) => `&stocks.${line}.strength=${strength}`).join(''),
    });
    expect(worked.mass).toBe('5 g');
    expect(worked.bathVolume).toBe('50 mL');
    expect(amounts(worked)).toEqual({
      'Fern A': '0.075 g',
      Sequestrant: '0.025 g',
      'Levelling agent': '0.1 g',
      Lubricant: '0.05 g',
      "Glauber's salt crystals, decahydrate": '2 g',
      'Soda ash, anhydrous': '0.5 g',
      'Fresh water': '12.5 mL',
    });
    expect(worked.lines.map(({ perBathVolume }: Line) => perBathVolume)).toEqual([
      ...['7.5 mL', '2.5 mL', '10 mL', '5 mL', '10 mL', '2.5 mL', ''],
    ]);
  });

  it('50 kg at 10:1 is 500 L and takes 1000 g at 2 g/L', async () => {
    // textileschool.com/28820: 500 L for 50 kg is 10:1; 50 kg at 10:1 and 2 g/L take 1000 g.
    const { card: worked } = await card({
      content: { cotton: 100 },
      gramsPerM2: 100,
      length: '500 m',
      vessel: '1000',
      recipe: {
        ...COTTON,
        liquor_ratio: '10',
        'auxiliaries.0.what': 'detergent/as-sold',
        'auxiliaries.0.amount': '2 g/L',
      },
    });
    expect(worked.mass).toBe('50 kg');
    expect(worked.bathVolume).toBe('500 L');
    expect(amounts(worked).Detergent).toBe('1 kg');
  });

  it('4 % on 100 kg of cloth is 4 kg of dye', async () => {
    // Venkatesh, VFSTR University, dyeing terminology: 4 kg of dye on 100 kg of cloth is a 4 % shade.
    const { card: worked } = await card({
      content: { cotton: 100 },
      gramsPerM2: 100,
      length: '1000 m',
      vessel: '3000',
      recipe: { ...COTTON, 'dyes.0.owf': '4' },
    });
    expect(amounts(worked)['Fern A']).toBe('4 kg');
  });

  it('3 % on the cotton of 100 g of polyester and cotton, half and half, is 1.5 g', async () => {
    // Parmar, drmsparmar.blogspot.com, January 2015: what is given on one component counts on its share.
    const { card: worked } = await card({
      content: { cotton: 50, polyester: 50 },
      gramsPerM2: 100,
      length: '1 m',
      vessel: '10',
      recipe: { ...COTTON, 'dyes.0.owf': '3' },
    });
    expect(worked.mass).toBe('100 g');
    expect(worked.dyedShare).toBe('50 %');
    expect(amounts(worked)['Fern A']).toBe('1.5 g');
    expect(worked.bathVolume).toBe('2 L');
    expect(worked.warnings.map(({ text }: { text: string }) => text).join(' ')).toContain(
      'Polyester is left pale',
    );
  });

  it('15 kg at 20:1 is 300 L: seven pots of 75 L at the boil, as the cloth takes its room too', async () => {
    // By hand: a pot holds 75 × 2/3 = 50 L; 300 L and 15 × 0.7 = 10.5 L of cloth are 310.5 L, more than six hold.
    const { card: worked } = await card({
      content: { nylon: 100 },
      gramsPerM2: 100,
      width: '150 cm',
      length: '100 m',
      vessel: '75',
      recipe: { liquor_ratio: '20' },
    });
    expect(worked.mass).toBe('15 kg');
    expect(worked.bathVolume).toBe('300 L');
    expect(worked.baths.count).toBe(7);
    expect(worked.baths.fill).toContain('50 L');
  });
});

describe('a batch worked out', () => {
  it('shares mass, bath and every amount over equal baths, selvedges weighed and shrinkage told', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const { body } = await workOut({ recipeId, vesselId, lengths: { [piece.code]: '4' } });
    // By hand: 4 m × 1.5 m × 30 g/m² = 180 g; × 20 = 3.6 L. A pot of 5 L holds 3.33 L at 98 °C, less than 3.6 L and
    // 0.126 L of cloth, so there are two baths. 2 % is 3.6 g, 0.5 % 0.9 g; 3.6 L at 1 g/L are 3.6 g. Of 4 m, 2.5 %
    // less are 3.9 m.
    expect(body.card).toMatchObject({
      mass: '180 g',
      bathVolume: '3.6 L',
      expected: '3.9 m',
      baths: { count: 2, each: '1.8 L', mass: '90 g', vessel: 'Small pot, 5 L' },
      pieces: [{ width: '150 cm', massPerArea: '30 g/m²', mass: '180 g', expected: '3.9 m' }],
      contents: [
        { bath: 'Bath 1', lengths: ['2 m of B1'], mass: '90 g', pot: 'Small pot' },
        { bath: 'Bath 2', lengths: ['2 m of B1'], mass: '90 g', pot: 'Small pot' },
      ],
    });
    expect(body.card.lines).toMatchObject([
      { name: 'Fern A', perBath: '1.8 g', inAll: '3.6 g' },
      { name: 'Levelling agent', perBath: '0.45 g', inAll: '0.9 g' },
      // 1.8 g at 1.0625 g/mL are 1.694 mL; 1800 − 1.694 mL of water.
      { name: 'Acetic acid, 56 % by mass', perBath: '1.8 g', perBathVolume: '≈ 1.69 mL', inAll: '3.6 g' },
      { name: 'Fresh water', perBath: '≈ 1.798 L', inAll: '≈ 3.597 L' },
    ]);
    const { baths, bath } = body.figures;
    const sum = (of: (bath: { massMg: number; volumeUl: number }) => number) =>
      baths.reduce((total: number, each: { massMg: number; volumeUl: number }) => total + of(each), 0);
    expect([sum(({ massMg }) => massMg), sum(({ volumeUl }) => volumeUl)]).toEqual([
      bath.massMg,
      bath.volumeUl,
    ]);
  });

  it('tells a reader in yards the lengths and the mass in their own units, amounts in grams', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    house.write((tx) => tx.run(tx.db.updateTable('person').set({ length_system: 'imperial' })));
    const { body } = await workOut({ recipeId, vesselId, lengths: { [piece.code]: '4' } });
    // 4 yd are 3.6576 m: × 1.5 m × 30 g/m² = 164.592 g, 5.81 oz at 28.349523125 g (agreement of 1959).
    expect(body.card.pieces[0].length).toBe('4 yd');
    expect(body.card.massInPounds).toBe('≈ 5.81 oz');
    expect(body.card.mass).toBe('≈ 164.6 g');
    expect(body.card.lines[0].inAll).toBe('≈ 3.29 g');
  });

  it('weighs a remnant narrower than the cloth by its own width', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const narrow = house.write((tx) => {
      const made = makeBolt(tx, stock.lotId, '2 m', 0, '50 cm');
      tx.run(tx.db.updateTable('piece').set({ kind: 'remnant' }).where('id', '=', made.id));
      return made;
    });
    const lengths = { [piece.code]: '1', [narrow.code]: '2' };
    const { body } = await workOut({ recipeId, vesselId, lengths });
    // 1 m × 150 cm × 30 g/m² = 45 g; 2 m × 50 cm × 30 g/m² = 30 g.
    expect(body.card.pieces.map(({ mass }: { mass: string }) => mass)).toEqual(['45 g', '30 g']);
  });

  it('tells what to send for a length wanted: 4 m ÷ (1 − 2.5 %) is 4.1026 m', async () => {
    const { recipeId } = await furnish(house);
    const { body } = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}&wanted=4`);
    expect(body.send).toContain('send ≈ 4.11 m');
  });

  it('takes the only recipe of a shade, and sends from the shortest piece that gives it whole', async () => {
    const { stock, moss, piece, recipeId } = await furnish(house);
    const [short, right] = house.write((tx) => [
      makeBolt(tx, stock.lotId, '4.1 m', 0, '150 cm'),
      makeBolt(tx, stock.lotId, '4.2 m', 0, '150 cm'),
    ]);
    const asked = `/dye-bench/batches/new?shade=${moss}&cloth=${stock.clothId}`;
    const filled = async (path: string) => {
      const { body } = await house.data(path).expect(200);
      return body.pieces
        .filter((row: { fields: { length: { value: string } } }) => row.fields.length.value !== '')
        .map((row: { code: string; fields: { length: { value: string } } }) => [
          row.code,
          row.fields.length.value,
        ]);
    };
    expect(await filled(`${asked}&wanted=4`)).toEqual([[right?.code, '4.11 m']]);
    expect(await filled(`${asked}&wanted=6`)).toEqual([[piece.code, '6.16 m']]);
    // No piece gives it whole, or nothing is wanted: nothing is filled in.
    expect(await filled(`${asked}&wanted=11`)).toEqual([]);
    expect(await filled(asked)).toEqual([]);
    expect(short?.code).not.toBe(right?.code);
    // What is typed stays, and another recipe may be chosen.
    const typed = `${asked}&recipe_id=${recipeId}&wanted=4&pieces.0.piece=${piece.code}&pieces.0.length=2`;
    expect(await filled(typed)).toEqual([[piece.code, '2']]);
    expect((await house.data(`${asked}&choose=yes`).expect(200)).body.recipes).toHaveLength(1);
    await keepRecipe(house, recipeFields(moss, { name: 'Moss otherwise' }));
    expect((await house.data(asked).expect(200)).body.recipes).toHaveLength(2);
  });

  it('warns of unlike cloths in one bath, of nylon with polyester above all', async () => {
    const { piece, recipeId, vesselId, moss } = await furnish(house);
    const other = house.write((tx) => {
      const made = makeGround(tx, { name: 'Polyester tulle', content: { polyester: 100 }, gramsPerM2: 20 });
      return makeBolt(tx, made.lotId, '5 m', 0, '150 cm');
    });
    const disperse = await keepRecipe(
      house,
      recipeFields(moss, { name: 'Both', dye_class: 'disperse', temperature: '95', 'dyes.0.owf': '0.3' }),
    );
    const lengths = { [piece.code]: '1', [other.code]: '1' };
    const { body } = await workOut({ recipeId: disperse, vesselId, lengths });
    const warned = body.card.warnings.map(({ text }: { text: string }) => text).join(' ');
    expect(warned).toContain('Nylon organza, Polyester tulle in one bath');
    expect(warned).toContain('Nylon takes disperse dye faster and deeper than polyester');
    expect(warned).toContain('one batch for Nylon organza, another for Polyester tulle');
    expect(warned).toContain('The recipe was made for nylon; Polyester tulle has none');
    const acid = await workOut({ recipeId, vesselId, lengths });
    expect(acid.status).toBe(422);
    expect(acid.body.error.problems[0].message).toContain('Polyester does not take levelling acid dye');
  });
});

describe('the order of work', () => {
  it('shows how a side bath and the cooling come about', async () => {
    // definetextile.com, May 2014, nylon: detergent 1.5 g/L in a bath of 1.8 L are 2.7 g.
    const { piece, recipeId, vesselId } = await furnish(house, '10 m');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const { order } = (await house.data(`/dye-bench/batches/${code}`).expect(200)).body;
    expect(order.steps[0].amounts[0]).toBe('2.7 g of neutral detergent (1.8 L × 1.5 g/L)');
    const cool = order.steps.find(({ title }: { title: string }) => title === 'Cool to 60 °C');
    expect(cool).toMatchObject({ minutes: '38 min', says: expect.stringContaining('By 1 °C a minute.') });
  });
});
