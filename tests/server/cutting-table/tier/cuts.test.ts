import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { standingIn } from '../../garments/making.ts';
import { length, makeBolt, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { addTierLike, balanceOf, entries, type OnTable, putOnTable } from './tier.ts';

let house: TestHouse;
let table: OnTable;
let bolt: string;

// Eight strips of 32 × 49 cm, three a cut length of 147 cm; a bolt of 2 m for 10.00.
beforeEach(async () => {
  house = await openTestHouse();
  table = putOnTable(house, { strip: '49 cm' });
  bolt = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 1000)).code;
});
afterEach(() => house.shut());

const cut = (fields: Record<string, string>) => house.submit(`${table.path}/cuts`, fields);
const form = async (query: string) => (await house.data(`${table.path}/cuts?${query}`).expect(200)).body;
const counts = async () => {
  const { body } = await house.data(table.path).expect(200);
  const { wantedStrips, cutStrips, leftStrips } = body.shades[0];
  return [wantedStrips, cutStrips, leftStrips];
};

describe('the form to cut', () => {
  it('needs no typing for planned work: 8 strips in 3 cut lengths of 32 cm', async () => {
    const body = await form(`piece=${bolt}`);
    const typed = standingIn(body.fields);
    expect(typed).toMatchObject({ piece: bolt, strips: '8', length: '0.96', rest: 'waste' });
    expect(body.needs).toBe('8 strips in 3 cut lengths of 32 cm, 3 strips a length: 0.96 m');
    // The last cut length gives two strips: 147 − 98 = 49 cm are left beside them.
    expect(typed).toMatchObject({ leftover_width: '49', leftover_length: '0.32' });
    expect(typed).toMatchObject({
      size: `${length('32 cm')}x${length('49 cm')}`,
      planned_strips: '8',
      planned_length: '0.96',
    });
  });

  it('fills in another number of strips, and the best piece where none is named', async () => {
    expect(standingIn((await form(`piece=${bolt}&strips=4`)).fields)).toMatchObject({
      strips: '4',
      length: '0.64',
    });
    expect(standingIn((await form('')).fields)).toMatchObject({ piece: bolt, strips: '8' });
  });

  it('takes what is held before what is free', async () => {
    await house.submit(`${table.path}/holds`, { piece: bolt, length: '0.32' }).expect(303);
    expect(standingIn((await form(`piece=${bolt}`)).fields)).toMatchObject({ strips: '3', length: '0.32' });
  });

  it('keeps a rest from the useful length on, where a strip could be cut along it', async () => {
    // 196 − 3 × 49 = 49 cm wide and three cut lengths long, which is more than the useful 50 cm.
    const wide = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 0, '196 cm')).code;
    const body = await form(`piece=${wide}&strips=9`);
    expect(standingIn(body.fields)).toMatchObject({
      rest: 'waste',
      leftover_width: '147',
      leftover_length: '0.32',
    });
    const twelve = await form(`piece=${wide}&strips=12`);
    expect(twelve.rest).toBe('');
    const narrow = house.write((tx) => makeBolt(tx, table.stock.lotId, '2 m', 0, '180 cm')).code;
    const nine = await form(`piece=${narrow}&strips=9`);
    expect(standingIn(nine.fields)).toMatchObject({
      rest: 'keep',
      leftover_width: '33',
      leftover_length: '0.96',
    });
    expect(nine.rest).toBe('33 cm wide, 0.96 m long');
  });

  it('is in yards and inches for who reads them, and loses nothing', async () => {
    const settings = { name: 'Loft', length_system: 'imperial', currency: 'EUR', useful_remnant: '18' };
    await house.submit('/setup', settings).expect(303);
    const body = await form(`piece=${bolt}`);
    expect(body.fields).toMatchObject({
      length: { unit: 'yd', value: '960 mm' },
      leftover_width: { unit: 'in', value: '490 mm' },
    });
    await cut({ piece: bolt, strips: '8', length: body.fields.length.value, rest: 'waste' }).expect(303);
    expect(balanceOf(house, bolt).onHand).toBe(length('1.04 m'));
  });
});

