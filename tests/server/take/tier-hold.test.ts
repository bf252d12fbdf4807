import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cutLength } from '../../../server/ledger/verbs.ts';
import type { takePage } from '../../../server/take/page.ts';
import { makeGarment, makeTierOf, stockOf } from '../garments/making.ts';
import { length, makeBolt, makeLot, openTestHouse, type Stock, type TestHouse } from '../support.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

async function answerTo(asked: string) {
  const of = { length: asked, cloth: String(stock.clothId), shade: String(stock.shadeId) };
  const { body } = await house.data(`/take?${new URLSearchParams(of)}`).expect(200);
  return (body as ReturnType<typeof takePage>['data']).answer;
}

const bolt = (text: string, lotId = stock.lotId) => house.write((tx) => makeBolt(tx, lotId, text));
const pieceIdOf = (code: string) =>
  house.book.first(house.book.db.selectFrom('piece').select('id').where('code', '=', code))?.id ?? 0;

describe('what was asked about', () => {
  it('holds it for a tier that wants it, in one step, or says at the cutting table why not', async () => {
    const early = await makeGarment(house, { name: 'Early' });
    const [one, other] = [
      await makeTierOf(house, early, stock),
      await makeTierOf(house, early, stock, { name: 'Tier 2' }),
    ];
    const late = await makeGarment(house, { name: 'Late', due_on: '2026-05-01' });
    await makeTierOf(house, late, stock);
    await makeTierOf(house, late, stockOf(house), { name: 'Of another cloth' });
    const { code } = bolt('5 m');
    const holdOf = async () => (await answerTo('60 cm'))?.takings[0]?.tierHold;
    const offered = async () => (await holdOf())?.fields.tier.options?.map(({ label }) => label);
    expect(await offered()).toEqual([
      `${early} Early, Tier 1: 2 strips to cut`,
      `${early} Early, Tier 2: 2 strips to cut`,
      `${late} Late, Tier 1: 2 strips to cut`,
    ]);
    const hold = await holdOf();
    expect([hold?.fields.length.value, hold?.fields.tier.value]).toEqual(['0.6', String(one)]);
    const send = (more: object, to = hold?.action ?? '') =>
      house.submit(to, { piece: code, length: '60 cm', tier: String(other), ...more });

    const done = await send({}).expect(303);
    expect(done.headers.location).toMatch(new RegExp(`^/cutting-table/${early}/${other}\\?done=`));
    const held = house.book.all(house.book.db.selectFrom('hold').select(['tier_id', 'held_ticks']));
    expect(held).toEqual([{ tier_id: other, held_ticks: length('60 cm') }]);
    // All its strips are held now.
    expect(await offered()).toEqual([
      `${early} Early, Tier 1: 2 strips to cut`,
      `${late} Late, Tier 1: 2 strips to cut`,
    ]);
    // Less than a drop: the tier's own form says so, with what was typed.
    const form = await send({ length: '10 cm', tier: String(one) }).expect(422);
    expect(form.text).toContain(`action="/cutting-table/${early}/${one}/holds"`);
    expect(form.text).toContain('value="10 cm"');
    // A second lot is the cutting table's to ask back.
    house.write((tx) =>
      cutLength(tx, pieceIdOf(code), { lengthTicks: length('30 cm'), typed: '', tierId: one, strips: 1 }),
    );
    const strange = bolt(
      '5 m',
      house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId)),
    ).code;
    const second = await send({ piece: strange, tier: String(one) }).expect(422);
    expect(second.text).toContain('name="lots_meet"');
    // A tier that is gone, and none at all.
    for (const tier of ['999', '']) {
      const { status, body } = await house.send(hold?.action ?? '', { piece: code, length: '60 cm', tier });
      expect([status, body.error.problems[0].field]).toEqual([422, 'tier']);
    }
  });

  it('offers no hold for a tier where none wants it', async () => {
    bolt('5 m');
    const answer = await answerTo('3 m');
    expect(answer?.takings.map(({ tierHold }) => tierHold)).toEqual([null]);
  });
});
