import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, finish, makeGround, makeShade, planFields, start } from '../recipe/making.ts';

let house: TestHouse;
let made: { ember: number; polyester: string; cotton: string; vesselId: number };
beforeAll(async () => {
  house = await openTestHouse();
  const cloths = house.write((tx) => {
    const ground = (name: string, content: Readonly<Record<string, number>>) => {
      const stock = makeGround(tx, { name, content, width: '147 cm', gramsPerM2: 100 });
      return makeBolt(tx, stock.lotId, '10 m').code;
    };
    return {
      ember: makeShade(tx, 'Ember'),
      polyester: ground('Polyester satin', { polyester: 100 }),
      cotton: ground('Cotton lawn', { cotton: 100 }),
    };
  });
  made = { ...cloths, vesselId: await addVessel(house, 'Press and tub', '60') };
});
afterAll(() => house.shut());

const NEW = '/dye-bench/recipes/by-label/new';
const fields = (changed: Record<string, unknown>) => ({
  name: 'Ember transfer',
  shade_id: String(made.ember),
  fibre: 'polyester',
  dye_class: 'transfer',
  method: 'Transfer paper T (invented)',
  dyes: [],
  auxiliaries: [],
  liquor_ratio: '1:1',
  temperature: '20',
  hold: '1',
  fixing: 'press',
  fixing_temperature: '200',
  fixing_time: '30 s',
  shrinkage: '1',
  note: '',
  ...changed,
});
const keep = async (changed: Record<string, unknown>) => {
  const { body } = await house.send(NEW, fields(changed)).expect(200);
  return Number(body.location.split('/').at(-1));
};
const problems = async (changed: Record<string, unknown>) => {
  const { body } = await house.send(NEW, fields(changed)).expect(422);
  return body.error.problems.map(
    ({ field, message }: { field: string; message: string }) => `${field}: ${message}`,
  );
};
const data = async (path: string) => (await house.data(path).expect(200)).body;

async function dye(recipeId: number, piece: string, metres: string, back: string) {
  const form = planFields({ recipeId, vesselId: made.vesselId, lengths: { [piece]: metres } });
  const { body } = await house.send('/dye-bench/batches/new', form).expect(200);
  const code = body.location.split('/').at(-1);
  await start(house, code);
  const bench = await data(`/dye-bench/batches/${code}/bench`);
  await finish(house, code, [back]);
  return { code, bench, batch: await data(`/dye-bench/batches/${code}`) };
}

