import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { forgetPlans } from '../../../../server/cut-plans/answers.ts';
import { readHeldPlans } from '../../../../server/cut-plans/store.ts';
import { checkBook } from '../../../../server/ledger/check.ts';
import { length, makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf, entries } from '../tier/tier.ts';
import { bestOf, doneOf, hold, needOf, planOf, planPageOf, toPlan } from './planned.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

describe('the cut plans of a garment', () => {
  it('are worked out beside the page, which says so until they are found', async () => {
    forgetPlans();
    const { path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const first = await planPageOf(house, path);
    expect(first.awaited).toBe(path);
    expect(first.needs[0]?.working).toMatch(/The planner is working.*may be closed/);
    expect(first.needs[0]?.plans).toEqual([]);
    const need = await needOf(house, path);
    expect(need.working).toBe('');
    // By hand: 7 strips of 49 cm, three beside each other, are 3 cut lengths of 30 cm; in the third lie one strip of 49 and
    // three of 30 (139 cm of 147), which leaves 8 of 30: two cut lengths of 20 cm. 130 cm in all.
    expect(need.plans[0]?.figures).toMatchObject({
      madeStrips: 18,
      missingStrips: 0,
      charged: '1.3 m',
      chargedTicks: length('1.3 m'),
    });
    expect(need.plans[0]?.said).toBe('All 18 strips can be cut, from 1 piece: 1.3 m.');
    expect(need.plans[0]?.figures.proof).toMatch(
      /^No plan of this style of cutting can use less\. Style of cutting: full-width lays/,
    );
    const html = (await house.page(path)).text;
    expect(html).toContain('Hold this plan');
    expect(html).toContain('A lay 30 cm long of cloth 147 cm wide');
  });

  it('are held in one step, exactly as shown, and the ledger agrees', async () => {
    const { path, stock, code, tiers } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const plan = await bestOf(house, path);
    const answer = await hold(house, plan);
    expect(answer.status).toBe(200);
    expect(answer.body.said).toMatch(/^\d+ lays on 1 piece held for G\d+: 1\.3 m for 18 strips of /);
    expect(balanceOf(house, bolt.code).held).toBe(length('1.3 m'));
    expect(checkBook(house.book).findings).toEqual([]);
    const [held] = readHeldPlans(house.book, [1]);
    const given = (tierId: number) =>
      held?.lays
        .flatMap(({ parts }) => parts)
        .reduce((sum, part) => sum + (part.tierId === tierId ? part.strips : 0), 0);
    expect([given(tiers[0]), given(tiers[1])]).toEqual([7, 11]);
    for (const { lengthTicks, parts, state } of held?.lays ?? []) {
      expect(parts.reduce((sum, part) => sum + part.lengthTicks, 0)).toBe(lengthTicks);
      expect(state).toBe('held');
    }
    const need = await needOf(house, path);
    expect(need.plans).toEqual([]);
    expect(need.held).toMatchObject({ heldLays: held?.lays.length, cutLays: 0, out: [] });
    // Short counts the strips of the plan as held, although its shared lays would give fewer by whole cut lengths.
    const { body } = await house.data(`/short?garment=${code}`);
    expect(body.met).toMatchObject([{ wanted: 18, held: 18 }]);
  });

  it('hold the same pieces once: the second is told who took what, and plans again', async () => {
    const mine = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, mine.stock.lotId, '2 m'));
    const late = await bestOf(house, mine.path);
    // A garment that is due before this one is planned on the same piece.
    const other = await planOf(house, mine.stock, {}, { due_on: '2026-03-20' });
    const early = await bestOf(house, other.path);
    const answers = await Promise.all([hold(house, early), hold(house, late)]);
    expect(answers.map(({ status }) => status)).toEqual([200, 409]);
    expect(answers[1]?.body.error.message).toMatch(
      new RegExp(
        `^The shelf or the garment changed since this plan was made\\. .*Not as planned any more: ${bolt.code}\\. `,
      ),
    );
    expect(answers[1]?.body.error.message).toMatch(/is held for Tier 1 of G\d+\..*Last entry: held by /);
    expect(balanceOf(house, bolt.code).held).toBe(length('1.3 m'));
    expect(checkBook(house.book).findings).toEqual([]);
    // The way on: plan again with what is left, 70 cm.
    const again = await bestOf(house, mine.path);
    expect(again.figures.missingStrips).toBeGreaterThan(0);
    expect((await hold(house, again)).status).toBe(200);
    expect(balanceOf(house, bolt.code).held).toBeLessThanOrEqual(length('2 m'));
  });

  it('are written once for one form, however often it is sent', async () => {
    const { path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const plan = await bestOf(house, path);
    await hold(house, plan);
    const before = entries(house);
    expect((await hold(house, plan)).status).toBe(200);
    expect(entries(house)).toBe(before);
    expect(readHeldPlans(house.book, [1])).toHaveLength(1);
  });

  it('are given up, held again by undo, and planned again in one step', async () => {
    const { path, stock } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    await hold(house, await bestOf(house, path));
    const held = (await needOf(house, path)).held;
    const gave = await house.send(held?.giveUp.action ?? '', {});
    expect(gave.body.said).toBe(
      `The plan of ${path.split('/')[2]} is given up: what it held on 1 piece is free again.`,
    );
    expect(balanceOf(house, bolt.code).held).toBe(0);
    expect((await needOf(house, path)).held).toBeNull();
    expect((await house.send('/undo', { undoes: gave.body.request_key })).status).toBe(200);
    expect(balanceOf(house, bolt.code).held).toBe(length('1.3 m'));
    expect((await needOf(house, path)).held?.heldLays).toBeGreaterThan(0);
    const again = await bestOf(house, `${path}?again=yes`);
    expect((await hold(house, again)).status).toBe(200);
    expect(balanceOf(house, bolt.code).held).toBe(length('1.3 m'));
    expect(readHeldPlans(house.book, [1])).toHaveLength(1);
  });

  it('say which lays fall out of a piece that is counted shorter, and plan the rest again', async () => {
    const { path, stock, code } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1.3 m'));
    const spare = house.write((tx) => makeBolt(tx, stock.lotId, '1 m'));
    await hold(house, await bestOf(house, path));
    const plan = (await needOf(house, path)).held;
    expect(plan?.recounts.map(({ piece }) => piece)).toEqual([bolt.code]);
    // Counted at the piece itself, the ledger keeps what is held; the way on is the plan.
    const refused = await house.submit(`/shelf/pieces/${bolt.code}/recounts`, { length: '1.2', why: '' });
    expect(refused.status).toBe(409);
    expect(refused.text).toContain(`Count it at the cut plan of ${code}: the lays that do not fit fall out`);
    const counted = await house.send(plan?.recounts[0]?.action ?? '', { piece: bolt.code, length: '1.2' });
    expect(counted.body.said).toBe(
      `${bolt.code} counted: 1.2 m. 1 lay falls out of the plan of ${code}; plan what is left again.`,
    );
    const after = (await needOf(house, path)).held;
    expect(after?.out).toHaveLength(1);
    expect(after?.out[0]).toMatch(new RegExp(`^1 lay on ${bolt.code} \\(.*\\) fell out`));
    const again = await bestOf(house, `${path}?again=yes`);
    expect(again.figures).toMatchObject({ madeStrips: 18, missingStrips: 0 });
    expect(again.pieces.map((piece) => piece.code).sort()).toEqual([bolt.code, spare.code].sort());
    expect((await hold(house, again)).status).toBe(200);
    expect((await needOf(house, path)).held?.out).toEqual([]);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('never mix lots where one is wanted, and say what mixing would cure', async () => {
    const { path, stock } = await toPlan(house);
    const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    house.write((tx) => [makeBolt(tx, stock.lotId, '0.7 m'), makeBolt(tx, other, '0.7 m')]);
    const need = await needOf(house, path);
    const [plan] = need.plans;
    expect(new Set(plan?.pieces.map(({ lot }) => lot)).size).toBe(1);
    expect(need.reasons.join(' ')).toMatch(
      /0\.7 m in lot L\d+, 0\.7 m in lot L\d+ are free, and one lot is wanted/,
    );
    // Both lots have 140 cm, and 130 cm are needed.
    const cure = need.cures.find(({ what }) => what === 'Let strips come from any lots');
    expect(cure).toMatchObject({ shortStrips: 0, effect: 'All 18 strips can be cut then.' });
    const buying = need.cures.find(({ what }) => what.startsWith('Buy '));
    expect(buying).toMatchObject({ what: 'Buy 1.3 m, in one lot and one piece', shortStrips: 0 });
  });

  it('dye from free undyed pieces of the same cloth', async () => {
    const { path, stock } = await toPlan(house);
    house.write((tx) => {
      const ground = tx.run(
        tx.db
          .insertInto('shade')
          .values({ name: 'Undyed white', ground: 1, lab_l: null, lab_a: null, lab_b: null, lab_how: null }),
      ).lastId;
      makeBolt(tx, makeLot(tx, stock.clothId, ground), '5 m');
      makeBolt(tx, stock.lotId, '0.3 m');
    });
    const need = await needOf(house, path);
    const dye = need.cures.find(({ what }) => what.startsWith('Dye '));
    expect(dye?.what).toMatch(/^Dye 1\.3 m of B\d+$/);
    expect(dye?.effect).toMatch(/^All 18 strips can be cut then\. Nothing is allowed for shrinking/);
  });

  it('are refused in words where they cannot be held', async () => {
    const { path, stock, code } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const plan = await bestOf(house, path);
    const bad = await house.send(path, { ...plan.hold?.fields, wish: 'cheapest' });
    expect(bad.status).toBe(422);
    const gone = await house.send(`${path}/99/given-up`, {});
    expect(gone.status).toBe(409);
    expect(gone.body.error.message).toBe('This plan is not held any more.');
    const harder = await house.send(`${path}/harder`, { job: 'x', seconds: '10' });
    expect(harder.status).toBe(409);
    expect((await house.page(`/cutting-table/${code}x/plan`)).status).toBe(404);
    await doneOf(house, path);
  });
});
