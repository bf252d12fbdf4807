import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hashOfJob, keepPlan } from '../../../../server/cut-plans/answers.ts';
import { readHeldPlans } from '../../../../server/cut-plans/store.ts';
import { holdPlan } from '../../../../server/cutting-table/plan/holding.ts';
import { readPlanNeeds } from '../../../../server/cutting-table/plan/need.ts';
import { readGarment } from '../../../../server/garments/garment/records.ts';
import { checkBook } from '../../../../server/ledger/check.ts';
import { firstEffort } from '../../../../src/cut-plan/effort.ts';
import { planCuts } from '../../../../src/cut-plan/planner.ts';
import { stockOf } from '../../garments/making.ts';
import { asker, makeBolt, makeLot, openTestHouse, type TestHouse } from '../../support.ts';
import { planOf } from './planned.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
});
afterAll(() => house.shut());

const bolts = fc.array(fc.record({ cm: fc.integer({ min: 15, max: 250 }), lot: fc.nat(1) }), {
  minLength: 1,
  maxLength: 5,
});

describe('a plan that is held, on whatever shelf', () => {
  it('lies within what was free, gives the strips that it said, and leaves the ledger clean', async () => {
    await fc.assert(
      fc.asyncProperty(bolts, async (shelf) => {
        const stock = stockOf(house);
        const { code } = await planOf(house, stock);
        const lots = [stock.lotId, house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId))];
        house.write((tx) => shelf.map(({ cm, lot }) => makeBolt(tx, lots[lot] ?? stock.lotId, `${cm} cm`)));
        const garment = readGarment(house.book, code);
        const [need] = readPlanNeeds(house.book, garment, false);
        if (!need) throw new Error('a garment has its need');
        const plan = planCuts(need.job, { ...firstEffort(), work: 2_000_000 });
        keepPlan(need.job, { plan, stopped: '', seconds: null });
        if (plan.lays.length === 0) return;
        const form = {
          cloth_id: stock.clothId,
          shade_id: stock.shadeId,
          wish: 'least length',
          again: 'no',
          flaws: 'straddle',
        } as const;
        house.write((tx) => holdPlan(tx, code, { ...form, job: hashOfJob(need.job) }, asker));
        const [held] = readHeldPlans(house.book, [garment.id]);
        const lays = held?.lays ?? [];
        for (const { pieceId, lengthTicks } of need.job.pieces) {
          const own = lays.filter((lay) => lay.pieceId === pieceId);
          const end = Math.max(0, ...own.map((lay) => lay.fromTicks + lay.lengthTicks));
          expect(end).toBeLessThanOrEqual(lengthTicks);
          expect(own.reduce((sum, lay) => sum + lay.lengthTicks, 0)).toBeLessThanOrEqual(end);
        }
        expect(new Set(lays.map(({ lotId }) => lotId)).size).toBe(1);
        const given = need.share.need.demands.map(({ tierId }) =>
          lays
            .flatMap(({ parts }) => parts)
            .reduce((sum, part) => sum + (part.tierId === tierId ? part.strips : 0), 0),
        );
        expect(given).toEqual(need.job.kinds.map((_, i) => plan.made[i]));
        // What is wanted is cut, held or short, strip by strip, and nothing is wanted of the planner that it gave.
        const { short } = readPlanNeeds(house.book, garment, false)[0]?.share ?? need.share;
        expect(short.heldStrips).toBe(given.reduce((sum, strips) => sum + strips, 0));
        expect(short.heldStrips + short.freeStrips + short.shortStrips).toBe(short.wantedStrips);
        // Planned afresh, the same job comes out: giving a plan up loses nothing.
        expect(readPlanNeeds(house.book, garment, true)[0]?.job).toEqual(need.job);
      }),
      { numRuns: 15 },
    );
    expect(checkBook(house.book).findings).toEqual([]);
  });
});
