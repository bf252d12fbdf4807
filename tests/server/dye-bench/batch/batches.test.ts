import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { holdLength, recountPiece } from '../../../../server/ledger/verbs.ts';
import { m } from '../../../lengths.ts';
import { makeBolt, makeTier, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { balance, finish, furnish, makeGround, plan, planFields, start, undo } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const batch = async (code: string) => (await house.data(`/dye-bench/batches/${code}`).expect(200)).body;
const countEntries = () =>
  house.book.all(house.book.db.selectFrom('entry').select('id').where('batch_id', 'is not', null)).length;

describe('planning', () => {
  it('has its request key in its address from the first page on, so that Back finds it', async () => {
    const { recipeId } = await furnish(house);
    const path = `/dye-bench/batches/new?recipe_id=${recipeId}`;
    const opened = await house.page(path).set('Sec-Fetch-Mode', 'navigate').expect(303);
    expect(opened.headers.location).toMatch(/&request_key=[0-9a-f-]{36}$/);
    const page = await house.page(opened.headers.location ?? '').set('Sec-Fetch-Mode', 'navigate');
    expect(page.status).toBe(200);
  });

  it('writes nothing while a batch is only worked out', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const query = `recipe_id=${recipeId}&vessel_id=${vesselId}&pieces.0.piece=${piece.code}&pieces.0.length=4`;
    const { text } = await house.page(`/dye-bench/batches/new?${query}`).expect(200);
    expect(text).toContain('Nothing is written yet.');
    expect(text.indexOf('Breathe in no dye dust')).toBeLessThan(text.indexOf('<h2>Amounts'));
    expect(house.book.all(house.book.db.selectFrom('batch').select('id'))).toEqual([]);
  });

  it('keeps the lengths without promising them, and tells them to whoever plans next', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' }, due: '2026-03-20' });
    expect(code).toBe('D1');
    expect(balance(house, piece.code)).toMatchObject({ onHand: m(10), held: 0 });
    expect(await batch(code)).toMatchObject({ state: 'planned', due: '20 Mar 2026', trouble: [] });
    const next = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}`);
    expect(next.body.pieces).toMatchObject([{ code: piece.code, free: '10 m', planned: '4 m' }]);
  });

  it('refuses at the field what cannot be had, and keeps what was typed', async () => {
    const { piece, stock, moss, recipeId, vesselId } = await furnish(house);
    const dyed = house.write((tx) => {
      const lot = { cloth_id: stock.clothId, shade_id: moss, origin: 'mill' as const };
      const made = tx.run(
        tx.db.insertInto('lot').values({ code: 'M9', ...lot, supplier_id: null, batch_id: null }),
      );
      return makeBolt(tx, made.lastId, '5 m');
    });
    const lengths = { [piece.code]: '10.5 m', [dyed.code]: '1', B99: '1' };
    const fields = planFields({ recipeId, vesselId, lengths });
    const { body } = await house.send('/dye-bench/batches/new', fields).expect(422);
    expect(body.error.problems).toEqual([
      {
        field: 'pieces.0.length',
        message: `10.5 m is more than is free of ${piece.code}: enter 10 m or less.`,
      },
      { field: 'pieces.1.length', message: expect.stringContaining('is Moss, dyed already: tick') },
      { field: 'pieces.2.length', message: 'There is no piece B99: check the code.' },
    ]);
    const typed = { 'pieces.0.piece': piece.code, 'pieces.0.length': 'much', note: 'For the hem' };
    const { text } = await house
      .submit('/dye-bench/batches/new', { recipe_id: String(recipeId), vessel_id: '999', ...typed })
      .expect(422);
    expect(text).toContain('value="much"');
    expect(text).toContain('value="For the hem"');
    expect(text).toContain('Choose a vessel.');
  });

  it('asks for a length, and for one a piece', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const none = await house.send('/dye-bench/batches/new', planFields({ recipeId, vesselId, lengths: {} }));
    expect(none.status).toBe(422);
    expect(none.body.error.problems).toMatchObject([{ field: 'pieces' }]);
    const twice = {
      ...planFields({ recipeId, vesselId, lengths: {} }),
      pieces: [1, 2].map(() => ({ piece: piece.code, length: '1' })),
    };
    const { body } = await house.send('/dye-bench/batches/new', twice).expect(422);
    expect(body.error.problems).toMatchObject([
      { field: 'pieces.1.length', message: expect.stringContaining('twice') },
    ]);
  });

  it('asks for the mass per area at the cloth instead of guessing it', async () => {
    const { recipeId, vesselId } = await furnish(house);
    const { piece, clothId } = house.write((tx) => {
      const made = makeGround(tx, { name: 'Unweighed net', content: { nylon: 100 }, gramsPerM2: null });
      return { ...made, piece: makeBolt(tx, made.lotId, '5 m') };
    });
    const page = await house.data(`/dye-bench/batches/new?recipe_id=${recipeId}`);
    expect(page.body.refused).toEqual([
      {
        cloth: 'Unweighed net',
        href: `/shelf/cloths/${clothId}`,
        reason: expect.stringContaining('not guessed'),
      },
    ]);
    const fields = planFields({ recipeId, vesselId, lengths: { [piece.code]: '1' } });
    await house.send('/dye-bench/batches/new', fields).expect(422);
  });

  it('refuses a vessel that would take more than sixty baths', async () => {
    const { piece, recipeId } = await furnish(house, '300 m');
    await house.submit('/dye-bench/vessels', { name: 'Beaker', volume: '800 ml' }).expect(303);
    const fields = planFields({ recipeId, vesselId: 2, lengths: { [piece.code]: '300' } });
    const { body } = await house.send('/dye-bench/batches/new', fields).expect(422);
    expect(body.error.problems).toMatchObject([
      { field: 'vessel_id', message: expect.stringContaining('60 baths') },
    ]);
  });
});

describe('starting', () => {
  it('sends every length with its cost in one request and keeps the card as it was told', async () => {
    // 10 m for 100.00: 4 m of them carry 40.00.
    const { piece, stock, recipeId, vesselId } = await furnish(house, '10 m', 10_000, '9');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await start(house, code);
    expect(balance(house, piece.code)).toMatchObject({ onHand: m(6), cost: 6000 });
    const weighed = { mass_per_area_mg_m2: 60_000 };
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set(weighed).where('id', '=', stock.clothId)));
    expect(await batch(code)).toMatchObject({ state: 'in the pot', inPot: 1, card: { mass: '180 g' } });
  });

  it('is done once however often the form is sent, and not by a second form', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 0, '9');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const request_key = newKey();
    const path = `/dye-bench/batches/${code}/starts`;
    await house.submit(path, { request_key }).expect(303);
    await house.submit(path, { request_key }).expect(303);
    expect(countEntries()).toBe(1);
    const again = await house.submit(path, {}).expect(409);
    expect(again.text).toContain(`${code} was started by Maker, 2 Mar 2026`);
    expect(countEntries()).toBe(1);
  });

  it('is refused whole where one length is no longer free, with who holds it and what is left', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const other = house.write((tx) => makeBolt(tx, stock.lotId, '5 m'));
    const lengths = { [piece.code]: '4', [other.code]: '5' };
    const code = await plan(house, { recipeId, vesselId, lengths });
    house.write((tx) => holdLength(tx, other.id, makeTier(tx, stock), { lengthTicks: m(2), typed: '2 m' }));
    const { text } = await house.submit(`/dye-bench/batches/${code}/starts`, {}).expect(409);
    expect(text).toContain(`5 m was asked of ${other.code}, and 3 m can be had.`);
    expect(text).toContain('2 m is held for Tier 1');
    expect(text).toContain('held by Maker');
    expect(balance(house, piece.code).onHand).toBe(m(10));
    expect(countEntries()).toBe(0);
    const page = await batch(code);
    expect(page).toMatchObject({ state: 'planned', ways: { start: '' } });
    expect(page.trouble).toEqual([`5 m of ${other.code} is wanted, and 3 m of it is free now.`]);
  });

  it('tells all lengths that are gone at once', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const other = house.write((tx) => makeBolt(tx, stock.lotId, '5 m'));
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4', [other.code]: '5' } });
    house.write((tx) => {
      for (const each of [piece, other]) recountPiece(tx, each.id, { lengthTicks: m(1), typed: '1 m' });
    });
    const { body } = await house.send(`/dye-bench/batches/${code}/starts`, {}).expect(409);
    expect(body.error.problems).toHaveLength(2);
  });

  it('says on the page and at the bench why it cannot be started as things stand', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const unknown = { mass_per_area_mg_m2: null };
    house.write((tx) => tx.run(tx.db.updateTable('cloth').set(unknown).where('id', '=', stock.clothId)));
    expect((await batch(code)).trouble).toEqual([expect.stringContaining('not guessed')]);
    const { text } = await house.page(`/dye-bench/batches/${code}/bench`).expect(200);
    expect(text).toContain('cannot be started');
    await house.submit(`/dye-bench/batches/${code}/starts`, {}).expect(409);
  });
});

describe('undo of a start', () => {
  it('puts every length back, and the batch is planned again and can start again', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 10_000);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const started = await start(house, code);
    const undone = await undo(house, started);
    expect(undone.body.location).toBe(`/dye-bench/batches/${code}`);
    expect(balance(house, piece.code)).toMatchObject({ onHand: m(10), cost: 10_000 });
    const page = await batch(code);
    expect(page).toMatchObject({ state: 'planned', inPot: 0 });
    expect(page.ways.start).not.toBe('');
    await start(house, code);
    expect(await batch(code)).toMatchObject({ state: 'in the pot' });
  });

  it('is refused once the length is back', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 0, '9');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const started = await start(house, code);
    await finish(house, code, ['3.9']);
    const { body } = await undo(house, started);
    expect(body.error.message).toContain('later work depends on it');
    expect(await batch(code)).toMatchObject({ state: 'done' });
  });
});

describe('cancelling', () => {
  it('takes a planned batch out of the way, and it can be put back', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await house.submit(`/dye-bench/batches/${code}/cancellations`, {}).expect(303);
    expect(await batch(code)).toMatchObject({
      state: 'cancelled',
      said: expect.stringContaining('Cancelled by Maker'),
    });
    expect((await house.data('/dye-bench')).body.planned).toEqual([]);
    await house.submit(`/dye-bench/batches/${code}/starts`, {}).expect(409);
    await house.submit(`/dye-bench/batches/${code}/cancellations`, {}).expect(409);
    await house.submit(`/dye-bench/batches/${code}/returns`, {}).expect(303);
    expect(await batch(code)).toMatchObject({ state: 'planned' });
    await house.submit(`/dye-bench/batches/${code}/returns`, {}).expect(409);
  });

  it('is refused once the batch is in the pot', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    await start(house, code);
    const { text } = await house.submit(`/dye-bench/batches/${code}/cancellations`, {}).expect(409);
    expect(text).toContain('it is in the pot');
  });
});

describe('an unknown batch', () => {
  it.each(['', '/bench', '/finish'])('has no page at D99%s', async (rest) => {
    const { text } = await house.page(`/dye-bench/batches/D99${rest}`).expect(404);
    expect(text).toContain('There is no batch D99.');
  });

  it('cannot be started', async () => {
    await house.submit('/dye-bench/batches/D99/starts', {}).expect(404);
  });
});
