import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstEffort } from '../../src/cut-plan/effort.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { planCuts } from '../../src/cut-plan/planner.ts';
import { isExactByHand } from '../../src/fit/fit-by-plan.ts';
import { type Supply, shortOf } from '../../src/fit/short.ts';
import { cm, m } from '../lengths.ts';
import { demand, demandsOf, piece, shelves, WIDTH } from './laid-out.ts';

const planned = (job: PlanJob) => planCuts(job, { ...firstEffort(), work: 2_000_000 });

function supply(parts: Partial<Supply> & Pick<Supply, 'demands'>): Supply {
  return { lots: 'one', usableWidthTicks: WIDTH, cut: [], held: [], free: [], ...parts };
}

/** Half a metre wide strips, 30 and 20 cm deep. */
const MIXED = [demand(1, cm(30), 2, cm(50)), demand(2, cm(20), 1, cm(50))];

describe('what is short, with the planner’s plan', () => {
  it('counts strips that lie beside each other: three columns of 50 cm in one lay of 30 cm', () => {
    // By hand one drop of 30 and one of 20 cm; side by side one lay of 30 cm is enough.
    const needs = supply({ demands: MIXED, free: [piece(1, cm(30))] });
    expect(shortOf(needs)).toMatchObject({ shortStrips: 1, by: 'hand rule' });
    const short = shortOf(needs, planned);
    expect(short).toMatchObject({ shortStrips: 0, freeStrips: 3, by: 'planner', reasons: [] });
    expect(short.freeFit.ends).toEqual([{ pieceId: 1, endTicks: cm(30) }]);
  });

  it('takes held and free cloth of a piece together', () => {
    const held = [{ ...piece(1, cm(50)), tierId: 1 }];
    const needs = supply({ demands: [demand(1, m(1), 1)], held, free: [piece(1, cm(50))] });
    expect(shortOf(needs).shortStrips).toBe(1);
    expect(shortOf(needs, planned)).toMatchObject({ shortStrips: 0, by: 'planner' });
  });

  it('counts the strips of a held plan as held, and keeps to their lot', () => {
    const plan = [{ tierId: 1, lotId: 2, count: 2 }];
    const free = [piece(1, m(3), 1), piece(2, cm(30), 2)];
    const short = shortOf(supply({ demands: [demand(1, cm(30), 4)], planned: plan, free }));
    expect(short).toMatchObject({ heldStrips: 2, freeStrips: 1, shortStrips: 1, freeLotIds: [2] });
    expect(short.job.pieces.map(({ pieceId }) => pieceId)).toEqual([2]);
  });

  it('mixes lots only as far as they may meet', () => {
    const free = [piece(1, cm(30), 1), piece(2, cm(30), 2), piece(3, cm(30), 3)];
    const needs = { demands: [demand(1, cm(30), 3)], free };
    expect(shortOf(supply({ ...needs, lots: 'one' })).shortStrips).toBe(2);
    expect(shortOf(supply({ ...needs, lots: 'meet' })).shortStrips).toBe(2);
    const meets = [
      [1, 2],
      [2, 3],
    ] as const;
    expect(shortOf(supply({ ...needs, lots: 'meet', meets }))).toMatchObject({
      shortStrips: 1,
      freeLotIds: [1, 2],
    });
    expect(shortOf(supply({ ...needs, lots: 'meet', meets }), planned).shortStrips).toBe(1);
    expect(shortOf(supply({ ...needs, lots: 'any' })).shortStrips).toBe(0);
    // What is cut of lot 3 leaves lot 1 out.
    const cut = [{ tierId: 1, lotId: 3, count: 1 }];
    expect(shortOf(supply({ ...needs, lots: 'meet', meets, cut }))).toMatchObject({
      shortStrips: 0,
      freeLotIds: [2, 3],
    });
  });

  it('cuts beside flaws, and says where flaws leave no room', () => {
    const flaw = { fromTicks: cm(20), toTicks: cm(25), leftTicks: 0, rightTicks: cm(10) };
    const flawed = { ...piece(1, cm(50)), flaws: [flaw] };
    // A strip of the full width and 30 cm deep fits into neither 20 nor 25 cm.
    const whole = shortOf(supply({ demands: [demand(1, cm(30), 1)], free: [flawed] }), planned);
    expect(whole).toMatchObject({
      shortStrips: 1,
      reasons: [{ kind: 'flaws', pieces: 1, freeTicks: cm(50) }],
    });
    // One of 140 cm passes beside the flaw; the hand rule ends before it.
    const beside = supply({ demands: [demand(1, cm(30), 1, cm(140))], free: [flawed] });
    expect(shortOf(beside)).toMatchObject({ shortStrips: 1, by: 'hand rule' });
    expect(shortOf(beside, planned)).toMatchObject({ shortStrips: 0, by: 'planner' });
  });

  it('lays strips along the piece where they are to lie so', () => {
    // 20 cm deep and 1 m long, along: seven columns of 20 cm in 150 cm, 1 m of length.
    const along = { ...demand(1, cm(20), 8, m(1)), direction: 'along' as const };
    const short = shortOf(supply({ demands: [along], free: [piece(1, m('1.9'))] }));
    expect(short).toMatchObject({ freeStrips: 7, shortStrips: 1, shortTicks: m(1), by: 'exact' });
    const either = { ...demand(1, cm(20), 7, m(2)), direction: 'either' as const };
    expect(shortOf(supply({ demands: [either], free: [piece(1, m(2))] })).shortStrips).toBe(0);
  });

  it('is never more than by hand, and adds up strip by strip', () => {
    fc.assert(
      fc.property(demandsOf(3), shelves, fc.constantFrom('one', 'any'), (demands, free, lots) => {
        const needs = supply({ demands, free, lots, usableWidthTicks: 12 });
        const [hand, plan] = [shortOf(needs), shortOf(needs, planned)];
        expect(plan.shortStrips).toBeLessThanOrEqual(hand.shortStrips);
        if (hand.by === 'exact') expect(plan.shortStrips).toBe(hand.shortStrips);
        expect(plan.cutStrips + plan.heldStrips + plan.freeStrips + plan.shortStrips).toBe(plan.wantedStrips);
        for (const { pieceId, endTicks } of plan.freeFit.ends) {
          const own = free.find((one) => one.pieceId === pieceId);
          expect(endTicks).toBeLessThanOrEqual(own?.lengthTicks ?? 0);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('is exact by hand where strips are of one size: no plan makes more', () => {
    fc.assert(
      fc.property(demandsOf(1), shelves, fc.constantFrom('one', 'any'), (demands, free, lots) => {
        const hand = shortOf(supply({ demands, free, lots, usableWidthTicks: 12 }));
        expect(isExactByHand(hand.job)).toBe(true);
        expect(planned(hand.job).missingStrips).toBe(hand.shortStrips);
      }),
      { numRuns: 60 },
    );
  });
});
