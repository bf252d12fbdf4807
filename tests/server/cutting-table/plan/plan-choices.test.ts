import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readHeldPlans } from '../../../../server/cut-plans/store.ts';
import type { PlanPieceView } from '../../../../server/cutting-table/plan/view.ts';
import { checkBook } from '../../../../server/ledger/check.ts';
import { length, makeBolt, makeLot, NOON, openTestHouse, type TestHouse } from '../../support.ts';
import { bestOf, hold, needOf, planPageOf, toPlan } from './planned.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

const pictures = ({ pieces }: { readonly pieces: readonly PlanPieceView[] }) =>
  pieces.flatMap(({ lays }) => lays.flatMap(({ picture }) => picture ?? []));
const strips = (parts: readonly { readonly strips: number }[]) =>
  parts.reduce((sum, part) => sum + part.strips, 0);

describe('a flaw in a plan', () => {
  it('is straddled or skipped, as is chosen; straddling it is a cure where skipping leaves strips short', async () => {
    const { path, stock, code } = await toPlan(house);
    const clean = await planPageOf(house, path);
    expect(clean.flaws).toBeNull();
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1.35 m'));
    // 2 cm deep at the left edge, 45 cm from the free end: before it fit 40 cm of cut lengths, behind it 88 cm; 130 are needed.
    const flaw = { from: '45 cm', to: '47 cm', left: '0', right: '2 cm' };
    await house.submit(`/shelf/pieces/${bolt.code}/flaws`, flaw).expect(303);
    const across = await bestOf(house, path);
    expect(across.figures.missingStrips).toBe(0);
    const flawed = pictures(across).filter(({ flaws }) => flaws.length > 0);
    expect(flawed).toHaveLength(1);
    expect(flawed[0]?.said).toMatch(/, past a flaw$/);
    const straddling = await planPageOf(house, path);
    expect(straddling.flaws).toEqual({
      said: 'A lay may straddle a flaw, its strips beside it.',
      other: { text: 'Skip flaws instead', href: `${path}?flaws=skip` },
    });
    const skipping = await needOf(house, `${path}?flaws=skip`);
    const plan = skipping.plans[0];
    expect(plan?.figures.missingStrips).toBeGreaterThan(0);
    expect(plan?.figures.proof).toMatch(/columns of equal strips, none across a flaw\.$/);
    expect(skipping.cures).toContainEqual({
      what: 'Let lays straddle flaws, strips beside them',
      effect: 'All 18 strips can be cut then.',
      shortStrips: 0,
      link: { text: 'Plans that straddle flaws', href: path },
    });
    const html = (await house.page(`${path}?flaws=skip`)).text;
    expect(html).toContain('No lay straddles a flaw: cloth is skipped to behind it.');
    if (!plan) throw new Error('a plan was found');
    expect(plan.pieces.map(({ uses }) => uses)).toEqual([plan.figures.used]);
    const harder = await house.send(`${path}/harder`, { job: plan.hold?.fields.job, seconds: '10' });
    expect(harder.body.location).toMatch(new RegExp(`^${path}\\?flaws=skip#`));
    await house.send(`${path}/stopped`, { job: plan.hold?.fields.job });
    expect((await hold(house, plan)).status).toBe(200);
    // What lies between the lays before the flaw and the one behind it is cut off with that one, the flaw in it.
    expect(pictures(plan).flatMap(({ flaws }) => flaws)).toHaveLength(1);
    const atTable = (await planPageOf(house, path)).needs[0]?.held;
    expect(atTable && pictures(atTable)).toEqual(pictures(plan));
    const [held] = readHeldPlans(house.book, [1]);
    const lays = held?.lays ?? [];
    expect(strips(lays.flatMap(({ parts }) => parts))).toBe(plan.figures.madeStrips);
    for (const { fromTicks, lengthTicks } of lays) {
      expect(fromTicks + lengthTicks <= length('45 cm') || fromTicks >= length('47 cm')).toBe(true);
    }
    expect((await house.data(`/cutting-table/${code}/bench`)).body.out).toEqual([]);
  });
});

describe('a lay that was planned behind a flaw', () => {
  it('is cut behind it at the bench, although its strips would lie beside it', async () => {
    let minutes = 0;
    const clocked = await openTestHouse(() => new Date(NOON.getTime() + minutes * 60_000));
    try {
      const { path, stock, code } = await toPlan(clocked, { strip_length: '30' });
      const bolt = clocked.write((tx) => makeBolt(tx, stock.lotId, '3 m'));
      // At the free end and at the right edge: all strips are 30 cm long, and four of them leave 27 of 147 cm.
      const flaw = { from: '1 cm', to: '2 cm', left: '145', right: '147' };
      await clocked.submit(`/shelf/pieces/${bolt.code}/flaws`, flaw).expect(303);
      const benchAfter = async (way: string) => {
        minutes += 1;
        await hold(clocked, await bestOf(clocked, `${path}${way}`));
        return (await clocked.data(`/cutting-table/${code}/bench`)).body.now.lay.lead;
      };
      expect(await benchAfter('')).toBe('');
      expect(await benchAfter('?again=yes&flaws=skip')).toBe('2 cm');
    } finally {
      await clocked.shut();
    }
  });
});

