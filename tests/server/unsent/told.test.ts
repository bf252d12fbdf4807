import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { holdLength, releaseLength, writeOffLength } from '../../../server/ledger/verbs.ts';
import { holdLays } from '../cutting-table/lay/hold-lays.ts';
import { balanceOf, entries, type OnTable, putOnTable } from '../cutting-table/tier/tier.ts';
import { furnish, plan, start } from '../dye-bench/recipe/making.ts';
import { length, makeBolt, newKey, openTestHouse, type TestHouse } from '../support.ts';

// Work that a device kept was refused: each of the ways to say what really happened, and what it comes to in the ledger.

let house: TestHouse;
let table: OnTable;
let bolt: { id: number; code: string };
let other: { id: number; code: string };
let lays: number[];
let now: Date;

const cm = (n: number) => length(`${n} cm`);

// Eight strips of 32 × 49 cm in lays of three, three and two, on a bolt of 5 m; another bolt of 2 m in the same lot.
beforeEach(async () => {
  now = new Date('2026-03-02T12:00:00.000Z');
  house = await openTestHouse(() => now);
  table = putOnTable(house, { strip: '49 cm' });
  [bolt, other] = house.write((tx) => [
    makeBolt(tx, table.stock.lotId, '5 m'),
    makeBolt(tx, table.stock.lotId, '2 m'),
  ]) as [typeof bolt, typeof other];
  lays = holdLays(
    house,
    table,
    [3, 3, 2].map((columns, i) => ({
      pieceId: bolt.id,
      from: i * cm(32),
      height: cm(32),
      runs: [{ tierId: table.tierId, depth: cm(32), length: cm(49), left: 0, columns }],
      parts: [cm(32)],
    })),
  );
});
afterEach(() => {
  expect(checkBook(house.book).findings).toEqual([]);
  return house.shut();
});

const bench = () => `/cutting-table/${table.code}/bench`;

interface Sent {
  readonly key: string;
  readonly path: string;
  readonly fields: string;
}

/** Sends a form as a device does that kept it, and gives what it would tell of it. */
async function send(path: string, fields: Record<string, string>, status: number): Promise<Sent> {
  const key = newKey();
  await house.send(path, { request_key: key, ...fields }).expect(status);
  return { key, path, fields: new URLSearchParams({ request_key: key, ...fields }).toString() };
}

const hand = (sent: Sent, more: object = {}) => ({
  ...sent,
  what: 'Lay 1 of Petticoat, from B1',
  reason: 'Lay 1 was cut already.',
  ...more,
});

const ask = (sent: Sent) => house.send('/unsent', hand(sent, { waited: '3600' })).expect(200);
const tell = (sent: Sent, way: string, fields: object = {}) =>
  house.send('/unsent/told', {
    ...hand(sent, { done_at: '2026-03-02T11:00:00.000Z' }),
    request_key: `${sent.key}-told`,
    way,
    ...fields,
  });
const doneAt = (sent: Sent) =>
  house.book.first(
    house.book.db.selectFrom('request').select('done_at').where('key', '=', `${sent.key}-told`),
  )?.done_at;

/** Somebody else has cut the first lay; the second one who cut it is refused. */
async function cutTwice(): Promise<Sent> {
  await house.submit(bench(), { lays: String(lays[0]) }).expect(303);
  return send(bench(), { lays: String(lays[0]) }, 409);
}

const cutsOf = (pieceId: number) => {
  const { db } = house.book;
  const rows = house.book.all(
    db.selectFrom('entry').selectAll().where('piece_id', '=', pieceId).where('kind', '=', 'cut'),
  );
  return rows.map((row) => [row.strips, -row.length_ticks]);
};