describe('a recipe by its label', () => {
  it('has the product and the words of its label on the batch, in print, and at the pot', async () => {
    const note = 'Dissolve in hot water.\nSalt after 5 minutes.';
    const union = {
      dye_class: 'union',
      dyes: [{ name: 'Packet red', owf: '2' }],
      method: 'Packet dye P (invented)',
      fibre: 'cotton',
      fixing: '',
    };
    const worked = {
      name: 'Ember from a packet',
      fixing_temperature: '',
      fixing_time: '',
      liquor_ratio: '1:20',
    };
    const recipeId = await keep({ ...union, ...worked, temperature: '90', hold: '30', note });
    const form = planFields({ recipeId, vesselId: made.vesselId, lengths: { [made.cotton]: '1' } });
    const { body } = await house.send('/dye-bench/batches/new', form).expect(200);
    await start(house, body.location.split('/').at(-1));
    for (const rest of ['', '/card', '/bench']) {
      expect((await data(`${body.location}${rest}`)).byLabel).toEqual({
        product: 'Packet dye P (invented)',
        says: note,
      });
      const { text } = await house.page(`${body.location}${rest}`).expect(200);
      expect(text).toContain(`<p class="lines">${note}</p>`.slice(rest === '/bench' ? 0 : 17, -4));
    }
  });

  // p2ric, sectors75bd: 200 °C for 30 s on polyester.
  it('is kept, worked, recorded and comes back as a lot, off paper and without a bath', async () => {
    const recipeId = await keep({});
    const page = await data(`/dye-bench/recipes/${recipeId}`);
    expect(page.figures.map(({ value }: { value: string }) => value)).toContain('press, 200 °C for 30 s');
    const { batch } = await dye(recipeId, made.polyester, '3', '2.95');
    expect(batch.order.steps.map(({ title }: { title: string }) => title)).toContain(
      'Press at 200 °C for 30 s',
    );
    expect(batch.figures.bath.volumeUl).toBe(0);
    expect(batch.card.cautions.map(({ id }: { id: string }) => id)).toEqual(
      expect.arrayContaining(['curing', 'label']),
    );
    expect(batch.back[0].lot.code).not.toBe('');
    await house.page(batch.back[0].lot.href);
  });

  // mytextilenotes, textilefashionstudy: 150 °C for 4 to 5 minutes.
  it('takes a paint by the litre of its paste, with its order of work, and costs what is priced', async () => {
    await house
      .send('/setup/fuel', { energy: '', hour: '', auxiliaries: [{ key: 'other none', price: '10' }] })
      .expect(200);
    const recipeId = await keep({
      name: 'Ember paint',
      fibre: 'cotton',
      dye_class: 'pigment',
      method: 'Paint P (invented)',
      auxiliaries: [{ what: 'other/none', amount: '100 g/L', name: 'Paint P (invented)' }],
      fixing: 'dry heat',
      fixing_temperature: '150',
      fixing_time: '4 min 30 s',
      hold: '120',
    });
    const { batch, code } = await dye(recipeId, made.cotton, '2', '2');
    expect(batch.order.steps.map(({ title }: { title: string }) => title)).toEqual([
      'Wash the cloth',
      'Mix it',
      'Apply it',
      'Dry',
      'Cure at 150 °C for 4 min 30 s',
    ]);
    // 2 m of 1.47 m at 100 g/m² are 294 g: 0.294 L of paste with 100 g/L.
    expect(batch.figures.bath.lines[0].massMg).toBe(29_400);
    const record = await data(`/dye-bench/batches/${code}/record`);
    expect(JSON.stringify(record)).toContain('Paint P');
  });

  it('refuses what the fibre does not stand, what clashes, and what is missing', async () => {
    expect(await problems({ name: 'A', fibre: 'cotton' })).toEqual([
      expect.stringContaining('dye_class: Cotton does not take sublimation transfer'),
    ]);
    expect(await problems({ name: 'A', fixing_temperature: '225' })).toEqual([
      expect.stringContaining('fixing_temperature: Polyester stands 220 °C'),
    ]);
    expect(await problems({ name: 'A', fixing: '', fixing_temperature: '', fixing_time: '' })).toEqual([
      expect.stringContaining('fixing: Say how it is fixed'),
    ]);
    expect(await problems({ name: 'A', fixing_time: '' })).toContain(
      'fixing_time: Give the time that the label says.',
    );
    // International Chemical Safety Card 1717: hydrosulphite with acid gives sulphur dioxide.
    const clash = await problems({
      name: 'A',
      fibre: 'cotton',
      dye_class: 'discharge',
      fixing: 'steam',
      fixing_temperature: '100',
      fixing_time: '15 min',
      auxiliaries: [
        { what: 'hydrosulphite/as-sold', amount: '100 g/L' },
        { what: 'citric-acid/as-sold', amount: '10 g/L' },
      ],
    });
    expect(clash.join(' ')).toContain('sulphur dioxide');
    expect(
      await problems({
        name: 'A',
        dye_class: 'union',
        fibre: 'cotton',
        fixing: '',
        fixing_temperature: '',
        fixing_time: '',
      }),
    ).toEqual(expect.arrayContaining([expect.stringContaining('dyes: Give what goes in')]));
  });

  it('has versions and copies in a form of its own', async () => {
    const recipeId = await keep({ name: 'Ember transfer twice' });
    const page = await data(`/dye-bench/recipes/${recipeId}`);
    expect(page.newVersion).toBe(`/dye-bench/recipes/${recipeId}/by-label`);
    const form = await data(page.newVersion);
    expect(form.fields.fixing_time.value).toBe('30 s');
    const { name: _, shade_id: __, fibre: ___, ...version } = fields({ fixing_temperature: '190' });
    const { body } = await house.send(page.newVersion, version).expect(200);
    expect(body.said).toContain('Version 2');
    await house.data(`/dye-bench/recipes/${recipeId}/versions/new`).expect(409);
    const copy = await data(page.copy);
    expect(copy.fields.method.value).toBe('Transfer paper T (invented)');
  });

  // Burch, all-purpose dye: for cellulose, wool, silk and nylon together.
  it('dyes all fibres of a blend by a union dye, as any bath is worked', async () => {
    const recipeId = await keep({
      name: 'Ember union',
      fibre: 'nylon',
      dye_class: 'union',
      method: 'Packet U (invented)',
      dyes: [{ name: 'Packet U (invented)', owf: '5' }],
      liquor_ratio: '1:20',
      temperature: '90',
      hold: '30',
      fixing: '',
      fixing_temperature: '',
      fixing_time: '',
    });
    const { batch } = await dye(recipeId, made.cotton, '1', '0.99');
    expect(batch.figures.dyedBp).toBe(10_000);
    expect(batch.card.cautions.map(({ id }: { id: string }) => id)).toContain('old-direct-dye');
  });
});
