import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstEffort } from '../../../src/cut-plan/effort.ts';
import { cutByHand } from '../../../src/cut-plan/hand-rules.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { modelOf } from '../../../src/cut-plan/model.ts';
import { comparePlans } from '../../../src/cut-plan/plan.ts';
import { planOfFills } from '../../../src/cut-plan/plan-of-fills.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { solveModel } from '../../../src/cut-plan/solve.ts';
import { verifyPlan } from '../../../src/cut-plan/verify.ts';
import { replay } from './replay.ts';
import { anyJob, job, kind, LITTLE, piece } from './small-jobs.ts';

const RUNS = { numRuns: 150 };
const plan = (asked: PlanJob) => planCuts(asked, LITTLE);

describe('any plan', () => {
  it('can be cut straight as it stands, strip by strip, and adds up', () => {
    fc.assert(
      fc.property(anyJob, (asked) => replay(asked, plan(asked))),
      RUNS,
    );
  });

  it('is no worse than any hand rule, and never below its bound', () => {
    fc.assert(
      fc.property(anyJob, (asked) => {
        const model = modelOf(asked, () => true);
        const { plan: best, areaBound, missingBound } = solveModel(model, asked.seed, LITTLE);
        expect(best.missingStrips).toBeGreaterThanOrEqual(missingBound);
        expect(best.chargedArea).toBeGreaterThanOrEqual(areaBound);
        for (const rule of ['naive', 'careful', 'through flaws'] as const) {
          const hand = planOfFills(model, cutByHand(model, rule).fills, rule);
          // Lots do not count here: all may meet, and the planner is asked for one choice of lots.
          expect(comparePlans({ ...best, lotIds: [] }, { ...hand, lotIds: [] })).toBeLessThanOrEqual(0);
          expect(hand.missingStrips).toBeGreaterThanOrEqual(missingBound);
        }
      }),
      RUNS,
    );
  });

  it('comes out the same for the same job and seed', () => {
    fc.assert(
      fc.property(anyJob, (asked) => {
        expect(plan(asked)).toEqual(plan(asked));
      }),
      { numRuns: 40 },
    );
  });

  it('passes the program’s own check, which finds what is wrong with a plan that does not', () => {
    const asked = job({ kinds: [kind(0, { count: 5 })], pieces: [piece(0, {})] });
    const good = plan(asked);
    expect(verifyPlan(asked, good)).toEqual([]);
    const [lay, ...others] = good.lays;
    if (!lay) throw new Error('a lay is planned');
    const wrong = [
      { ...good, lays: others },
      { ...good, lays: [...good.lays, lay] },
      { ...good, lays: [{ ...lay, pieceId: 9 }, ...others] },
      { ...good, lays: [{ ...lay, fromTicks: 19 }, ...others] },
      { ...good, lays: [{ ...lay, columns: lay.columns.map((c) => ({ ...c, leftTicks: 5 })) }, ...others] },
      { ...good, lays: [{ ...lay, columns: lay.columns.map((c) => ({ ...c, turned: true })) }, ...others] },
      { ...good, lays: [{ ...lay, columns: lay.columns.map((c) => ({ ...c, alongTicks: 1 })) }, ...others] },
    ];
    expect(wrong.filter((bad) => verifyPlan(asked, bad).length === 0)).toEqual([]);
    const flawed = { fromTicks: 1, toTicks: 2, leftTicks: 1, rightTicks: 2 };
    const onFlaw = { ...asked, pieces: [piece(0, { flaws: [flawed] })] };
    expect(verifyPlan(onFlaw, good)).toEqual(['A strip has a flaw.']);
  });
});

describe('a plan whose time is set', () => {
  it('can be cut wherever the time ends, and is bounded by what its strips cover at least', () => {
    fc.assert(
      fc.property(anyJob, fc.integer({ min: 1, max: 60 }), (asked, looks) => {
        // A clock by which the time is gone once it was looked at so often.
        let looked = 0;
        const timeGone = () => {
          looked += 1;
          return looked / looks;
        };
        const cut = planCuts(asked, { ...LITTLE, timeGone });
        replay(asked, cut);
        expect(cut.bound.chargedArea).toBeLessThanOrEqual(cut.chargedArea);
        if (cut.missingStrips === 0) expect(cut.bound.chargedArea).toBeGreaterThanOrEqual(cut.stripArea);
      }),
      RUNS,
    );
  });
});