describe('a lay that was cut twice', () => {
  it('is asked about with what was sent, how things stand, and every way that fits', async () => {
    const sent = await cutTwice();
    const before = entries(house);
    const { body } = await ask(sent);
    expect(body).toMatchObject({
      what: 'Lay 1 of Petticoat, from B1',
      reason: 'Lay 1 was cut already.',
      toldKey: `${sent.key}-told`,
      sent: { done_at: '2026-03-02T11:00:00.000Z' },
    });
    expect(body.ways.map(({ way }: { way: string }) => way)).toEqual([
      'spoiled',
      'other piece',
      'count',
      'none',
    ]);
    expect(body.now[0].said).toMatch(
      /^4\.68 m of B1 is on hand and 4\.04 m free\. .*Last entry: cut by Maker/,
    );
    expect(entries(house)).toBe(before);
  });

  it('was spoiled: the length is written off, and says why', async () => {
    const sent = await cutTwice();
    const { body } = await tell(sent, 'spoiled', { spoiled_length: '0.32 m' }).expect(200);
    expect(body.said).toBe('0.32 m of B1 written off as spoiled.');
    expect(balanceOf(house, bolt.code).onHand).toBe(length('5 m') - 2 * cm(32));
    expect(cutsOf(bolt.id)).toEqual([[3, cm(32)]]);
    const { db } = house.book;
    const off = house.book.first(db.selectFrom('entry').selectAll().where('kind', '=', 'written-off'));
    expect(off?.why).toBe('spoiled: Lay 1 of Petticoat, from B1');
    expect(doneAt(sent)).toBe('2026-03-02T11:00:00.000Z');
    // It is told once; a second way is refused, and so is the work itself from now on.
    await tell(sent, 'none').expect(409);
  });

  it('was spoiled though all of the piece is held: the tier holds so much less', async () => {
    house.write((tx) => holdLength(tx, other.id, table.tierId, { lengthTicks: length('2 m'), typed: '' }));
    const path = `/cutting-table/${table.code}/${table.tierId}/bench`;
    // The tier was changed since the drop was shown, so that it cannot be entered as shown.
    const sent = await send(path, { piece: other.code, strips: '3', size: '1x1' }, 409);
    await tell(sent, 'spoiled', { spoiled_length: '2.5 m' }).expect(409);
    expect(balanceOf(house, other.code).held).toBe(length('2 m'));
    await tell(sent, 'spoiled', { spoiled_length: '0.4 m' }).expect(200);
    const left = length('2 m') - length('0.4 m');
    expect(balanceOf(house, other.code)).toMatchObject({ onHand: left, held: left });
  });

  it('was cut from another piece, where the strips may be more than wanted', async () => {
    await house.submit(bench(), { lays: lays.join(' ') }).expect(303);
    const sent = await send(bench(), { lays: String(lays[0]) }, 409);
    const refused = await tell(sent, 'other piece', { piece: other.code }).expect(422);
    expect(refused.body.error.message).toContain('wants no more of this shade');
    expect(refused.body.page.ways.find(({ way }: { way: string }) => way === 'other piece').isOpen).toBe(
      true,
    );
    const { body } = await tell(sent, 'other piece', { piece: other.code, more_than_wanted: 'yes' }).expect(
      200,
    );
    expect(body.said).toMatch(/^3 strips cut for Tier 1 of \w+ from 0\.32 m of B2\.$/);
    expect(cutsOf(other.id)).toEqual([[3, cm(32)]]);
    expect(balanceOf(house, bolt.code).onHand).toBe(length('5 m') - 3 * cm(32));
  });

  it('did not happen: nothing is entered, and that is said', async () => {
    const sent = await cutTwice();
    const before = entries(house);
    const { body } = await tell(sent, 'none').expect(200);
    expect(body).toMatchObject({
      location: bench(),
      said: 'Dropped: Lay 1 of Petticoat, from B1. Nothing was entered.',
    });
    expect(entries(house)).toBe(before);
    // The same again gets the same answer.
    expect((await tell(sent, 'none').expect(200)).body.said).toBe(body.said);
    expect(entries(house)).toBe(before);
  });
});

