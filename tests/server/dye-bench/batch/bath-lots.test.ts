import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { holdLength } from '../../../../server/ledger/verbs.ts';
import { m } from '../../../lengths.ts';
import { makeBolt, makeLot, makeTier, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { balance, finish, furnish, plan, planFields, start, undo } from '../recipe/making.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const path = (code: string, rest = '') => `/dye-bench/batches/${code}${rest}`;
const batch = async (code: string) => (await house.data(path(code)).expect(200)).body;
const lots = async (code: string) =>
  (await batch(code)).back.map(({ lot, measured }: { lot: { code: string }; measured: string }) => [
    lot.code,
    measured,
  ]);

/** 4 m of a bolt of 10 m that cost 100.00 are two baths of the small pot. */
async function twoBaths() {
  const made = await furnish(house, '10 m', 10_000);
  const { piece, recipeId, vesselId } = made;
  const code = await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
  const started = await start(house, code);
  return { ...made, code, started };
}

async function workAll(code: string, bath: string, most = 20) {
  const log = (step: string) => house.send(path(code, '/logs/steps'), { bath, step });
  await log('begin').expect(200);
  for (let steps = 0; steps < most; steps += 1) {
    const { body } = await house.data(path(code, `/bench?bath=${bath}`));
    if (!body.bath.step) return;
    await log(body.bath.step.key).send({ skip_hold: 'yes' }).expect(200);
  }
}

describe('two baths', () => {
  it('come back as two lots, each with its own length, shrinkage and share of the cost', async () => {
    const { code, started } = await twoBaths();
    const finished = await finish(house, code, ['1.95', '1.9']);
    const { back } = await batch(code);
    expect(back).toMatchObject([
      { lot: { code: 'D1.1' }, sent: '2 m', measured: '1.95 m', shrunk: '2.5 %' },
      { lot: { code: 'D1.2' }, sent: '2 m', measured: '1.9 m', shrunk: '5 %' },
    ]);
    for (const { piece } of back) expect(balance(house, piece.code).cost).toBe(2000);
    expect(checkBook(house.book).findings).toEqual([]);
    expect((await undo(house, finished)).status).toBe(200);
    expect((await undo(house, started)).status).toBe(200);
    expect(await batch(code)).toMatchObject({ state: 'planned' });
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('are finished one by one; again after an undo they are of the same lots', async () => {
    const { code } = await twoBaths();
    await finish(house, code, ['1.95', '']);
    expect(await batch(code)).toMatchObject({ state: 'in the pot', inPot: 1 });
    const second = await finish(house, code, ['1.9']);
    expect(await lots(code)).toEqual([
      ['D1.1', '1.95 m'],
      ['D1.2', '1.9 m'],
    ]);
    await undo(house, second);
    await finish(house, code, ['1.92']);
    expect(await lots(code)).toEqual([
      ['D1.1', '1.95 m'],
      ['D1.2', '1.92 m'],
    ]);
  });

  it('are not measured while one is worked: it says who and when, and keeps the other', async () => {
    const { code } = await twoBaths();
    await workAll(code, '2', 1);
    const { body } = await house.data(path(code, '/finish')).expect(200);
    expect(body.rows.map(({ working }: { working: boolean }) => working)).toEqual([false, true]);
    const pieces = body.rows.map(({ sent_id }: { sent_id: { value: string } }) => ({
      sent_id: sent_id.value,
      length: '1.9',
    }));
    const refused = await house.send(path(code, '/finish'), { pieces }).expect(409);
    expect(refused.body.error.message).toMatch(
      /^Bath 2 of D1 is still being worked: .+ since \d\d:\d\d, told by Maker\./,
    );
    expect(await batch(code)).toMatchObject({ inPot: 2 });
    await house.send(path(code, '/finish'), { pieces: pieces.slice(0, 1) }).expect(200);
    // What is spoiled is taken out at any time.
    await house.send(path(code, '/finish'), { pieces: [{ ...pieces[1], length: '0' }] }).expect(200);
    expect(await batch(code)).toMatchObject({ state: 'done' });
  });
});

describe('undyed lots', () => {
  it('fill bath after bath, and two of them in one bath are warned of and told by the lot', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const other = house.write((tx) =>
      makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '10 m', 0, '147 cm'),
    );
    const lengths = { [piece.code]: '3', [other.code]: '1' };
    const code = await plan(house, { recipeId, vesselId, lengths });
    const { card } = await batch(code);
    expect(card.contents.map(({ lengths: of }: { lengths: string[] }) => of)).toEqual([
      ['2 m of B1'],
      ['1 m of B1', '1 m of B2'],
    ]);
    const warned = card.warnings.find(({ id }: { id: string }) => id.startsWith('undyed-lots-2'));
    expect(warned.text).toMatch(/^Bath 2 holds Nylon organza of lots L\d+ and L\d+/);
    await start(house, code);
    await finish(house, code, ['1.9', '0.95', '0.95']);
    expect(await lots(code)).toEqual([
      ['D1.1', '1.9 m'],
      ['D1.2', '0.95 m'],
      ['D1.2', '0.95 m'],
    ]);
    const { body } = await house.data('/shelf/lots/D1.2').expect(200);
    expect(body.dyed[0]).toMatch(/^From undyed lots L\d+ and L\d+, in one bath\.$/);
  });

  it('are kept apart by saying the bath of each length', async () => {
    const { piece, stock, recipeId, vesselId } = await furnish(house);
    const other = house.write((tx) =>
      makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '10 m', 0, '147 cm'),
    );
    const fields = planFields({ recipeId, vesselId, lengths: { [piece.code]: '2.5', [other.code]: '1' } });
    const place = (...baths: string[]) => ({
      ...fields,
      pieces: fields.pieces.map((row, at) => ({ ...row, bath: baths[at] ?? '' })),
    });
    for (const wrong of [place('1'), place('1', '3')]) {
      const { body } = await house.send('/dye-bench/batches/new', wrong).expect(422);
      expect(body.error.problems).toMatchObject([{ field: 'pieces' }]);
    }
    const { body } = await house.send('/dye-bench/batches/new', place('2', '1')).expect(200);
    const code = body.location.split('/').at(-1);
    const { card } = await batch(code);
    expect(card.contents).toMatchObject([
      { lengths: ['1 m of B2'], mass: '45 g' },
      { lengths: ['2.5 m of B1'], mass: '112.5 g' },
    ]);
    expect(card.warnings.filter(({ id }: { id: string }) => id.startsWith('undyed-lots'))).toEqual([]);
    await start(house, code);
    expect((await batch(code)).card.contents).toHaveLength(2);
  });
});

