import { rmSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openBook } from '../../../../server/database/open.ts';
import { type BatchBenchData, batchBenchPage } from '../../../../server/dye-bench/pot/page.ts';
import type { Asker } from '../../../../server/web/house.ts';
import { asker, newKey, openTestHouse, type TestHouse, units } from '../../support.ts';
import { finish, furnish, plan, start, undo } from '../recipe/making.ts';

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

/** 2 m of organza, 90 g: one bath of 1.8 L of a levelling acid dye in the small pot of 5 L. */
async function startOne(): Promise<string> {
  const { piece, recipeId, vesselId } = await furnish(house);
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
  await start(house, code);
  return code;
}

const bench = async (code: string, bath = 1) =>
  (await house.data(`/dye-bench/batches/${code}/bench?bath=${bath}`).expect(200)).body;
const log = (code: string, what: string, fields: object) =>
  house.send(`/dye-bench/batches/${code}/logs/${what}`, { bath: '1', ...fields });
const stepDone = (code: string, step: string, fields: object = {}) =>
  log(code, 'steps', { step, ...fields }).expect(200);
const rows = () =>
  house.book.all(house.book.db.selectFrom('batch_log').selectAll().orderBy('id')).map((row) => ({
    kind: row.kind,
    what: row.what,
    figure: row.figure,
    lot: row.dye_lot,
  }));