describe('a piece that has not that length any more by the book', () => {
  /** The third lay is held no more and the rest of the bolt written off, though it lay there and was cut. */
  async function fallenOut(): Promise<Sent> {
    await house.submit(bench(), { lays: `${lays[0]} ${lays[1]}` }).expect(303);
    house.write((tx) => {
      releaseLength(tx, bolt.id, table.tierId, { lengthTicks: cm(32), typed: '' });
      writeOffLength(tx, bolt.id, { lengthTicks: length('5 m') - 2 * cm(32), typed: '', why: 'lost' });
    });
    return send(bench(), { lays: String(lays[2]) }, 409);
  }

  it('was counted wrong: the count and the strips are entered, and what is left is what was measured', async () => {
    const sent = await fallenOut();
    const refused = await tell(sent, 'count', { counted: '' }).expect(422);
    expect(refused.body.error.problems).toEqual([
      { field: 'counted', message: 'Enter the length that was measured.' },
    ]);
    const { body } = await tell(sent, 'count', { counted: '1 m' }).expect(200);
    expect(body.said).toMatch(
      /^B1 was recounted: 1\.32 m instead of 0 m\. 2 strips cut for Tier 1 of \w+ from 0\.32 m of B1\.$/,
    );
    expect(balanceOf(house, bolt.code).onHand).toBe(length('1 m'));
    expect(cutsOf(bolt.id)).toEqual([
      [3, cm(32)],
      [3, cm(32)],
      [2, cm(32)],
    ]);
    // Undone as one: the count goes with the cut.
    await house.submit('/undo', { undoes: `${sent.key}-told` }).expect(303);
    expect(balanceOf(house, bolt.code).onHand).toBe(0);
  });

  it('is left as it was where the count stands but the work does not', async () => {
    await house.submit(bench(), { lays: lays.join(' ') }).expect(303);
    const sent = await send(bench(), { lays: String(lays[0]) }, 409);
    const { body } = await tell(sent, 'count', { counted: '4 m' }).expect(422);
    expect(body.error.message).toContain('wants no more of this shade');
    expect(balanceOf(house, bolt.code).onHand).toBe(length('5 m') - 3 * cm(32));
    await tell(sent, 'count', { counted: '4 m', more_than_wanted: 'yes' }).expect(200);
    expect(balanceOf(house, bolt.code).onHand).toBe(length('4 m'));
  });

  it('is counted, and what was held of it too', async () => {
    const path = `/cutting-table/${table.code}/${table.tierId}/holds`;
    const sent = await send(path, { piece: other.code, length: '3 m' }, 409);
    expect((await ask(sent)).body.ways.map(({ way }: { way: string }) => way)).toEqual([
      'other piece',
      'count',
      'none',
    ]);
    await tell(sent, 'count', { counted: '2 m' }).expect(422);
    const { body } = await tell(sent, 'count', { counted: '3.5 m' }).expect(200);
    expect(body.said).toMatch(/^B2 was recounted: 3\.5 m instead of 2 m\. 3 m of B2 held for Tier 1/);
    expect(balanceOf(house, other.code)).toMatchObject({ onHand: length('3.5 m'), held: length('3 m') });
  });

  it('is counted, and strips of a tier cut from it with the length that was taken', async () => {
    const path = `/cutting-table/${table.code}/${table.tierId}/cuts`;
    const sent = await send(path, { piece: other.code, strips: '3', length: '2.5 m' }, 409);
    await tell(sent, 'count', { counted: '1 m' }).expect(200);
    expect(balanceOf(house, other.code).onHand).toBe(length('1 m'));
    expect(cutsOf(other.id)).toEqual([[3, length('2.5 m')]]);
  });

  it('was written off more than is free: of another piece, or after a count', async () => {
    const path = `/shelf/pieces/${other.code}/write-offs`;
    const sent = await send(path, { length: '3 m', why: 'stained' }, 409);
    const { body } = await tell(sent, 'other piece', { piece: bolt.code, length: '1 m' }).expect(200);
    expect(body.said).toBe('1 m of B1 written off: stained.');
    const second = await send(path, { length: '3 m', why: 'stained' }, 409);
    await tell(second, 'count', { counted: '0.5 m' }).expect(200);
    expect(balanceOf(house, other.code).onHand).toBe(length('0.5 m'));
  });
});