describe('lots joined by a judgement', () => {
  async function twoLots() {
    const made = await twoBaths();
    await finish(house, made.code, ['1.95', '1.9']);
    return made;
  }
  const join = (fields: object, key = newKey()) =>
    house.send('/shelf/lots/D1.2/joins', { request_key: key, other: 'D1.1', judged: 'eye', ...fields });
  const joins = async (code: string) => (await house.data(`/shelf/lots/${code}`).expect(200)).body.joins;

  it('count as one, with who judged it and how, and are parted by undo', async () => {
    await twoLots();
    const key = newKey();
    const answer = await join({ join_note: 'by the north window' }, key).expect(200);
    expect(answer.body.said).toBe('Lots D1.2 and D1.1 count as one, judged by eye.');
    expect(await joins('D1.1')).toMatchObject({
      oneWith: [{ code: 'D1.2' }],
      judgements: [
        {
          said: 'D1.2 with D1.1, judged by eye: Maker, 2 Mar 2026, 12:00. by the north window',
          canPart: true,
        },
      ],
      canJoin: false,
    });
    const { body } = await house.data('/shelf/lots/D1.2');
    expect(body.lengths.onHand).toBe('3.85 m');
    expect((await join({}).expect(409)).body.error.message).toContain('count as one lot already');
    expect(checkBook(house.book).findings).toEqual([]);
    expect((await undo(house, key)).status).toBe(200);
    expect(await joins('D1.1')).toMatchObject({ oneWith: [], canJoin: true });
    expect((await undo(house, key)).body.error.message).toMatch(/undone already by Maker/);
    await join({ judged: 'instrument', delta: '0.6' }).expect(200);
    expect((await joins('D1.2')).judgements[0].said).toContain('judged by instrument, ΔE00 0.6');
  });

  it('ask for the figure where it was measured, and for a lot of the cloth and shade', async () => {
    await twoLots();
    const bare = await join({ judged: 'instrument' }).expect(422);
    expect(bare.body.error.problems).toMatchObject([{ field: 'delta' }]);
    const strange = await join({ other: 'L1' });
    expect([404, 422]).toContain(strange.status);
    const { text } = await house.submit('/shelf/lots/D1.2/joins', { other: '', judged: '', delta: '0.7' });
    expect(text).toContain('value="0.7"');
  });

  it('serve one tier as one lot, and then are not parted', async () => {
    const { stock, moss } = await twoLots();
    const key = newKey();
    await join({}, key).expect(200);
    const { back } = await batch('D1');
    const id = (code: string) =>
      house.book.first(house.book.db.selectFrom('piece').select('id').where('code', '=', code))?.id ?? 0;
    house.write((tx) => {
      const tierId = makeTier(tx, { ...stock, shadeId: moss });
      for (const { piece } of back) {
        holdLength(tx, id(piece.code), tierId, { lengthTicks: m(1), typed: '1 m' });
      }
    });
    const refused = await undo(house, key);
    expect(refused.status).toBe(409);
    expect(refused.body.error.message).toMatch(/^This cannot be undone: both lots are used as one for /);
    expect((await joins('D1.1')).judgements).toMatchObject([{ canPart: false }]);
  });
});
