import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { onFewerPieces } from '../../../src/cut-plan/fewer-pieces.ts';
import { cutByHand } from '../../../src/cut-plan/hand-rules.ts';
import { modelOf } from '../../../src/cut-plan/model.ts';
import { planOfFills } from '../../../src/cut-plan/plan-of-fills.ts';
import { planCuts } from '../../../src/cut-plan/planner.ts';
import { replay } from './replay.ts';
import { anyJob, job, kind, LITTLE, piece } from './small-jobs.ts';

describe('a plan', () => {
  it('begins no second piece where the first holds all and no more is charged', () => {
    // 7 strips of 49 × 30 and 11 of 30 × 20 take 130 of a piece 147 wide, which the longer piece has.
    const plan = planCuts(
      job({
        kinds: [
          kind(0, { lengthTicks: 49, depthTicks: 30, count: 7 }),
          kind(1, { lengthTicks: 30, depthTicks: 20, count: 11 }),
        ],
        pieces: [
          piece(0, { widthTicks: 147, lengthTicks: 130 }),
          piece(1, { widthTicks: 147, lengthTicks: 100 }),
        ],
        usefulTicks: 50,
        tableTicks: 300,
      }),
      LITTLE,
    );
    expect(plan.pieces.map(({ pieceId, chargedTicks }) => [pieceId, chargedTicks])).toEqual([[0, 130]]);
  });

  it('that needs but one lot takes the one that is charged least, not the first that suffices', () => {
    // Four strips as wide as the cloth: beside the flaw of the first lot they take 52 of it, of any other 40.
    const strips = kind(0, { lengthTicks: 100, depthTicks: 10, count: 4 });
    const flaw = { fromTicks: 15, toTicks: 22, leftTicks: 40, rightTicks: 50 };
    const plan = planCuts(
      job({
        kinds: [strips],
        pieces: [
          piece(0, { lotId: 1, widthTicks: 100, lengthTicks: 90, flaws: [flaw] }),
          piece(1, { lotId: 2, widthTicks: 100, lengthTicks: 500 }),
          piece(2, { lotId: 3, widthTicks: 100, lengthTicks: 300 }),
        ],
      }),
      LITTLE,
    );
    expect([plan.lotIds.length, plan.chargedTicks, plan.bound.gapBp]).toEqual([1, 40, 0]);
  });

  it('gathered on fewer pieces gives the same strips, is charged no more, and can be cut', () => {
    fc.assert(
      fc.property(anyJob, (any) => {
        const free = { ...any, kinds: any.kinds.map((one) => ({ ...one, lots: 'any' as const })) };
        const model = modelOf(free, () => true);
        const { fills } = cutByHand(model, 'naive');
        const [before, after] = [
          planOfFills(model, fills, 'naive'),
          planOfFills(model, onFewerPieces(model, fills), 'naive'),
        ];
        expect(after.made).toEqual(before.made);
        expect(after.chargedArea).toBeLessThanOrEqual(before.chargedArea);
        expect(after.pieces.length).toBeLessThanOrEqual(before.pieces.length);
        replay(free, after);
      }),
      { numRuns: 300 },
    );
  });
});
