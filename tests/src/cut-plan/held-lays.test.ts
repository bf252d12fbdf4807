import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  holdKey,
  type LayState,
  lastLaysToGiveBack,
  laysAsWantedNow,
  partsOfLay,
  stripsToCut,
  takeHolds,
} from '../../../src/cut-plan/held-lays.ts';
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

const part = (tierId: number, strips: number, length = 30) => ({ tierId, strips, lengthTicks: cm(length) });

describe('lays of a held plan', () => {
  const demand = (tierId: number, count: number, depth = 30) => ({
    tierId,
    depthTicks: cm(depth),
    lengthTicks: cm(49),
    count,
    direction: 'across' as const,
  });
  const lay = (tierId: number, strips: number, state: LayState = 'held') => ({
    state,
    slits: [{ tierId, depthTicks: cm(30), lengthTicks: cm(49) }],
    parts: [part(tierId, strips)],
  });
  const states = (lays: readonly { readonly state: LayState }[]) => lays.map(({ state }) => state);

  it('are out from the first that gives more strips than are left to cut, and what is cut stays cut', () => {
    const lays = [lay(1, 3, 'cut'), lay(1, 3), lay(1, 3), lay(1, 1)];
    expect(states(laysAsWantedNow(lays, [demand(1, 8)], [{ tierId: 1, count: 3 }]))).toEqual([
      'cut',
      'held',
      'out',
      'held',
    ]);
  });

  it('are out where their tier wants strips of another size, or is gone', () => {
    expect(states(laysAsWantedNow([lay(1, 3), lay(2, 3)], [demand(1, 9, 31)], []))).toEqual(['out', 'out']);
  });

  it('count strips over what is wanted as less than none', () => {
    expect([...stripsToCut([demand(1, 2), demand(1, 2)], [{ tierId: 1, count: 5 }])]).toEqual([[1, -1]]);
  });

  it('take what their tiers hold of a piece, all of it or nothing', () => {
    const holds = new Map([
      [holdKey(5, 1), cm(50)],
      [holdKey(5, 2), cm(20)],
    ]);
    expect(takeHolds(holds, 5, [part(1, 3), part(2, 3)])).toBe(false);
    expect(takeHolds(holds, 5, [part(1, 3), part(2, 3, 20)])).toBe(true);
    expect(takeHolds(holds, 5, [part(1, 3)])).toBe(false);
    expect([...holds.values()]).toEqual([cm(20), 0]);
  });

  it('give back from the last, as many as it takes, or all where that is not enough', () => {
    const lays = [40, 30, 20].map((length) => ({ lengthTicks: cm(length) }));
    const given = (missing: number) =>
      lastLaysToGiveBack(lays, cm(missing)).map((one) => one.lengthTicks / cm(1));
    expect([given(0), given(20), given(21), given(500)]).toEqual([[], [20], [20, 30], [20, 30, 40]]);
  });
});
