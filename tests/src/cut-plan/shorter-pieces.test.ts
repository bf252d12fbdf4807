import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { onShorterPieces } from '../../../src/cut-plan/shorter-pieces.ts';
import { replay } from './replay.ts';
import { anyJob, job, kind, LITTLE, piece } from './small-jobs.ts';

const strips = kind(0, { lengthTicks: 49, depthTicks: 24, count: 12, lots: 'one' });
/** Twelve strips, three a lay of 24, take 96 of a piece. */
const jobOf = (pieces: PlanJob['pieces']) =>
  job({ kinds: [strips], pieces, usefulTicks: 50, tableTicks: 300 });
const bolt = piece(0, { lotId: 1, widthTicks: 147, lengthTicks: 3000 });

const piecesOf = (asked: PlanJob) =>
  onShorterPieces(asked, planCuts(asked, LITTLE)).pieces.map((use) => [use.pieceId, use.chargedTicks]);

describe('a plan on shorter pieces', () => {
  it('finishes the piece that was bought for just these strips, where the end lost is no useful length', () => {
    const bought = piece(1, { lotId: 2, widthTicks: 147, lengthTicks: 100 });
    const asked = jobOf([bolt, bought]);
    // The bolt alone would be charged 96, and begun; the piece is charged whole, 4 more.
    expect(planCuts(asked, LITTLE).chargedTicks).toBe(96);
    expect(piecesOf(asked)).toEqual([[1, 100]]);
    expect(onShorterPieces(asked, planCuts(asked, LITTLE)).bound.gapBp).toBe(417);
  });

  it('takes a remnant rather than a bolt where as much is charged, and finishes one up to a useful end', () => {
    expect(piecesOf(jobOf([bolt, piece(1, { lotId: 2, widthTicks: 147, lengthTicks: 146 })]))).toEqual([
      [1, 96],
    ]);
    const lost = jobOf([bolt, piece(1, { lotId: 2, widthTicks: 147, lengthTicks: 145 })]);
    expect(piecesOf(lost)).toEqual([[1, 145]]);
    // With flaws it stays where it was, as lays beside a flaw belong to their place.
    const flaws = [{ fromTicks: 98, toTicks: 99, leftTicks: 0, rightTicks: 9 }];
    expect(piecesOf(jobOf([bolt, piece(1, { lotId: 2, widthTicks: 147, lengthTicks: 100, flaws })]))).toEqual(
      [[0, 96]],
    );
  });

  it('gives the same strips, can be cut, and is charged less than a useful length a piece more', () => {
    fc.assert(
      fc.property(anyJob, (any) => {
        const before = planCuts(any, LITTLE);
        const after = onShorterPieces(any, before);
        replay(any, after);
        expect(after.made).toEqual(before.made);
        expect(after.lotIds.length).toBeLessThanOrEqual(before.lotIds.length);
        const more = after.chargedTicks - before.chargedTicks;
        expect(more).toBeLessThanOrEqual(before.pieces.length * Math.max(0, any.usefulTicks - 1));
      }),
      { numRuns: 200 },
    );
  });
});