describe('a bath whose step was logged already', () => {
  async function loggedTwice() {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '2' } });
    await start(house, code);
    const path = `/dye-bench/batches/${code}/logs/steps`;
    const step = (await house.data(`/dye-bench/batches/${code}/bench`)).body.bath.step.key;
    await house.send(path, { bath: '1', step }).expect(200);
    return { code, sent: await send(path, { bath: '1', step }, 409) };
  }

  it('is kept as a note with when it was done', async () => {
    const { sent } = await loggedTwice();
    expect((await ask(sent)).body.ways.map(({ way }: { way: string }) => way)).toEqual(['note', 'none']);
    await tell(sent, 'note', { note: 'Stirred by both of us.' }).expect(200);
    const { db } = house.book;
    const note = house.book.first(db.selectFrom('batch_log').selectAll().where('kind', '=', 'note'));
    expect(note?.note).toMatch(
      /^Lay 1 of Petticoat, from B1, done 2 Mar 2026, .*\.\nNot logged as that: Lay 1 was cut already\.\nStirred by both of us\.$/,
    );
    expect(doneAt(sent)).toBe('2026-03-02T11:00:00.000Z');
  });

  it('was another bath, and is logged for that', async () => {
    const { piece, recipeId, vesselId } = await furnish(house);
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '8' } });
    await start(house, code);
    const path = `/dye-bench/batches/${code}/logs/temperatures`;
    // Nobody began the first bath.
    const sent = await send(path, { bath: '1', temperature: '61' }, 409);
    const asked = (await ask(sent)).body;
    expect(asked.ways.map(({ way }: { way: string }) => way)).toEqual(['other bath', 'note', 'none']);
    const { step } = (await house.data(`/dye-bench/batches/${code}/bench?bath=2`)).body.bath;
    await house.send(`/dye-bench/batches/${code}/logs/steps`, { bath: '2', step: step.key }).expect(200);
    await tell(sent, 'other bath', { bath: '' }).expect(422);
    await tell(sent, 'other bath', { bath: '2' }).expect(200);
    const { db } = house.book;
    const row = house.book.first(db.selectFrom('batch_log').selectAll().where('kind', '=', 'temperature'));
    expect([row?.bath, row?.figure]).toEqual([2, 610]);
  });

  it('is dropped where it is in the log already', async () => {
    const { code, sent } = await loggedTwice();
    const { body } = await tell(sent, 'none').expect(200);
    expect(body.location).toBe(`/dye-bench/batches/${code}/bench?bath=1`);
    const { db } = house.book;
    expect(house.book.all(db.selectFrom('batch_log').select('kind')).map(({ kind }) => kind)).toEqual([
      'step',
    ]);
  });
});

describe('what a device hands over', () => {
  it('is refused under another key, and where it is in the book already', async () => {
    const key = newKey();
    const fields = { lays: String(lays[0]) };
    await house.send(bench(), { request_key: key, ...fields }).expect(200);
    const sent = { key, path: bench(), fields: new URLSearchParams(fields).toString() };
    const { body } = await tell(sent, 'spoiled', { spoiled_length: '0.32 m' }).expect(409);
    expect(body.error.message).toMatch(/^This is in the book already: Lay 1 cut from/);
    await house
      .send('/unsent/told', { ...hand(sent), done_at: '', request_key: newKey(), way: 'none' })
      .expect(400);
    await house.send('/unsent', { key: 'short', path: 'nowhere', fields: '' }).expect(400);
  });

  it('can only be dropped where nothing is known of it', async () => {
    for (const path of ['/shelf/pieces/B99/write-offs', '/cutting-table/G1/bench', '/nowhere']) {
      const { body } = await ask({ key: newKey(), path, fields: 'lays=1&request_key=a' });
      expect(body.ways.map(({ way }: { way: string }) => way)).toContain('none');
    }
    const sent = { key: newKey(), path: '/nowhere', fields: 'a=b' };
    await tell(sent, 'spoiled', { spoiled_length: '1 m' }).expect(422);
    await tell(sent, 'none').expect(200);
  });
});
