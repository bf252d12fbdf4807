import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { m } from '../../../lengths.ts';
import { makeBolt, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { balance, finish, furnish, makeGround, plan, start, undo } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const batch = async (code: string) => (await house.data(`/dye-bench/batches/${code}`).expect(200)).body;
const kindsOf = (code: string) =>
  house.book
    .all(
      house.book.db
        .selectFrom('entry')
        .innerJoin('piece', 'piece.id', 'entry.piece_id')
        .select(['entry.kind', 'entry.length_ticks'])
        .where('piece.code', '=', code)
        .orderBy('entry.id'),
    )
    .map(({ kind, length_ticks }) => [kind, length_ticks]);

/** A batch of 4 m of one bolt of 10 m that cost 100.00, in the pot. */
async function inThePot() {
  const made = await furnish(house, '10 m', 10_000, '9');
  const { piece, recipeId, vesselId } = made;
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  await start(house, code);
  return { ...made, code };
}

describe('finishing', () => {
  it('makes a piece of the batch’s own lot in the shade, with shrinkage entered and cost carried on', async () => {
    const { code, moss } = await inThePot();
    await finish(house, code, ['3.88']);
    const { back, state } = await batch(code);
    expect(state).toBe('done');
    // 4 m less 3.88 m are 12 cm: 3 % of 4 m. The 40.00 that 4 of 10 m cost go with them.
    expect(back).toMatchObject([{ lot: { code: 'D1' }, sent: '4 m', measured: '3.88 m', shrunk: '3 %' }]);
    const made = back[0].piece.code;
    expect(balance(house, made)).toEqual({ onHand: m('3.88'), held: 0, cost: 4000, lot: 'D1' });
    expect(kindsOf(made)).toEqual([
      ['back-from-dye', m(4)],
      ['shrunk', -m('0.12')],
    ]);
    const lot = house.book.first(house.book.db.selectFrom('lot').selectAll().where('code', '=', 'D1'));
    expect(lot).toMatchObject({ origin: 'dyed', shade_id: moss });
  });

  it('puts the piece where it is told to be, as wide as it is now', async () => {
    const { code } = await inThePot();
    const placeId = house.write(
      (tx) => tx.run(tx.db.insertInto('place').values({ name: 'Drying line' })).lastId,
    );
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
    const row = {
      sent_id: body.rows[0].sent_id.value,
      length: '3.9',
      usable_width: '145',
      place_id: String(placeId),
    };
    const answer = await house.send(`/dye-bench/batches/${code}/finish`, { pieces: [row] }).expect(200);
    expect(answer.body.said).toMatch(/^Back from D1 in Moss: B\d+ with 3.9 m\.$/);
    const made = (await batch(code)).back[0].piece.code;
    const piece = house.book.first(house.book.db.selectFrom('piece').selectAll().where('code', '=', made));
    expect(piece).toMatchObject({ place_id: placeId, usable_width_ticks: m('1.45') });
  });

  it('writes a spoiled length off with its cost and says so', async () => {
    const { code } = await inThePot();
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
    const pieces = [{ sent_id: body.rows[0].sent_id.value, length: '0' }];
    const answer = await house.send(`/dye-bench/batches/${code}/finish`, { pieces }).expect(200);
    expect(answer.body.said).toBe('One length was spoiled and written off.');
    const { back } = await batch(code);
    expect(back).toMatchObject([{ spoiled: true, shrunk: '' }]);
    expect(balance(house, back[0].piece.code)).toMatchObject({ onHand: 0, cost: 0 });
    expect(kindsOf(back[0].piece.code)).toEqual([
      ['back-from-dye', m(4)],
      ['written-off', -m(4)],
    ]);
    const { text } = await house.page(`/dye-bench/batches/${code}`);
    expect(text).toContain('spoiled, written off');
  });

  it('enters a length that grew as a recount', async () => {
    const { code } = await inThePot();
    await finish(house, code, ['4.1']);
    const { back } = await batch(code);
    expect(back).toMatchObject([{ measured: '4.1 m', shrunk: 'grew 2.5 %' }]);
    expect(kindsOf(back[0].piece.code)).toEqual([
      ['back-from-dye', m(4)],
      ['recounted', m('0.1')],
    ]);
  });

  it('refuses what is no length and keeps it', async () => {
    const { code } = await inThePot();
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
    const fields = { 'pieces.0.sent_id': body.rows[0].sent_id.value, 'pieces.0.length': 'nearly 4' };
    const { text } = await house.submit(`/dye-bench/batches/${code}/finish`, fields).expect(422);
    expect(text).toContain('value="nearly 4"');
    const none = await house.send(`/dye-bench/batches/${code}/finish`, {
      pieces: [{ sent_id: fields['pieces.0.sent_id'], length: '' }],
    });
    expect(none.body.error.problems).toMatchObject([{ field: 'pieces' }]);
    expect(await batch(code)).toMatchObject({ state: 'in the pot' });
  });

  it('is done once by one form, and refused to a second one with who and when', async () => {
    const { code } = await inThePot();
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
    const pieces = [{ sent_id: body.rows[0].sent_id.value, length: '3.9' }];
    const request_key = newKey();
    const path = `/dye-bench/batches/${code}/finish`;
    await house.send(path, { request_key, pieces }).expect(200);
    await house.send(path, { request_key, pieces }).expect(200);
    expect((await batch(code)).back).toHaveLength(1);
    const late = await house.send(path, { pieces }).expect(409);
    expect(late.body.error.message).toMatch(/is back already, as B\d+ of lot D1: Maker, 2 Mar 2026/);
    const twice = await house.send(path, { pieces: [...pieces, ...pieces] });
    expect(twice.status).toBe(409);
    const page = await house.page(path).expect(200);
    expect(page.text).toContain('Nothing of D1 is in the pot.');
  });
});

describe('undo of a finish', () => {
  it('puts the length back into the pot; finished again it is of the same lot', async () => {
    const { code } = await inThePot();
    const finished = await finish(house, code, ['3.88']);
    const first = (await batch(code)).back[0].piece.code;
    expect((await undo(house, finished)).status).toBe(200);
    expect(await batch(code)).toMatchObject({ state: 'in the pot', inPot: 1, back: [] });
    expect(balance(house, first)).toMatchObject({ onHand: 0, cost: 0 });
    expect((await house.data('/dye-bench')).body.inPot).toMatchObject([{ code }]);
    await finish(house, code, ['3.92']);
    const { back, state } = await batch(code);
    expect(state).toBe('done');
    expect(back).toMatchObject([{ lot: { code: 'D1' }, measured: '3.92 m' }]);
    expect(back[0].piece.code).not.toBe(first);
    expect(
      house.book.all(house.book.db.selectFrom('lot').select('id').where('batch_id', 'is not', null)),
    ).toHaveLength(1);
  });

  it('then of the start, leaves the shelf as it was before', async () => {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 10_000, '9');
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
    const started = await start(house, code);
    // The link names the batch, and the words beside it do not name it again.
    const [sent] = (await house.data('/shelf/ledger?kind=sent-to-dye')).body.entries;
    expect(sent).toMatchObject({ why: expect.stringMatching(/^to /) });
    expect(sent.links).toContainEqual({ text: `batch ${code}`, href: `/dye-bench/batches/${code}` });
    const finished = await finish(house, code, ['3.88']);
    expect((await undo(house, finished)).status).toBe(200);
    expect((await undo(house, started)).status).toBe(200);
    expect(balance(house, piece.code)).toMatchObject({ onHand: m(10), cost: 10_000 });
    expect(await batch(code)).toMatchObject({ state: 'planned', back: [] });
  });
});

