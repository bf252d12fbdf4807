import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, furnish, keepRecipe, makeGround, plan, recipeFields, start } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

/** 2 m of organza, 90 g in 1.8 L with acetic acid, at its first step of the dye bath. */
async function startSet(): Promise<string> {
  const { piece, recipeId, vesselId } = await furnish(house);
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
  await start(house, code);
  for (const step of ['begin', 'prepare', 'weigh', 'dissolve']) {
    await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step }).expect(200);
  }
  return code;
}
const page = (code: string) => `/dye-bench/batches/${code}/by-hand`;
const HYDROS = { bath: '1', what: 'hydrosulphite/as-sold', name: '', amount: '4 g', lot: '' };
const VINEGAR = { bath: '1', what: 'acetic-acid/vinegar-5', name: '', amount: '20 mL', lot: 'V-3' };
const logged = () =>
  house.book.all(
    house.book.db
      .selectFrom('batch_log')
      .innerJoin('batch_log_auxiliary', 'batch_log_auxiliary.log_id', 'batch_log.id')
      .select(['what', 'figure', 'dye_lot', 'batch_log_auxiliary.form']),
  );

describe('something that goes into a bath beside its plan', () => {
  it('is refused beside its field where it clashes, before it is logged', async () => {
    const code = await startSet();
    const { body } = await house.send(page(code), HYDROS).expect(422);
    expect(body.error.problems).toContainEqual({
      field: 'what',
      message: expect.stringMatching(/sulphur dioxide.*Do not put it in/),
    });
    const { text } = await house.submit(page(code), HYDROS).expect(422);
    expect(text).toContain('value="4 g"');
    expect(text).toMatch(/<option value="hydrosulphite\/as-sold" selected>/);
    expect(logged()).toEqual([]);
  });

  it('is looked up without being logged, with its own cautions', async () => {
    const code = await startSet();
    const query = new URLSearchParams({ ...VINEGAR, what: 'formic-acid/as-sold', amount: '1 g' });
    const { body } = await house.data(`${page(code)}?${query}`).expect(200);
    expect(body.looked.warned.join(' ')).toMatch(/strong formic acid dissolves it where it drips/);
    expect(body.cautions.all.map(({ id }: { id: string }) => id)).toContain('strong-acid');
    expect(logged()).toEqual([]);
  });

  it('is logged with its mass, lot and kind, told at the bench and in the record, and taken back', async () => {
    const code = await startSet();
    await house.send(page(code), VINEGAR).expect(200);
    // 20 mL at 1.006 g/mL.
    expect(logged()).toEqual([
      { what: 'vinegar, 5 g of acid in 100 mL', figure: 20_120, dye_lot: 'V-3', form: 'vinegar-5' },
    ]);
    const bench = await house.data(`/dye-bench/batches/${code}/bench?bath=1`).expect(200);
    expect(bench.body.bath.last.said).toMatch(/^20\.12 g of vinegar.*lot V-3, beside the plan/);
    expect(bench.body.bath.step.key).toBe('set-1');
    const record = await house.data(`/dye-bench/batches/${code}/record`).expect(200);
    expect(record.body.baths[0].byHand).toEqual([expect.stringContaining('beside the plan')]);
    expect(record.body.baths[0].deviations.join(' ')).not.toContain('inegar');
    const { text } = await house.page(`/dye-bench/batches/${code}/record`).expect(200);
    expect(text).toContain('beside the plan');
    await house
      .send(`/dye-bench/batches/${code}/logs/take-backs`, { bath: '1', id: String(bench.body.bath.last.id) })
      .expect(200);
    const after = await house.data(`/dye-bench/batches/${code}/record`).expect(200);
    expect(after.body.baths[0].byHand).toEqual([]);
  });

  it('counts for what goes in after it, and for the next bath in the vessel', async () => {
    const cotton = house.write((tx) => {
      const stock = makeGround(tx, { name: 'Lawn', content: { cotton: 100 }, gramsPerM2: 60 });
      return makeBolt(tx, stock.lotId, '10 m');
    });
    const { piece, moss, recipeId } = await furnish(house);
    const vesselId = await addVessel(house, 'Deep pot', '40');
    const plain = await keepRecipe(
      house,
      recipeFields(moss, {
        name: 'Neutral',
        fibre: 'cotton',
        dye_class: 'direct',
        'auxiliaries.0.what': 'salt/as-sold',
        'auxiliaries.0.amount': '5 %',
        'auxiliaries.1.what': '',
        'auxiliaries.1.amount': '',
      }),
    );
    const code = await plan(house, { recipeId: plain, vesselId, lengths: { [cotton.code]: '1' } });
    await start(house, code);
    for (const step of ['begin', 'prepare', 'weigh', 'dissolve']) {
      await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step }).expect(200);
    }
    await house.send(page(code), HYDROS).expect(200);
    const { body } = await house.send(page(code), VINEGAR).expect(422);
    expect(body.error.problems[0].message).toMatch(/sulphur dioxide/);
    const next = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    const card = await house.data(`/dye-bench/batches/${next}`).expect(200);
    const held = card.body.card.warnings.find(({ id }: { id: string }) => id === 'bath-before');
    expect(held.text).toMatch(/^Deep pot held D1 last\..*sulphur dioxide/);
  });

  it('asks for the group of what it does not know, and for its name and amount', async () => {
    const code = await startSet();
    const fields = (changed: object) => house.send(page(code), { ...VINEGAR, ...changed }).expect(422);
    const problems = async (changed: object) =>
      (await fields(changed)).body.error.problems.map(({ field }: { field: string }) => field);
    expect(await problems({ what: 'other/none', name: 'household bleach', amount: '5 g' })).toEqual(['what']);
    expect(await problems({ what: 'other/none', name: '', amount: '5 g' })).toEqual(['name']);
    expect(await problems({ what: '' })).toEqual(['what']);
    expect(await problems({ amount: 'a splash' })).toEqual(['amount']);
    expect(await problems({ what: 'salt/as-sold', amount: '5 mL' })).toEqual(['amount']);
    expect(await problems({ amount: '0 g' })).toEqual(['amount']);
    expect(logged()).toEqual([]);
  });

  it('cannot go in before the bath has begun, nor at a step without a bath, and its page says so', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const { body } = await house.data(`${page(code)}?bath=1`).expect(200);
    expect(body.step).toBe('');
    await house.send(page(code), VINEGAR).expect(409);
    for (const step of ['begin', 'prepare']) {
      await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '1', step }).expect(200);
    }
    const refused = await house.send(page(code), VINEGAR).expect(422);
    expect(refused.body.error.problems[0].message).toMatch(/no bath at this step, Weigh the dye/);
  });
});