describe('the bound', () => {
  const bounds = (asked: PlanJob) => {
    const model = modelOf(asked, () => true);
    const { missingBound, areaBound, plan: best } = solveModel(model, asked.seed, LITTLE);
    return { missingBound, areaBound, best };
  };

  it('holds for plans of a harder job: more strips, another flaw or a shorter piece make no plan cheaper', () => {
    fc.assert(
      fc.property(anyJob, fc.integer({ min: 0, max: 2 }), (asked, change) => {
        const harder = [
          { ...asked, kinds: asked.kinds.map((k, i) => (i === 0 ? { ...k, count: k.count + 2 } : k)) },
          { ...asked, pieces: asked.pieces.map((p, i) => (i === 0 ? withFlaw(p) : p)) },
          {
            ...asked,
            pieces: asked.pieces.map((p, i) => (i === 0 && p.flaws.length === 0 ? shorter(p) : p)),
          },
        ][change] as PlanJob;
        const easy = bounds(asked);
        const hard = bounds(harder);
        // Whatever the harder job is proved to need, it is no less than what the easier one is proved to need.
        expect(hard.best.missingStrips).toBeGreaterThanOrEqual(easy.missingBound);
        if (asked.usefulTicks === 0 && hard.best.missingStrips === 0 && easy.best.missingStrips === 0)
          expect(hard.best.chargedArea).toBeGreaterThanOrEqual(easy.areaBound);
      }),
      RUNS,
    );
  });

  it('is not raised above any plan by another piece', () => {
    fc.assert(
      fc.property(anyJob, (asked) => {
        const before = bounds(asked);
        const more = { ...asked, pieces: [...asked.pieces, piece(99, { widthTicks: 12, lengthTicks: 24 })] };
        const after = bounds(more);
        expect(after.missingBound).toBeLessThanOrEqual(before.best.missingStrips);
        if (before.best.missingStrips === 0)
          expect(after.areaBound).toBeLessThanOrEqual(before.best.chargedArea);
      }),
      RUNS,
    );
  });
});

function withFlaw<P extends PlanJob['pieces'][number]>(one: P): P {
  const flaw = { fromTicks: 0, toTicks: 1, leftTicks: 0, rightTicks: 1 };
  return { ...one, flaws: [...one.flaws, flaw] };
}

function shorter<P extends PlanJob['pieces'][number]>(one: P): P {
  return { ...one, lengthTicks: Math.max(1, one.lengthTicks - 3) };
}

describe('lots', () => {
  const three = [0, 1, 2].map((lotId) => piece(lotId, { lotId, lengthTicks: 4 + lotId }));
  const wanted = (lots: 'one' | 'meet' | 'any') => [
    kind(0, { lengthTicks: 10, depthTicks: 1, count: 10, lots }),
  ];

  it('are one, two that may meet, or any, and as few as will do', () => {
    const one = plan(job({ kinds: wanted('one'), pieces: three, usefulTicks: 0 }));
    expect([one.missingStrips, one.lotIds]).toEqual([4, [2]]);
    const meet = plan(job({ kinds: wanted('meet'), pieces: three, meets: [[0, 1]], usefulTicks: 0 }));
    expect([meet.missingStrips, meet.lotIds]).toEqual([1, [0, 1]]);
    const any = plan(job({ kinds: wanted('any'), pieces: three, usefulTicks: 0 }));
    expect([any.missingStrips, any.lotIds.length]).toEqual([0, 2]);
  });

  it('may differ between groups, each of which keeps to one', () => {
    const kinds = [0, 1].map((i) =>
      kind(i, { lengthTicks: 10, depthTicks: 1, count: 5, lots: 'one', group: i }),
    );
    const apart = plan(job({ kinds, pieces: three, usefulTicks: 0 }));
    expect([apart.missingStrips, apart.lotIds]).toEqual([0, [1, 2]]);
  });
});

describe('kinds of strips', () => {
  // A published job in one dimension has 342 of them.
  it('may be 500, each of another length', () => {
    const kinds = (most: number) =>
      Array.from({ length: most }, (_, i) => kind(i, { lengthTicks: 40 + i, depthTicks: 1 }));
    const asked = (most: number) =>
      job({ kinds: kinds(most), pieces: [piece(0, { widthTicks: 1000, lengthTicks: 500 })], tableTicks: 1 });
    const many = planCuts(asked(500), firstEffort());
    replay(asked(500), many);
    expect(many.missingStrips).toBe(0);
    // Their lengths come to 144.75 widths.
    expect(many.usedTicks).toBeLessThanOrEqual(150);
    expect(() => plan(asked(501))).toThrow(new RangeError('a plan takes at most 500 kinds of strips'));
  });
});

describe('cloth to buy', () => {
  it('is charged in whole steps and never less than the least cut', () => {
    const strip = kind(0, { lengthTicks: 10, depthTicks: 2, count: 4 });
    const bolt = piece(0, { lengthTicks: 60, buying: { stepTicks: 5, leastTicks: 0 } });
    expect(plan(job({ kinds: [strip], pieces: [bolt] }))).toMatchObject({ usedTicks: 8, chargedTicks: 10 });
    const least = { ...bolt, buying: { stepTicks: 5, leastTicks: 23 } };
    const asked = job({ kinds: [strip], pieces: [least] });
    expect(plan(asked)).toMatchObject({ usedTicks: 8, chargedTicks: 25 });
    replay(asked, plan(asked));
    expect(plan(asked).bound.chargedArea).toBe(250);
  });
});