describe('a lay that would cut more than is wanted', () => {
  it('falls out when strips were cut by hand since, on the plan and at the bench, and stands again by undo', async () => {
    const { path, stock, code, tiers } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '1.4 m'));
    await hold(house, await bestOf(house, path));
    // Six strips of 49 cm from a bolt of the same lot: two cut lengths of 30 cm, three strips each. One of seven is left.
    const other = house.write((tx) => makeBolt(tx, stock.lotId, '0.7 m'));
    const cut = await house.send(`/cutting-table/${code}/${tiers[0]}/cuts`, {
      piece: other.code,
      strips: '6',
    });
    expect(cut.body.said).toMatch(/^6 strips cut/);
    const after = (await needOf(house, path)).held;
    expect(after?.out[0]).toMatch(/fell out: .*a tier wants other strips or fewer now\.$/);
    const bench = (await house.data(`/cutting-table/${code}/bench`)).body;
    expect(bench.out[0].why).toMatch(
      /^Strips were cut since, or fewer are wanted: \d of Tier 1 (is|are) left to cut, and it gives \d\.$/,
    );
    // Cut what still stands: never more than seven strips of the first tier and eleven of the second.
    for (let ticks = 0; ticks < 20; ticks += 1) {
      const { now } = (await house.data(`/cutting-table/${code}/bench`)).body;
      if (now === null) break;
      await house.submit(`/cutting-table/${code}/bench`, { lays: now.layIds }).expect(303);
    }
    const [stored] = readHeldPlans(house.book, [1]);
    const [given] = [stored?.lays.filter(({ state }) => state === 'cut').flatMap(({ parts }) => parts) ?? []];
    expect(strips(given.filter(({ tierId }) => tierId === tiers[0]))).toBeLessThanOrEqual(1);
    const outId = stored?.lays.find(({ state }) => state !== 'cut')?.id;
    const refused = await house.send(`/cutting-table/${code}/bench`, { lays: String(outId) });
    expect(refused.status).toBe(409);
    expect(refused.body.error.message).toContain('Strips were cut since, or fewer are wanted');
    await house.send('/undo', { undoes: cut.body.request_key }).expect(200);
    expect((await needOf(house, path)).held?.out).toEqual([]);
    // Planned again, what is left is exactly what is wanted.
    expect(checkBook(house.book).findings).toEqual([]);
  });
});

describe('what is bought', () => {
  it('is in the steps of the offer in force and no less than its least, in Short and as a cure', async () => {
    const { path, stock } = await toPlan(house);
    const offer = (more: object) =>
      house
        .send('/orders/suppliers/1/offers/new', {
          cloth_id: String(stock.clothId),
          shade_id: '',
          price_per: 'm',
          'prices.0.price': '4',
          ...more,
        })
        .expect(200);
    await house.send('/orders/suppliers', { name: 'Tide Mill' }).expect(200);
    const before = await needOf(house, path);
    const buying = () => (cures: typeof before.cures) => cures.find(({ what }) => what.startsWith('Buy '));
    expect(buying()(before.cures)).toMatchObject({
      what: 'Buy 1.3 m, in one lot and one piece',
      effect:
        'All 18 strips can be cut then. No current price by the metre: rounded up to 10 cm, as shops cut it.',
    });
    await offer({ step: '50 cm', least: '1' });
    const said = 'Rounded up as Tide Mill sells it: cut every 50 cm, 1 m or more.';
    expect(buying()((await needOf(house, path)).cures)).toMatchObject({
      what: 'Buy 1.5 m, in one lot and one piece',
      effect: `All 18 strips can be cut then. ${said}`,
    });
    const [line] = (await house.data('/short')).body.short;
    expect(line).toMatchObject({ toGet: '1.5 m', sold: said });
    expect((await house.page('/short')).text).toContain(said);
  });
});

describe('lots that may meet', () => {
  it('are said so in the heading of a shade, and are free to use beside each other', async () => {
    const { stock, code, tiers } = await toPlan(house);
    const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    const [one, two] = house.write((tx) => [makeBolt(tx, stock.lotId, '1 m'), makeBolt(tx, other, '1 m')]);
    house.write((tx) => tx.run(tx.db.updateTable('colour_block').set({ lots: 'meet' })));
    const path = `/cutting-table/${code}/${tiers[0]}`;
    expect((await house.data(path)).body.shades[0].lots).toBe('lots that may meet');
    expect((await house.page(path)).text).toContain('From lots that may meet');
    await house.send(`${path}/holds`, { piece: one?.code, length: '0.3' }).expect(200);
    const refused = await house.send(`${path}/holds`, { piece: two?.code, length: '0.3' });
    expect(refused.status).toBe(422);
    expect(refused.body.error.message).toContain('it is not known to meet what is used');
    const lots = house.book.all(house.book.db.selectFrom('lot').select('code').orderBy('id'));
    for (const lot of lots) {
      await house
        .send(`/shelf/lots/${lot.code}/colour`, {
          l: '50',
          a: '0',
          b: '0',
          how: 'instrument',
          viewing: 'D65/2',
        })
        .expect(200);
    }
    await house.send(`${path}/holds`, { piece: two?.code, length: '0.3' }).expect(200);
    expect((await house.data(`/garments/${code}`)).body.plan).toBe(`/cutting-table/${code}/plan`);
    expect((await house.page(`/garments/${code}`)).text).toContain(`href="/cutting-table/${code}/plan"`);
  });
});