describe('cutting', () => {
  it('makes one entry that takes the length and its share of the cost', async () => {
    const before = entries(house);
    const done = await cut({ piece: bolt, strips: '8', length: '0.96', rest: 'waste' }).expect(303);
    expect(entries(house)).toBe(before + 1);
    // 0.96 of 2 m is 480 of 1000.
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('1.04 m'), held: 0, cost: 520 });
    expect(await counts()).toEqual([8, 8, 0]);
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain(`8 strips cut for Tier 1 of ${table.code} from 0.96 m of ${bolt}.`);
    expect(page.text).toContain('All strips of this shade are cut.');
  });

  it('without a length takes what the strips need, and what is held goes first', async () => {
    await house.submit(`${table.path}/holds`, { piece: bolt, length: '0.32' }).expect(303);
    await cut({ piece: bolt, strips: '4' }).expect(303);
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('1.36 m'), held: 0, cost: 680 });
  });

  it('takes what was really used', async () => {
    await cut({ piece: bolt, strips: '3', length: '40 cm', rest: 'waste', why: 'Skewed end' }).expect(303);
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('1.6 m'), cost: 800 });
    const { body } = await house.data(table.path);
    expect(body.cutsDone[0].entry).toMatchObject({ why: 'Skewed end', typed: '40 cm', length: '−0.4 m' });
  });

  it('keeps the rest as a remnant that carries the share of its area', async () => {
    // Seven strips: 98 × 32 cm are left in the last cut length. 480 × (98 × 32) ÷ (147 × 96) = 106.67, rounded down.
    const done = await house.send(`${table.path}/cuts`, { piece: bolt, strips: 7, rest: 'keep' }).expect(200);
    const remnant = /is (R\d+)\./.exec(done.body.said)?.[1] ?? '';
    expect(done.body.said).toContain('the remnant, 98 cm wide and 0.32 m long, is R');
    expect(balanceOf(house, remnant)).toEqual({
      onHand: length('32 cm'),
      held: 0,
      cost: 106,
      width: length('98 cm'),
    });
    expect(balanceOf(house, bolt).cost).toBe(520);
    const strips = house.book.all(
      house.book.db.selectFrom('entry').select('cost_minor').where('kind', '=', 'cut'),
    );
    expect(strips.map((entry) => entry.cost_minor)).toEqual([-480]);
    const { body } = await house.data(table.path);
    expect(body.shades[0].free.map((row: { piece: { code: string } }) => row.piece.code)).toContain(remnant);
  });

  it('keeps the rest as it was measured, in the place that was chosen', async () => {
    const { lastId: place } = house.write((tx) =>
      tx.run(tx.db.insertInto('place').values({ name: 'Drawer' })),
    );
    const fields = { piece: bolt, strips: '1', length: '0.5', rest: 'keep', leftover_width: '97' };
    const made = await cut({ ...fields, leftover_length: '31 cm', place_id: String(place) }).expect(303);
    const page = await house.page(made.headers.location ?? '');
    const remnant = /is (R\d+)\./.exec(page.text)?.[1] ?? '';
    // 250 × (97 × 31) ÷ (147 × 50) = 102.28, rounded down.
    expect(balanceOf(house, remnant)).toMatchObject({
      onHand: length('31 cm'),
      width: length('97 cm'),
      cost: 102,
    });
    const { body } = await house.data(table.path);
    const row = body.shades[0].free.find((one: { piece: { code: string } }) => one.piece.code === remnant);
    expect(row).toBeUndefined();
    expect(body.shades[0].tooSmall).toContain('1 free piece gives no strip');
    const piece = house.book.first(
      house.book.db.selectFrom('piece').select('place_id').where('code', '=', remnant),
    );
    expect(piece?.place_id).toBe(place);
  });

  it('takes the same form once', async () => {
    const fields = { piece: bolt, strips: '3', request_key: newKey() };
    await cut(fields).expect(303);
    await cut(fields).expect(303);
    expect(await counts()).toEqual([8, 3, 5]);
    expect(balanceOf(house, bolt).onHand).toBe(length('1.68 m'));
  });
});