describe('a batch of several lengths', () => {
  async function twoCloths() {
    const { piece, recipeId, vesselId } = await furnish(house, '10 m', 0, '9');
    const net = house.write((tx) => {
      const made = makeGround(tx, { name: 'Nylon net', content: { nylon: 100 }, gramsPerM2: 20 });
      return makeBolt(tx, made.lotId, '3 m', 0, '150 cm');
    });
    const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4', [net.code]: '3' } });
    await start(house, code);
    return code;
  }

  it('gets one lot a cloth', async () => {
    const code = await twoCloths();
    await finish(house, code, ['3.9', '2.9']);
    const { back } = await batch(code);
    expect(back.map(({ lot }: { lot: { code: string } }) => lot.code)).toEqual(['D1-1', 'D1-2']);
  });

  it('is in the pot until all of it is back, and says how much still is', async () => {
    const code = await twoCloths();
    await finish(house, code, ['3.9', '']);
    expect(await batch(code)).toMatchObject({
      state: 'in the pot',
      inPot: 1,
      said: expect.stringContaining('1 of 2 lengths are in the pot still.'),
    });
    const { body } = await house.data(`/dye-bench/batches/${code}/finish`);
    expect(body.rows).toHaveLength(1);
    await finish(house, code, ['2.9']);
    expect(await batch(code)).toMatchObject({ state: 'done', inPot: 0 });
  });
});
