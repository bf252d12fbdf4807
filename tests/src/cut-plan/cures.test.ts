import { describe, expect, it } from 'vitest';
import { clothToBuyFor, withOtherLots } from '../../../src/cut-plan/cures.ts';
import { MOST_TICKS } from '../../../src/cut-plan/job.ts';
import { job, kind, piece } from './small-jobs.ts';

describe('cloth to buy for a job', () => {
  it('is as wide as the widest piece, a lot of its own, and long enough for one kind a lay', () => {
    const kinds = [
      kind(0, { lengthTicks: 4, depthTicks: 3, count: 5 }),
      kind(1, { lengthTicks: 7, depthTicks: 2, count: 4, direction: 'along' }),
    ];
    const pieces = [piece(0, { lotId: 2, widthTicks: 10 }), piece(3, { lotId: 1, widthTicks: 8 })];
    // 5 strips, 2 side by side, are 3 lays of 3; 4 lengthwise, 5 side by side, are one of 7; and a step more.
    expect(clothToBuyFor(job({ kinds, pieces }), 5)).toEqual({
      pieceId: 4,
      lotId: 3,
      widthTicks: 10,
      stepTicks: 5,
      leastTicks: 5,
      mostTicks: 3 * 3 + 7 + 5,
    });
  });

  it('is none where it would be longer than a plan takes', () => {
    const kinds = [kind(0, { lengthTicks: 10, depthTicks: 3, count: MOST_TICKS })];
    expect(clothToBuyFor(job({ kinds, pieces: [piece(0, {})] }), 1)).toBeNull();
  });
});

describe('other lots for a job', () => {
  const one = job({ kinds: [kind(0, { lots: 'one' })], pieces: [piece(1, {})] });
  const stretch = { pieceId: 2, lotId: 9, usableWidthTicks: 12, lengthTicks: 7 };

  it('let its strips be of any lots, with flaws as far as they lie on the piece', () => {
    const flaw = { fromTicks: 5, toTicks: 9, leftTicks: 0, rightTicks: 20 };
    const mixed = withOtherLots(one, [{ ...stretch, flaws: [flaw] }]);
    expect(mixed?.kinds.map(({ lots }) => lots)).toEqual(['any']);
    const flaws = [{ fromTicks: 5, toTicks: 7, leftTicks: 0, rightTicks: 12 }];
    expect(mixed?.pieces[1]).toEqual({
      pieceId: 2,
      lotId: 9,
      widthTicks: 12,
      lengthTicks: 7,
      flaws,
      count: 1,
    });
  });

  it('are none where the job has every free piece already', () => {
    expect(
      withOtherLots(one, [
        { ...stretch, pieceId: 1 },
        { ...stretch, lengthTicks: 0 },
      ]),
    ).toBeNull();
  });
});