describe('the bench', () => {
  it('has the amounts and the button first, then the cautions of the step in one fold, open until they are read', async () => {
    const code = await startOne();
    const path = `/dye-bench/batches/${code}/bench`;
    const { body } = await house.data(path);
    const { text } = await house.page(path).expect(200);
    const places = ['Neutral detergent', 'Begin this bath', 'Cautions of this step', 'I have read these'].map(
      (each) => text.indexOf(each),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(text).toContain('<details class="screen-only" open>');
    for (const caution of body.cautions.all) expect(text).toContain(caution.text.replaceAll("'", '&#39;'));
    // The scour takes soda, though the recipe has none of it.
    expect(body.cautions.all.map(({ id }: { id: string }) => id)).toContain('alkali');
    const cautions = body.cautions.unread.join('\n');
    await house.submit(`/dye-bench/batches/${code}/logs/reads`, { bath: '1', cautions }).expect(303);
    const read = await house.page(path).expect(200);
    expect(read.text).toContain('Cautions of this step, read:');
    expect(read.text).not.toContain('I have read these');
    expect((await house.data(path)).body.cautions.unread).toEqual([]);
  });

  it('asks another person, and the same one for another batch, to read them too', async () => {
    const code = await startOne();
    const path = `/dye-bench/batches/${code}/bench`;
    const cautions = (await house.data(path)).body.cautions.unread.join('\n');
    await house.send(`/dye-bench/batches/${code}/logs/reads`, { bath: '1', cautions }).expect(200);
    const other = house.write(
      (tx) =>
        tx.run(tx.db.insertInto('person').values({ name: 'Second', length_system: null, left_at: null }))
          .lastId,
    );
    expect(
      batchBenchPage(house.book, code, { ...asker, personId: other }, house.book.now()).data.cautions.unread,
    ).not.toEqual([]);
    expect(batchBenchPage(house.book, code, asker, house.book.now()).data.cautions.unread).toEqual([]);
  });

  it('has at most three things to do, besides the numbers to tap', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    await stepDone(code, 'prepare');
    const { text } = await house.page(`/dye-bench/batches/${code}/bench`);
    const shut = text
      .replace(/<template[\s\S]*?<\/template>/g, '')
      .replace(/<details[\s\S]*?<\/details>/g, '<summary>');
    const main = shut.slice(shut.indexOf('data-hand="bench"'), shut.indexOf('</main>'));
    expect(main.match(/<button/g)).toHaveLength(2);
  });

  it('takes a step as wanted in one tap, and keeps every gram with its lot', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    await stepDone(code, 'prepare');
    later(10);
    const { bath } = await bench(code);
    expect(bath.step).toMatchObject({ key: 'weigh', count: 'Step 2 of 10' });
    // 90 g × 2 % = 1.8 g.
    expect(bath.step.things).toMatchObject([{ name: 'Fern A', amount: '1.8 g', exact: '1.8 g' }]);
    await stepDone(code, 'weigh', { things: [{ name: 'Fern A', amount: '1.85', lot: '7/24' }] });
    // The dye goes in two steps later, and is not weighed again.
    for (const step of ['dissolve', 'set-1', 'add-2']) await stepDone(code, step);
    expect(rows().filter(({ kind }) => kind !== 'step')).toEqual([
      { kind: 'weighed', what: 'neutral detergent', figure: 2700, lot: '' },
      { kind: 'weighed', what: 'soda ash, anhydrous', figure: 900, lot: '' },
      { kind: 'weighed', what: 'Fern A', figure: 1850, lot: '7/24' },
      // 0.5 % of 90 g, and 1 g/L in 1.8 L.
      { kind: 'weighed', what: 'levelling agent', figure: 450, lot: '' },
      { kind: 'weighed', what: 'acetic acid, 56 % by mass', figure: 1800, lot: '' },
      { kind: 'water', what: '', figure: 1798, lot: '' },
    ]);
  });

  it('reads millilitres of what is a liquid by the figures of the card', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    for (const step of ['prepare', 'weigh', 'dissolve']) await stepDone(code, step);
    const { bath } = await bench(code);
    const acid = bath.step.things.find(({ name }: { name: string }) => name.startsWith('acetic acid'));
    // 1.8 g of 56 % acid at 1.0625 g/mL is 1.694 mL.
    expect(acid).toMatchObject({ volume: 'measure ≈ 1.69 mL' });
    await stepDone(code, 'set-1', { things: [{ name: acid.name, amount: '3.388 mL' }], water: '1,8 L' });
    expect(rows().find(({ what }) => what === acid.name)?.figure).toBe(3600);
    expect(rows().find(({ kind }) => kind === 'water')?.figure).toBe(1800);
  });

  it('refuses at the field what cannot be read, and logs nothing of it', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    const things = [
      { name: 'neutral detergent', amount: 'some' },
      { name: 'soda ash, anhydrous', amount: '2 mL' },
    ];
    const { body } = await log(code, 'steps', { step: 'prepare', things }).expect(422);
    expect(body.error.problems.map(({ field }: { field: string }) => field)).toEqual([
      'things.0.amount',
      'things.1.amount',
    ]);
    await log(code, 'temperatures', { temperature: '500' }).expect(422);
    const form = { bath: '1', temperature: 'hot' };
    const { text } = await house.submit(`/dye-bench/batches/${code}/logs/temperatures`, form).expect(422);
    expect(text).toContain('value="hot"');
    await log(code, 'phs', { ph: '15' }).expect(422);
    await log(code, 'temperatures', { bath: '2', temperature: '60' }).expect(422);
    expect(rows()).toHaveLength(1);
  });

  it('logs a temperature by a tap on a number near the plan', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    for (const step of ['prepare', 'weigh', 'dissolve', 'set-1', 'add-2']) await stepDone(code, step);
    later(12);
    const { bath } = await bench(code);
    expect(bath.open).toBe(true);
    expect(bath.step.plannedHeat).toBe('62 °C');
    expect(bath.temperatures.map(({ value }: { value: string }) => value)).toEqual([
      '58',
      '60',
      '61',
      '62',
      '63',
      '64',
    ]);
    await log(code, 'temperatures', { temperature: '60' }).expect(200);
    await log(code, 'phs', { ph: '5.5' }).expect(200);
    expect(rows().slice(-2)).toMatchObject([
      { kind: 'temperature', figure: 600 },
      { kind: 'pH', figure: 550 },
    ]);
  });

  it('tells who was quicker when a step was done twice, and writes one', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    const request_key = newKey();
    await stepDone(code, 'prepare', { request_key });
    await stepDone(code, 'prepare', { request_key });
    const { body } = await log(code, 'steps', { step: 'prepare' }).expect(409);
    expect(body.error.message).toMatch(/^That was told by Maker at .* The step now is: Weigh the dye/);
    expect(rows().filter(({ kind }) => kind === 'step')).toHaveLength(2);
  });

  it('begins nothing of a batch that is back, and says that it is', async () => {
    const code = await startOne();
    await finish(house, code, ['1.95']);
    const { body } = await house.data(`/dye-bench/batches/${code}/bench`);
    expect(body).toMatchObject({ state: 'done', bath: null });
    const { text } = await house.page(`/dye-bench/batches/${code}/bench`);
    expect(text).toContain('All back');
    expect(text).not.toContain('Begin this bath');
    const begun = await log(code, 'steps', { step: 'begin' }).expect(409);
    expect(begun.body.error.message).toBe(`All of ${code} is back: no bath of it begins any more.`);
  });

  it('takes back the last thing that was logged, with all that was told with it, and no more', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    await stepDone(code, 'prepare');
    const before = await bench(code);
    await log(code, 'temperatures', { temperature: '50' }).expect(200);
    await log(code, 'take-backs', { id: String(before.bath.last.id) }).expect(409);
    const after = await bench(code);
    await log(code, 'take-backs', { id: String(after.bath.last.id) }).expect(200);
    await log(code, 'take-backs', { id: String(after.bath.last.id) }).expect(409);
    await log(code, 'take-backs', { id: String(before.bath.last.id) }).expect(200);
    expect((await bench(code)).bath.step.key).toBe('prepare');
    // Nothing is gone: 1 beginning, 3 of the scour, 1 temperature, and 4 that take back.
    expect(rows()).toHaveLength(9);
  });

  it('goes on from the log after a restart', async () => {
    const code = await startOne();
    await stepDone(code, 'begin');
    later(7);
    const before = (await bench(code)).bath.step;
    const folder = house.putDown();
    const again = await openBook(folder, { clock: () => now });
    try {
      const { data } = batchBenchPage(again, code, { units: units.metric } as Asker, now.toISOString());
      const { step } = (data as BatchBenchData).bath ?? {};
      // The scour of nylon takes 30 minutes, of which 23 are left.
      expect(step).toMatchObject({ key: 'prepare', secondsLeft: 23 * 60 });
      expect(step).toEqual(before);
    } finally {
      again.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('keeps the baths of a batch apart, each with its own clock', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    await house
      .submit(`/dye-bench/vessels/${vesselId}`, { name: 'Small pot', volume: '5', pots: '2' })
      .expect(303);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await start(house, code);
    await stepDone(code, 'begin');
    later(20);
    await log(code, 'steps', { bath: '2', step: 'begin' }).expect(200);
    later(5);
    const [one, two] = [await bench(code, 1), await bench(code, 2)];
    // The scour of nylon takes 30 minutes.
    expect(one.bath.step.secondsLeft).toBe(5 * 60);
    expect(two.bath.step.secondsLeft).toBe(25 * 60);
    expect(one.baths).toHaveLength(2);
  });

  it('forgets nothing of a start that was undone, and begins anew', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    const key = await start(house, code);
    await stepDone(code, 'begin');
    later(1);
    await undo(house, key);
    await log(code, 'steps', { step: 'begin' }).expect(409);
    later(1);
    await start(house, code);
    expect((await bench(code)).bath).toMatchObject({ begun: false });
    expect(rows()).toHaveLength(1);
  });
});

describe('steps that a device kept', () => {
  it('are told with when they were done, so that the clock of the bath is right, and never before each other', async () => {
    const code = await startOne();
    const { bath, turns } = await bench(code);
    const [first, second] = turns.map(({ step }: { step: { key: string } }) => step.key);
    const late = (waited: number, step: string, fields: object = {}) =>
      log(code, 'steps', { step, ...fields })
        .set('clothroom-waited', String(waited))
        .expect(200);
    later(60);
    await late(1800, bath.step.key);
    const begun = await bench(code);
    expect(begun.bath.step.key).toBe(first);
    expect(begun.bath.step.secondsLeft).toBe(begun.bath.step.minutes.replace(/ min/, '') * 60 - 1800);
    // A clock that was set back in between: no step is done before the one before it.
    await late(3000, first);
    expect((await bench(code)).bath.step.key).toBe(second);
    const { db } = house.book;
    const told = house.book.all(db.selectFrom('request').select('done_at').where('done_at', 'is not', null));
    expect(told.length).toBe(2);
  });
});
