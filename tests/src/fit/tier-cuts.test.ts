import { describe, expect, it } from 'vitest';
import { shareOut } from '../../../src/fit/sharing.ts';
import {
  besideHeldPlan,
  mayUseLot,
  planTierCuts,
  rankFree,
  type ShadeToCut,
  stripsFromPiece,
  stripsNotHeld,
} from '../../../src/fit/tier-cuts.ts';
import { cm } from '../../lengths.ts';

const WIDTH = cm(147);

/** A stretch of which three strips of 49 cm lie side by side. */
function stretch(pieceId: number, lotId: number, length: number | string) {
  return { pieceId, lotId, usableWidthTicks: WIDTH, lengthTicks: cm(length) };
}

function shade(parts: Partial<ShadeToCut> = {}): ShadeToCut {
  const strip = { tierId: 1, depthTicks: cm(30), lengthTicks: cm(49), direction: 'across' as const };
  return { ...strip, count: 12, leftStrips: 12, lots: 'one', meets: [], held: [], inUse: [], ...parts };
}

/** What one garment alone gets of what is free. */
function shareOf(wanted: ShadeToCut, free: readonly ReturnType<typeof stretch>[]) {
  const demands = [{ ...wanted, count: wanted.leftStrips }];
  const need = { clothId: 1, shadeId: 1, lots: wanted.lots, demands, strips: wanted.leftStrips };
  const claims = [{ garment: 'G1', need, cut: [], held: [] }];
  return shareOut(claims, { free, usableWidthTicks: WIDTH, onOrderTicks: 0 }).shares[0] ?? null;
}

describe('the lots that a shade may use', () => {
  it('are all while none is in use, then that one, those that may meet it, or any', () => {
    const may = (parts: Partial<ShadeToCut>) => [1, 2, 3].filter((lotId) => mayUseLot(shade(parts), lotId));
    const inUse = [{ lotId: 1 }];
    expect(may({})).toEqual([1, 2, 3]);
    expect(may({ inUse })).toEqual([1]);
    expect(may({ inUse, lots: 'meet', meets: [[1, 2]] })).toEqual([1, 2]);
    expect(may({ inUse, lots: 'any' })).toEqual([1, 2, 3]);
    // What somebody let meet is used on.
    expect(may({ inUse: [...inUse, { lotId: 3 }] })).toEqual([1, 3]);
  });
});

describe('the cuts of a tier', () => {
  it('come from what it holds first, then from what is free for it, in whole cut lengths', () => {
    const held = [{ ...stretch(7, 1, 65), tierId: 1 }];
    const wanted = shade({ leftStrips: 11, held, inUse: [{ lotId: 1 }] });
    const free = [stretch(8, 1, 100)];
    const cutLengths = { columns: 3, cutLengths: 2, lengthTicks: cm(60) };
    expect(planTierCuts(wanted, shareOf(shade({ leftStrips: 5 }), free))).toEqual({
      cuts: [
        { pieceId: 7, from: 'held', strips: 6, ...cutLengths },
        { pieceId: 8, from: 'free', strips: 5, ...cutLengths },
      ],
      missingStrips: 0,
    });
    expect(planTierCuts(wanted, null)).toMatchObject({ missingStrips: 5 });
  });

  it('keep to the lot in use where another would give more', () => {
    const free = [stretch(1, 1, 60), stretch(2, 2, 300)];
    const wanted = shade({ inUse: [{ lotId: 1 }] });
    const { cuts, missingStrips } = planTierCuts(wanted, shareOf(wanted, free));
    expect([cuts.map(({ pieceId }) => pieceId), missingStrips]).toEqual([[1], 6]);
  });
});

describe('a shade beside a held plan', () => {
  it('has left what the plan does not give, and holds what is not held for it', () => {
    const held = [
      { ...stretch(7, 1, 65), tierId: 1 },
      { ...stretch(8, 1, 30), tierId: 1 },
    ];
    const parts = [
      { pieceId: 7, strips: 3, lengthTicks: cm(30) },
      { pieceId: 8, strips: 3, lengthTicks: cm(30) },
    ];
    const left = besideHeldPlan(shade({ held }), parts);
    expect([left.leftStrips, left.held]).toEqual([6, [{ ...stretch(7, 1, 35), tierId: 1 }]]);
    expect(stripsNotHeld(left)).toBe(3);
    expect(besideHeldPlan(shade({ leftStrips: 4 }), parts).leftStrips).toBe(0);
  });
});

describe('free pieces for a tier', () => {
  it('stand in the order of use: the lot in use, then the shortest that gives all, then those that give most', () => {
    const free = [
      stretch(1, 2, 500),
      stretch(2, 1, 60),
      stretch(3, 1, 200),
      stretch(4, 1, 150),
      stretch(5, 1, 29),
    ];
    const ranked = rankFree(shade({ inUse: [{ lotId: 1 }] }), free, null);
    expect(ranked.map(({ pieceId, strips, lotNote }) => [pieceId, strips, lotNote])).toEqual([
      [4, 15, 'in use'],
      [3, 18, 'in use'],
      [2, 6, 'in use'],
      [1, 48, 'another lot'],
    ]);
  });

  it('name the lot that gives most where none is in use', () => {
    const free = [stretch(1, 1, 60), stretch(2, 2, 300)];
    const ranked = rankFree(shade(), free, shareOf(shade(), free));
    expect(ranked.map(({ lotId, lotNote }) => [lotId, lotNote])).toEqual([
      [2, 'best lot'],
      [1, ''],
    ]);
  });
});

describe('the strips to cut off a piece', () => {
  it('are those that fit into what is held, else into what is free as well, one at least', () => {
    const from = (held: number, free: number, leftStrips = 12) =>
      stripsFromPiece(shade({ leftStrips }), { widthTicks: WIDTH, heldTicks: cm(held), freeTicks: cm(free) });
    expect([from(65, 500), from(20, 45), from(0, 500), from(0, 10)]).toEqual([6, 6, 12, 1]);
  });
});
