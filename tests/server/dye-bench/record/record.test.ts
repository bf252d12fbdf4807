import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { addVessel, finish, furnish, plan, planFields, start } from '../recipe/making.ts';

let house: TestHouse;
let now: Date;
beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openTestHouse(() => now);
});
afterEach(() => house.shut());

const later = (minutes: number) => {
  now = new Date(now.getTime() + minutes * 60_000);
};
const path = (code: string, rest = '') => `/dye-bench/batches/${code}${rest}`;
const log = (code: string, what: string, fields: object, bath = '1') =>
  house.send(path(code, `/logs/${what}`), { bath, ...fields });
const record = async (code: string) => (await house.data(path(code, '/record')).expect(200)).body;

/** 2 m of organza, 90 g, in one bath; `metres` for more. */
async function startOne(metres = '2') {
  const made = await furnish(house, '20 m');
  await house
    .submit(`/dye-bench/vessels/${made.vesselId}`, { name: 'Small pot', volume: '5', pots: '2' })
    .expect(303);
  const lengths = { [made.piece.code]: metres };
  const code = await plan(house, { recipeId: made.recipeId, vesselId: made.vesselId, lengths });
  await start(house, code);
  return { ...made, code };
}

/** Works a bath through up to a step, that one left out. Each step takes its minutes, unless said otherwise. */
async function workUpTo(code: string, until: string, minutes: Record<string, number> = {}, bath = '1') {
  await log(code, 'steps', { step: 'begin' }, bath).expect(200);
  await workOn(code, until, minutes, bath);
}

/** The same with a bath that has begun. */
async function workOn(code: string, until = '', minutes: Record<string, number> = {}, bath = '1') {
  for (;;) {
    const { body } = await house.data(path(code, `/bench?bath=${bath}`));
    const step = body.bath.step;
    if (!step || step.key === until) return;
    later(minutes[step.key] ?? Number.parseInt(step.minutes, 10));
    await log(code, 'steps', { step: step.key }, bath).expect(200);
  }
}

