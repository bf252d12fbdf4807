import { describe, expect, it } from 'vitest';
import { areasOf } from '../../../src/cut-plan/bound.ts';
import { generateColumns } from '../../../src/cut-plan/columns.ts';
import { Filler } from '../../../src/cut-plan/filler.ts';
import { modelOf } from '../../../src/cut-plan/model.ts';
import { job, kind, piece } from './small-jobs.ts';

/** Ten pieces, each of which holds four of the strips. */
const model = () =>
  modelOf(
    job({
      kinds: [kind(0, { lengthTicks: 5, depthTicks: 10, count: 40 })],
      pieces: [piece(0, { widthTicks: 10, lengthTicks: 20, count: 10 })],
    }),
    () => true,
  );

describe('what is told that its time is over', () => {
  it('begins no further piece', () => {
    const all = model();
    let looked = 0;
    const isOver = () => {
      looked += 1;
      return looked > 3;
    };
    const prices = areasOf(all).map((area) => 1.1 * area);
    const options = { prices, fixed: [], liking: () => 1 };
    expect(new Filler(all, { ...options, isOver }).run()).toMatchObject({ missing: 28 });
    expect(new Filler(all, { ...options, isOver: () => false }).run()).toMatchObject({ missing: 0 });
  });

  it('seeks no prices, and proves what the strips cover', () => {
    const some = { mostMissing: 2, known: [], rounds: 40, enough: Number.POSITIVE_INFINITY };
    const all = model();
    const over = generateColumns(all, { ...some, isOver: () => true });
    // 38 strips of 5 × 10.
    expect([over.bound, over.patterns.length, all.meter.work]).toEqual([1900, 0, 0]);
    expect(generateColumns(all, { ...some, isOver: () => false }).bound).toBeGreaterThanOrEqual(1900);
  });
});
