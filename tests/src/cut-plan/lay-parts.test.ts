import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { partsOfLay } from '../../../src/cut-plan/lay-parts.ts';
import type { Columns, Lay } from '../../../src/cut-plan/plan.ts';
import { cm } from '../../lengths.ts';

function run(kindId: number, acrossTicks: number, alongTicks: number, strips: number): Columns {
  return { kindId, turned: false, leftTicks: 0, acrossTicks, alongTicks, columns: strips, stack: 1, strips };
}

function layOf(heightTicks: number, columns: readonly Columns[]): Lay {
  return { pieceId: 1, copy: 0, fromTicks: 0, heightTicks, columns };
}

describe('the parts of a lay', () => {
  it('are its whole length where it gives one tier', () => {
    const lay = layOf(cm(30), [run(0, cm(49), cm(30), 3)]);
    expect(partsOfLay(lay, () => 7)).toEqual([{ tierId: 7, strips: 3, lengthTicks: cm(30) }]);
  });

  it('are by the area of the strips: two of 50 × 30 cm and one of 50 × 20 cm are 3000 and 1000 cm²', () => {
    const lay = layOf(cm(30), [run(0, cm(50), cm(30), 2), run(1, cm(50), cm(20), 1)]);
    expect(partsOfLay(lay, (kindId) => kindId + 1)).toEqual([
      { tierId: 1, strips: 2, lengthTicks: cm('22.5') },
      { tierId: 2, strips: 1, lengthTicks: cm('7.5') },
    ]);
  });

  it('add up to the lay to the tick, each a tick at least, whatever the strips', () => {
    const columns = fc.array(
      fc.record({
        kind: fc.nat(3),
        across: fc.integer({ min: 1, max: 300_000 }),
        strips: fc.integer({ min: 1, max: 9 }),
      }),
      { minLength: 1, maxLength: 6 },
    );
    fc.assert(
      fc.property(fc.integer({ min: 10, max: 500_000 }), columns, (height, given) => {
        const lay = layOf(
          height,
          given.map(({ kind, across, strips }) => run(kind, across, height, strips)),
        );
        const parts = partsOfLay(lay, (kindId) => kindId);
        expect(parts.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0)).toBe(height);
        expect(parts.every(({ lengthTicks }) => lengthTicks >= 1)).toBe(true);
        expect(parts.reduce((sum, { strips }) => sum + strips, 0)).toBe(
          given.reduce((sum, { strips }) => sum + strips, 0),
        );
      }),
    );
  });
});