describe('the record', () => {
  it('of a batch that went by the plan tells of nothing else', async () => {
    const { code } = await startOne();
    await workUpTo(code, '');
    await finish(house, code, ['1.95']);
    const body = await record(code);
    expect(body.deviations).toBe(0);
    expect(body.baths[0].amounts.every(({ weighed }: { weighed: string }) => weighed !== '')).toBe(true);
    expect(body.cloth).toMatchObject([{ sent: '2 m', measured: '1.95 m', shrunk: '2.5 %', lot: { code } }]);
  });

  it('counts a temperature of the scour beside the curve, and does not say that nothing is logged', async () => {
    const { code } = await startOne();
    await log(code, 'steps', { step: 'begin' }).expect(200);
    later(3);
    const title = async () => (await record(code)).baths[0].chart.title;
    expect(await title()).toMatch(/, nothing logged yet$/);
    await log(code, 'temperatures', { temperature: '60' }).expect(200);
    expect(await title()).toMatch(/, 0 logged, 1 before the bath was set$/);
  });

  it('finds amounts, heat, pH and minutes that are off, by itself', async () => {
    const { code } = await startOne();
    await workUpTo(code, 'weigh');
    const things = [{ name: 'Fern A', amount: '2.2', lot: '7/24' }];
    later(10);
    await log(code, 'steps', { step: 'weigh', things }).expect(200);
    for (const step of ['dissolve', 'set-1']) {
      later(10);
      await log(code, 'steps', { step }).expect(200);
    }
    await log(code, 'steps', { step: 'add-2' }).expect(200);
    later(20);
    await log(code, 'temperatures', { temperature: '80' }).expect(200);
    await log(code, 'phs', { ph: '6.5' }).expect(200);
    later(28);
    await log(code, 'steps', { step: 'heat-3' }).expect(200);
    later(60);
    await log(code, 'steps', { step: 'hold-4' }).expect(200);
    const [bath] = (await record(code)).baths;
    expect(bath.deviations).toEqual([
      'Fern A: 2.2 g weighed, 1.8 g wanted.',
      expect.stringMatching(/^\d\d:\d\d, Heat to 98 °C: 80 °C, 70 °C by the plan\.$/),
      // The recipe of these tests gives no pH, so none is off; the add was taken at once, which is 10 minutes early.
      'Add Fern A: 0 min, 10 min by the plan.',
      'Hold 98 °C: 60 min, 45 min by the plan.',
    ]);
    expect(bath.chart.logged).toHaveLength(1);
  });

  it('keeps swatches, verdicts and notes, with how far the shade is off, and takes them back', async () => {
    const { code, moss } = await startOne();
    const colour = { lab_l: 50, lab_a: 0, lab_b: 0, lab_how: 'typed' as const };
    house.write((tx) => tx.run(tx.db.updateTable('shade').set(colour).where('id', '=', moss)));
    const swatch = {
      side: 'after',
      l: '51',
      a: '0',
      b: '0',
      viewing: 'D65/10',
      how: 'instrument',
      swatch_note: 'Pinned in the book',
    };
    await house.send(path(code, '/swatches'), swatch).expect(200);
    await house
      .send(path(code, '/swatches'), { side: 'before', how: 'typed', swatch_note: 'Snip 3' })
      .expect(200);
    await house.send(path(code, '/notes'), { note: 'The lid was off for a while.' }).expect(200);
    await house
      .send(path(code, '/results'), { result: 'shaded again', result_note: 'A little pale' })
      .expect(200);
    await house.send(path(code, '/results'), { result: 'accepted' }).expect(200);
    const body = await record(code);
    // At L* 50 a step of one in lightness alone is ΔL ÷ S_L with S_L = 1 + 0.015 × 0.25 ÷ √20.25 = 1.0008.
    expect(body.swatches).toMatchObject([
      {
        side: 'after',
        lab: expect.stringContaining('(D65, 10°)'),
        difference: 'ΔE00 1 to Moss',
        note: 'Pinned in the book',
      },
      { side: 'before', lab: '', difference: '' },
    ]);
    expect(body.results.map(({ result }: { result: string }) => result)).toEqual([
      'shaded again',
      'accepted',
    ]);
    expect((await house.data(path(code))).body.verdict).toBe('accepted');
    await log(code, 'take-backs', { id: String(body.results[1].id) }, '0').expect(200);
    expect((await house.data(path(code))).body.verdict).toBe('shaded again');
  });

  it('refuses half a colour, a swatch of nothing and no verdict, at the field', async () => {
    const { code } = await startOne();
    const half = await house
      .submit(path(code, '/swatches'), { side: 'after', l: '50', how: 'typed' })
      .expect(422);
    expect(half.text).toContain('Enter all three');
    expect(half.text).toContain('value="50"');
    const none = await house.send(path(code, '/swatches'), { side: 'after', how: 'typed' }).expect(422);
    expect(none.body.error.problems).toMatchObject([{ field: 'swatch_note' }]);
    const far = { side: 'after', l: '150', a: '0', b: '0', viewing: 'D65/2', how: 'typed' };
    const { body } = await house.send(path(code, '/swatches'), far).expect(422);
    expect(body.error.problems).toMatchObject([{ field: 'l' }]);
    await house.send(path(code, '/results'), { result: 'fine' }).expect(422);
  });

  it('is empty, and says so, before the batch has begun', async () => {
    const { code } = await startOne();
    expect(await record(code)).toMatchObject({
      swatches: [],
      results: [],
      deviations: 0,
      baths: [{ begun: '' }],
    });
    const { text } = await house.page(path(code, '/record')).expect(200);
    expect(text).toContain('No swatch is kept yet.');
  });
});

describe('an addition', () => {
  it('is worked out with its sum, logged for each bath, and put into the order of work after the hold', async () => {
    const { code } = await startOne('4');
    await workUpTo(code, 'cool-5');
    await log(code, 'steps', { step: 'begin' }, '2').expect(200);
    const dyes = { 'dyes.0.name': 'Fern A', 'dyes.0.target': '2', 'dyes.0.reached': '1.5' };
    const query = new URLSearchParams(dyes);
    const worked = await house.data(`${path(code, '/addition')}?${query}`).expect(200);
    // Each bath has 90 g: 90 × (2 − 1.5) ÷ 100 = 0.45 g, half of it 0.225 g.
    expect(worked.body).toMatchObject({
      baths: 'each of 2 baths',
      worked: [{ now: '0.225 g', sum: '90 g × (2 − 1.5) ÷ 100 = 0.45 g, half of it first' }],
    });
    await house.submit(path(code, '/addition'), dyes).expect(303);
    for (const bath of ['1', '2']) {
      const { body } = await house.data(path(code, '/record'));
      expect(body.baths[Number(bath) - 1].additions).toEqual(['Addition 1: 0.225 g of Fern A']);
    }
    const { body } = await house.data(path(code, '/bench'));
    expect(body.bath.step).toMatchObject({ key: 'addition-1-cool', title: 'Cool back to 83 °C' });
  });

  it('has every caution before its amounts', async () => {
    const { code } = await startOne();
    await workUpTo(code, 'cool-5');
    const query = new URLSearchParams({
      'dyes.0.name': 'Fern A',
      'dyes.0.target': '2',
      'dyes.0.reached': '1.5',
    });
    const asked = `${path(code, '/addition')}?${query}`;
    const { body } = await house.data(asked).expect(200);
    const { text } = await house.page(asked).expect(200);
    const amount = text.indexOf('0.45 g');
    expect(amount).toBeGreaterThan(0);
    expect(body.cautions.all.map(({ id }: { id: string }) => id)).toEqual(
      expect.arrayContaining(['dust', 'scald', 'label']),
    );
    for (const caution of body.cautions.all) {
      const place = text.indexOf(caution.text.replaceAll("'", '&#39;'));
      expect(place).toBeGreaterThan(0);
      expect(place).toBeLessThan(amount);
    }
  });

  it('is refused before the hold, after the rinse, a third time, and for a shade that is there', async () => {
    const { code } = await startOne();
    const dyes = [{ name: 'Fern A', target: '2', reached: '1.9' }];
    const add = () => house.send(path(code, '/addition'), { dyes });
    const early = await add().expect(409);
    expect(early.body.error.message).toContain('The bath is gone');
    await workUpTo(code, 'cool-5');
    const there = [{ name: 'Fern A', target: '2', reached: '2' }];
    const none = await house.send(path(code, '/addition'), { dyes: there }).expect(422);
    expect(none.body.error.problems).toMatchObject([{ field: 'dyes' }]);
    await add().expect(200);
    await add().expect(200);
    const third = await add().expect(409);
    expect(third.body.error.message).toMatch(/^2 additions were made already/);
  });

  it('is told on the page of the lot, once the cloth is back', async () => {
    const { code } = await startOne();
    await workUpTo(code, 'cool-5');
    await house
      .send(path(code, '/addition'), { dyes: [{ name: 'Fern A', target: '2', reached: '1' }] })
      .expect(200);
    await house.send(path(code, '/results'), { result: 'accepted' }).expect(200);
    await workOn(code);
    await finish(house, code, ['1.95']);
    const { body } = await house.data(`/shelf/lots/${code}`).expect(200);
    expect(body.dyed).toEqual([
      expect.stringMatching(/^From undyed lot L\d+\.$/),
      'Shade accepted.',
      'Shaded again with one addition.',
    ]);
  });
});