describe('undoing a cut', () => {
  it('brings back length, cost and counts, and takes the remnant away', async () => {
    const key = newKey();
    await cut({ piece: bolt, strips: '7', rest: 'keep', request_key: key }).expect(303);
    const { body } = await house.data(table.path);
    expect(body.cutsDone[0].entry.requestKey).toBe(key);
    const done = await house.submit('/undo', { undoes: key }).expect(303);
    expect(done.headers.location).toContain(table.path);
    expect(balanceOf(house, bolt)).toMatchObject({ onHand: length('2 m'), cost: 1000 });
    expect(await counts()).toEqual([8, 0, 8]);
    expect((await house.data(table.path)).body.cutsDone).toEqual([]);
    const remnants = house.book.all(
      house.book.db.selectFrom('piece').select('on_hand_ticks').where('kind', '=', 'remnant'),
    );
    expect(remnants).toEqual([{ on_hand_ticks: 0 }]);
  });

  it('gives what was held back to the hold', async () => {
    const key = newKey();
    await house.submit(`${table.path}/holds`, { piece: bolt, length: '0.96' }).expect(303);
    await cut({ piece: bolt, strips: '3', request_key: key }).expect(303);
    expect(balanceOf(house, bolt).held).toBe(length('0.64 m'));
    await house.submit('/undo', { undoes: key }).expect(303);
    expect(balanceOf(house, bolt).held).toBe(length('0.96 m'));
  });

  it('is refused once the remnant is in use, and says by what', async () => {
    const key = newKey();
    await cut({ piece: bolt, strips: '7', rest: 'keep', request_key: key }).expect(303);
    const { body } = await house.data(table.path);
    const remnant = body.shades[0].free.find(
      (row: { piece: { kind: string } }) => row.piece.kind === 'remnant',
    );
    await house.submit(`${table.path}/holds`, { piece: remnant.piece.code, length: '0.32' }).expect(303);
    const refused = await house.submit('/undo', { undoes: key }).expect(409);
    expect(refused.text).toContain(`${remnant.piece.code} was held by Maker`);
    expect(await counts()).toEqual([8, 7, 1]);
  });

  it('is offered beside a last cut only where it would be granted', async () => {
    const [early, late] = [newKey(), newKey()];
    await cut({ piece: bolt, strips: '3', request_key: early }).expect(303);
    await house.submit(`/shelf/pieces/${bolt}/recounts`, { length: '1.6' }).expect(303);
    await cut({ piece: bolt, strips: '3', request_key: late }).expect(303);
    const { body } = await house.data(table.path);
    const offered = body.cutsDone.map((done: { entry: { requestKey: string }; undoKey: string }) => [
      done.entry.requestKey,
      done.undoKey !== '',
    ]);
    expect(offered).toEqual([
      [late, true],
      [early, false],
    ]);
    const page = (await house.page(table.path)).text;
    expect(page).toContain(`name="undoes" value="${late}"`);
    expect(page).not.toContain(`name="undoes" value="${early}"`);
    await house.submit('/undo', { undoes: early }).expect(409);
    await house.submit('/undo', { undoes: late }).expect(303);
  });
});

describe('two devices', () => {
  it('cutting the last cut length at once: one wins, the other hears who was first and what is left', async () => {
    const last = house.write((tx) => makeBolt(tx, table.stock.lotId, '32 cm', 100)).code;
    const [first, second] = await Promise.all([
      cut({ piece: last, strips: '3' }),
      cut({ piece: last, strips: '3' }),
    ]);
    expect([first.status, second.status].sort()).toEqual([303, 409]);
    const refused = first.status === 409 ? first : second;
    expect(refused.text).toContain(`0.32 m was asked of ${last}, and 0 m can be had.`);
    expect(refused.text).toMatch(/Last entry: cut by Maker, 2 Mar 2026/);
    expect(balanceOf(house, last)).toMatchObject({ onHand: 0, cost: 0 });
    expect(await counts()).toEqual([8, 3, 5]);
  });

  it('cannot cut what another tier holds', async () => {
    const otherId = addTierLike(house, table, 'Tier 2');
    const path = `/cutting-table/${table.code}/${otherId}`;
    await house.submit(`${path}/holds`, { piece: bolt, length: '1.8' }).expect(303);
    const refused = await cut({ piece: bolt, strips: '3' }).expect(409);
    expect(refused.text).toContain('0.32 m was asked');
    expect(refused.text).toContain(`1.8 m is held for Tier 2 of ${table.code}.`);
    await house.submit(`${path}/cuts`, { piece: bolt, strips: '3' }).expect(303);
  });
});
