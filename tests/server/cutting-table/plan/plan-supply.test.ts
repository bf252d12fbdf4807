import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { forgetPlans } from '../../../../server/cut-plans/answers.ts';
import { readHeldPlans } from '../../../../server/cut-plans/store.ts';
import { cutLength, holdLength } from '../../../../server/ledger/verbs.ts';
import { length, makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { balanceOf } from '../tier/tier.ts';
import { bestOf, hold, needOf, planPageOf, toPlan } from './planned.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

function lotCode(lotId: number): string {
  const { db } = house.book;
  return house.book.first(db.selectFrom('lot').select('code').where('id', '=', lotId))?.code ?? '';
}

/** Lets the lots of all colour blocks meet, or as said. */
function setRule(lots: 'one' | 'meet' | 'any'): void {
  house.write((tx) => tx.run(tx.db.updateTable('colour_block').set({ lots })));
}

describe('what a plan is cut from', () => {
  it('is every lot whose colour lies within the garment’s tolerance, by CIEDE2000', async () => {
    const { path, stock, code } = await toPlan(house);
    const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
    house.write((tx) => [makeBolt(tx, stock.lotId, '0.7 m'), makeBolt(tx, other, '0.7 m')]);
    setRule('meet');
    // Lots without a colour never meet.
    expect((await bestOf(house, path)).figures.missingStrips).toBeGreaterThan(0);
    // Pair 7 of the CIEDE2000 test data (Sharma, Wu and Dalal, Color Research & Application 30, 2005, table 1):
    // L* 50, a* 0, b* 0 and L* 50, a* −1, b* 2 are 2.3669 apart.
    const record = (lotId: number, a: string, b: string) =>
      house.send(`/shelf/lots/${lotCode(lotId)}/colour`, {
        l: '50',
        a,
        b,
        how: 'instrument',
        viewing: 'D65/2',
      });
    expect((await record(stock.lotId, '0', '0')).status).toBe(200);
    const said = (await record(other, '-1', '2')).body.said;
    expect(said).toBe(`The colour of lot ${lotCode(other)} is recorded: L* 50, a* −1, b* 2.`);
    const lot = (await house.data(`/shelf/lots/${lotCode(other)}`)).body;
    expect(lot.others).toMatchObject({
      sure: '1 pair of lots: 1 by readings. Measured differences are likely within ± 0.7.',
      rows: [
        {
          code: lotCode(stock.lotId),
          href: `/shelf/lots/${lotCode(stock.lotId)}`,
          said: 'keep apart',
          sure: 'ΔE00 2.37, likely within ± 0.7: by readings, measured with an instrument.',
        },
      ],
    });
    const within = (centi: number) =>
      house.write((tx) =>
        tx.run(tx.db.updateTable('garment').set({ meet_centi_delta_e: centi }).where('code', '=', code)),
      );
    within(236);
    const apart = await needOf(house, path);
    expect(apart.plans[0]?.figures.missingStrips).toBeGreaterThan(0);
    expect(apart.reasons.join(' ')).toMatch(/only lots found to match may be sewn together: these were not/);
    within(237);
    const meeting = await bestOf(house, path);
    expect(meeting.figures.missingStrips).toBe(0);
    expect(new Set(meeting.pieces.map((piece) => piece.lot)).size).toBe(2);
  });

  it('asks for all three coordinates of a lot’s colour, and keeps what was typed', async () => {
    const { stock } = await toPlan(house);
    const bad = await house.send(`/shelf/lots/${lotCode(stock.lotId)}/colour`, {
      l: '120',
      a: '',
      b: '3',
      how: 'list',
      viewing: 'D65/2',
    });
    expect(bad.status).toBe(422);
    expect(bad.body.error.problems.map(({ field }: { field: string }) => field).sort()).toEqual(['a', 'l']);
    expect(bad.body.page.colour.fields).toMatchObject({ l: { value: '120' }, b: { value: '3' } });
    const page = await house.page(`/shelf/lots/${lotCode(stock.lotId)}`);
    expect(page.text).toContain('A lot that nobody read or compared meets no other in a garment.');
  });

  it('never has a strip on a flaw, whatever the hand rule first thought', async () => {
    const { path, stock } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1.6 m'));
    // A hole 5 cm long, 60 cm from the free end, 10 cm from the left edge.
    const row = { left_ticks: length('10 cm'), right_ticks: length('12 cm'), after_entry_id: 0 };
    house.write((tx) =>
      tx.run(
        tx.db.insertInto('piece_flaw').values({
          piece_id: bolt.id,
          from_ticks: length('60 cm'),
          to_ticks: length('65 cm'),
          ...row,
          what: 'hole',
          at: tx.at,
          person_id: 1,
          struck_at: null,
          struck_by: null,
        }),
      ),
    );
    const plan = await bestOf(house, path);
    expect(plan.figures.missingStrips).toBe(0);
    expect((await hold(house, plan)).status).toBe(200);
    const flaw = {
      from: length('60 cm'),
      to: length('65 cm'),
      left: length('10 cm'),
      right: length('12 cm'),
    };
    for (const lay of readHeldPlans(house.book, [1])[0]?.lays ?? []) {
      for (const run of lay.slits) {
        const right = run.leftTicks + run.columns * run.acrossTicks;
        const end = lay.fromTicks + run.stack * run.alongTicks;
        const isClear =
          end <= flaw.from || lay.fromTicks >= flaw.to || right <= flaw.left || run.leftTicks >= flaw.right;
        expect(isClear).toBe(true);
      }
    }
  });

  it('is what the garment holds already too, and only the plan is held then', async () => {
    const { path, stock, tiers } = await toPlan(house);
    const bolt = house.write((tx) => makeBolt(tx, stock.lotId, '1.5 m'));
    house.write((tx) => holdLength(tx, bolt.id, tiers[1], { lengthTicks: length('1.4 m'), typed: '' }));
    const plan = await bestOf(house, path);
    expect(plan.figures).toMatchObject({ missingStrips: 0, charged: '1.5 m', used: '1.3 m' });
    expect((await hold(house, plan)).status).toBe(200);
    expect(balanceOf(house, bolt.code).held).toBe(length('1.3 m'));
  });

  it('is planned with more time where somebody allows it, and can be stopped', async () => {
    forgetPlans();
    const { path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const stop = (await planPageOf(house, path)).needs[0]?.stop;
    const stopped = await house.send(stop?.action ?? '', { job: stop?.job });
    expect(stopped.body.said).toBe('The planner stopped.');
    const still = await needOf(house, path);
    expect(still.working).toBe('The planner was stopped. Quick estimate: nothing short.');
    expect(still.plans).toEqual([]);
    const asked = await house.send(still.harder?.action ?? '', { job: still.harder?.job, seconds: '10' });
    expect(asked.body.said).toBe('The planner tries harder, for 10 seconds.');
    expect((await planPageOf(house, path)).needs[0]?.working).toMatch(
      /^The planner is working, for 10 seconds\./,
    );
  });

  it('is told to be planned again where the program was started since', async () => {
    const { path, stock } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    const plan = await bestOf(house, path);
    forgetPlans();
    const refused = await hold(house, plan);
    expect(refused.status).toBe(409);
    expect(refused.body.error.message).toBe('Clothroom was started again since this plan was made.');
    expect(readHeldPlans(house.book, [1])).toEqual([]);
  });
});

describe('a held plan', () => {
  it('does not count for strips of a size that is not wanted any more', async () => {
    const { path, stock, tiers, code } = await toPlan(house);
    house.write((tx) => makeBolt(tx, stock.lotId, '10 m'));
    await hold(house, await bestOf(house, path));
    house.write((tx) =>
      tx.run(
        tx.db
          .updateTable('tier')
          .set({ depth_ticks: length('25 cm') })
          .where('id', '=', tiers[1]),
      ),
    );
    const need = await needOf(house, path);
    // Lays with strips of tier 2, now 25 cm deep instead of 20, are out; those of tier 1 alone stand.
    expect(need.held?.out.join(' ')).toMatch(/fell out: .*a tier wants other strips or fewer now\./);
    const { body } = await house.data(`/short?garment=${code}`);
    const [line] = [...body.met, ...body.short];
    expect(line.wanted).toBe(18);
    expect(line.held).toBeLessThan(18);
    const list = (await house.data(`/cutting-table/${code}/${tiers[1]}`)).body;
    expect(list.shades).toMatchObject([{ plannedStrips: 0 }]);
    const bench = (await house.data(`/cutting-table/${code}/bench`)).body;
    expect(bench.out.length).toBeGreaterThan(0);
    const [garment] = (await house.data('/cutting-table')).body.garments;
    expect(garment.laysToCut).toBe(bench.lays - bench.out.length);
    // Planned again, all are held, and what was held for the old size is given back.
    const again = await bestOf(house, `${path}?again=yes`);
    expect(again.figures.missingStrips).toBe(0);
    expect((await hold(house, again)).status).toBe(200);
    expect((await needOf(house, path)).held?.out).toEqual([]);
    expect((await house.data(`/short?garment=${code}`)).body.met).toMatchObject([{ wanted: 18, held: 18 }]);
  });
});

describe('what would cure a plan that is short', () => {
  it('says that other lots, dyed and bought cloth do not match what is cut already', async () => {
    const { path, stock, tiers } = await toPlan(house);
    const [mine, other] = house.write((tx) => [
      makeBolt(tx, stock.lotId, '0.3 m'),
      makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '5 m'),
    ]);
    house.write((tx) =>
      cutLength(tx, mine.id, { tierId: tiers[0], strips: 3, lengthTicks: length('0.3 m'), typed: '' }),
    );
    const need = await needOf(house, path);
    // 4 of 49 cm are left of tier 1 and 11 of tier 2, and nothing of the lot that 3 were cut from.
    expect(need.plans[0]?.said).toBe('No strip can be cut from what there is.');
    expect(need.cures.map(({ what, shortStrips }) => [what, shortStrips])).toEqual([
      ['Let strips come from any lots, beside what is cut already', 0],
      ['Buy 1 m, in one lot and one piece', 0],
    ]);
    expect(need.cures[1]?.effect).toBe(
      'All 15 strips can be cut then. What is cut already is of another lot. No current price by the metre: rounded up to 10 cm, as shops cut it.',
    );
    expect(need.reasons.join(' ')).toMatch(
      /What is cut came from lot L\d+\. 5 m in lot L\d+ is free, and one lot is wanted/,
    );
    expect(other.code).toMatch(/^B/);
  });
});