describe('a repeat', () => {
  it('flags what must be equal and plans a batch that knows which one it repeats', async () => {
    const { code, stock, recipeId } = await startOne();
    const other = house.write((tx) => makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '5 m'));
    const vatId = await addVessel(house, 'Vat', '30');
    const asked = planFields({ recipeId, vesselId: vatId, lengths: { [other.code]: '4' } });
    const query = `recipe_id=${recipeId}&vessel_id=${vatId}&pieces.0.piece=${other.code}&pieces.0.length=4`;
    const { body } = await house.data(`${path(code, '/repeat')}?${query}`).expect(200);
    const flags = body.compared.map(({ what, flag }: { what: string; flag: string }) => [what, flag]);
    expect(flags).toEqual([
      ['Recipe', ''],
      ['Liquor ratio', ''],
      ['Cloth', ''],
      ['Undyed lot', 'must be equal'],
      ['Vessel', 'differs'],
      ['Cloth in each bath', ''],
      ['Mass', 'differs'],
    ]);
    const made = await house.send(path(code, '/repeat'), asked).expect(200);
    expect(made.body.said).toContain(`It repeats ${code}.`);
    expect((await house.data(made.body.location)).body.repeats).toMatchObject({ code });
  });

  it('tells a dye of another lot in the record', async () => {
    const { code, piece, recipeId, vesselId } = await startOne();
    const weigh = async (batch: string, lot: string) => {
      await workUpTo(batch, 'weigh');
      await log(batch, 'steps', { step: 'weigh', things: [{ name: 'Fern A', lot }] }).expect(200);
    };
    await weigh(code, '7/24');
    const asked = planFields({ recipeId, vesselId, lengths: { [piece.code]: '2' } });
    const { body } = await house.send(path(code, '/repeat'), asked).expect(200);
    const again = body.location.split('/').at(-1);
    await start(house, again);
    await weigh(again, '8/24');
    expect((await record(again)).repeats.otherLots).toEqual(['Fern A: lot 8/24 here, 7/24 there']);
  });

  it('is of what was started, and by its own recipe', async () => {
    const { code, piece, recipeId, vesselId } = await startOne();
    const lengths = { [piece.code]: '2' };
    const planned = await plan(house, { recipeId, vesselId, lengths });
    await house.page(path(planned, '/repeat')).expect(409);
    const asked = planFields({ recipeId: recipeId + 1, vesselId, lengths });
    await house.send(path(code, '/repeat'), asked).expect(422);
  });
});

describe('a tag', () => {
  it('is one for each bath, with what is in it', async () => {
    const { code } = await startOne('4');
    const { body } = await house.data(path(code, '/tag')).expect(200);
    expect(body.tags).toMatchObject([
      {
        bath: 'Bath 1 of 2',
        mass: '90 g',
        cloth: [expect.stringMatching(/^B1, Nylon organza, lot L\d+: 2 m$/)],
      },
      { bath: 'Bath 2 of 2', mass: '90 g' },
    ]);
  });
});
