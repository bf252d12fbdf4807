import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { usualEffort } from '../../../src/cut-plan/effort.ts';
import { planExactly } from '../../../src/cut-plan/exact.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { tryEveryWay } from './every-way.ts';
import { replay } from './replay.ts';
import { anyJob, job, kind, piece } from './small-jobs.ts';

/** Any small job, so small that every way of cutting it can be tried: a few strips, and none longer than the table. */
const tinyJob = anyJob
  .map((asked): PlanJob => {
    const kinds = asked.kinds.map((one) => ({ ...one, count: one.count % 5 }));
    const longest = Math.max(...kinds.flatMap(({ lengthTicks, depthTicks }) => [lengthTicks, depthTicks]));
    return { ...asked, kinds, tableTicks: Math.max(asked.tableTicks, longest) };
  })
  .filter((asked) => stripsOf(asked) > 0 && stripsOf(asked) <= 12);

function stripsOf({ kinds }: PlanJob): number {
  return kinds.reduce((sum, { count }) => sum + count, 0);
}

describe('small jobs of which every way is tried', () => {
  const jobs = fc.sample(tinyJob, { numRuns: 600, seed: 11 });
  const having = (what: (asked: PlanJob) => boolean) => jobs.filter(what).length;

  it('are of all sorts', () => {
    expect(having(({ pieces }) => pieces.some(({ flaws }) => flaws.length > 0))).toBeGreaterThan(200);
    expect(having(({ kinds }) => kinds.some((k) => k.direction === 'either' && k.count > 0))).toBeGreaterThan(
      200,
    );
    expect(having(({ stacks }) => stacks)).toBeGreaterThan(200);
    expect(having(({ pieces }) => pieces.length > 1)).toBeGreaterThan(200);
    expect(having(({ kinds }) => kinds.some(({ lots }) => lots !== 'any'))).toBeGreaterThan(200);
    expect(having(({ pieces }) => new Set(pieces.map(({ lotId }) => lotId)).size > 1)).toBeGreaterThan(200);
  });

  it.each([0, 1, 2, 3, 4, 5])('are planned at the optimum, which is proved (%i)', (part) => {
    const missed = jobs.slice(part * 100, (part + 1) * 100).flatMap((asked) => {
      const plan = planCuts(asked, usualEffort(asked, null));
      replay(asked, plan);
      const found = [plan.missingStrips, plan.lotIds.length, plan.chargedArea];
      const { missingStrips, chargedArea, gapBp } = plan.bound;
      const isProved =
        missingStrips === plan.missingStrips && chargedArea === plan.chargedArea && gapBp === 0;
      const optimum = tryEveryWay(asked);
      return isProved && found.join() === optimum.join() ? [] : [{ asked, found, optimum, isProved }];
    });
    expect(missed).toEqual([]);
  });
});

describe('tight jobs', () => {
  const mm = (n: number) => (n * TICKS_PER.cm) / 10;
  const strips = (kindId: number, width: number, length: number, count: number, direction = 'across') =>
    kind(kindId, { lengthTicks: mm(length), depthTicks: mm(width), count, direction: direction as 'across' });
  const cloth = (pieceId: number, width: number, length: number) =>
    piece(pieceId, { widthTicks: mm(width), lengthTicks: mm(length) });
  const ways = { tableTicks: mm(3000), usefulTicks: 0 };
  const planned = (asked: PlanJob) => {
    const plan = planCuts(asked, usualEffort(asked, null));
    replay(asked, plan);
    return { missing: plan.missingStrips, usedMm: plan.usedTicks / mm(1), gapBp: plan.bound.gapBp };
  };

  // 1112: one strip along and two stacked across; 556: two across.
  it('are cut where one strip lies along and others are stacked across', () => {
    const kinds = [strips(0, 567, 829, 1, 'either'), strips(1, 556, 658, 4, 'either')];
    const asked = job({ ...ways, kinds, pieces: [cloth(0, 1375, 1676)], usefulTicks: mm(200) });
    expect(planned(asked)).toEqual({ missing: 0, usedMm: 1668, gapBp: 0 });
  });

  it('are cut from 1003 mm where that is enough', () => {
    const kinds = [strips(0, 616, 341, 3), strips(1, 173, 281, 3), strips(2, 129, 424, 3)];
    const asked = job({ ...ways, kinds, pieces: [cloth(0, 1120, 1028)] });
    expect(planned(asked)).toEqual({ missing: 0, usedMm: 1003, gapBp: 0 });
  });

  it('lay a strip the way round that takes less', () => {
    const one = job({ ...ways, kinds: [strips(0, 346, 337, 1, 'either')], pieces: [cloth(0, 1375, 959)] });
    expect(planned(one)).toEqual({ missing: 0, usedMm: 337, gapBp: 0 });
    const pieces = [cloth(0, 900, 1975), cloth(1, 1000, 2447)];
    const two = job({ ...ways, kinds: [strips(0, 559, 234, 2, 'either')], pieces });
    expect(planned(two)).toEqual({ missing: 0, usedMm: 468, gapBp: 0 });
  });

  it('of 12 strips of 4 kinds on 4 pieces are solved by the usual effort', () => {
    const kinds = [
      strips(0, 310, 420, 3, 'either'),
      strips(1, 265, 530, 3, 'either'),
      strips(2, 180, 377, 3, 'either'),
      strips(3, 447, 291, 3, 'either'),
    ];
    const pieces = [cloth(0, 1400, 460), cloth(1, 1100, 540), cloth(2, 1380, 470), cloth(3, 900, 620)];
    const asked = job({ ...ways, kinds, pieces });
    expect(planned(asked)).toMatchObject({ missing: 0, gapBp: 0 });
  });
});

describe('trying every way', () => {
  const many = job({
    kinds: [0, 1, 2, 3, 4].map((id) => kind(id, { lengthTicks: 3 + id, depthTicks: 2 + id, count: 5 })),
    pieces: [piece(0, { lengthTicks: 500 }), piece(1, { lengthTicks: 400 })],
  });

  it('gives up where the work or the time that is allowed does not suffice', () => {
    expect(planExactly(many, { work: 1e9 })?.missingStrips).toBe(0);
    expect(planExactly(many, { work: 1e5 })).toBeNull();
    expect(planExactly(many, { work: 1e9, timeGone: () => 1 })).toBeNull();
    const strips = many.kinds.map((one) => ({ ...one, count: 40 }));
    expect(planExactly({ ...many, kinds: strips }, { work: 1e9 })).toBeNull();
  });

  it('buys by whole steps, and no less than the least cut', () => {
    const buying = { stepTicks: 10, leastTicks: 30 };
    const asked = job({
      kinds: [
        kind(0, { lengthTicks: 4, depthTicks: 3, count: 5 }),
        kind(1, { lengthTicks: 6, depthTicks: 4 }),
      ],
      pieces: [piece(0, { lengthTicks: 6 }), piece(1, { lotId: 1, lengthTicks: 100, buying })],
      usefulTicks: 0,
    });
    const plan = planExactly(asked, { work: 1e9 });
    expect(plan).toMatchObject({ missingStrips: 0, lotIds: [1], chargedTicks: 30 });
  });
});
