import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { neededOf, spareOf } from '../../../src/fit/needed.ts';
import { shareOut } from '../../../src/fit/sharing.ts';
import { cm } from '../../lengths.ts';

const WIDTH = cm(147);
const m = (metres: number) => Math.round(metres * 160_000);

function stretch(pieceId: number, lotId: number, metres: number) {
  return { pieceId, lotId, usableWidthTicks: WIDTH, lengthTicks: m(metres) };
}

/** A garment's need of so many strips of 40 cm, four of which lie beside each other. */
function claim(name: string, strips: number) {
  const size = { depthTicks: m(0.4), lengthTicks: m(0.35), direction: 'across' as const };
  const demands = [{ tierId: name.charCodeAt(0), ...size, count: strips }];
  return {
    garment: name,
    need: { clothId: 1, shadeId: 1, lots: 'any' as const, demands, strips },
    cut: [],
    held: [],
  };
}

describe('what is needed of pieces', () => {
  // With a pencil: 12 strips are 3 cut lengths of 40 cm, 1.2 m; 8 more are 0.8 m. All from the tightest piece that holds them.
  it('is what garments take off their free ends, one after the other', () => {
    const free = [stretch(1, 1, 2), stretch(2, 1, 10)];
    const { left } = shareOut([claim('a', 12), claim('b', 8)], {
      free,
      usableWidthTicks: WIDTH,
      onOrderTicks: 0,
    });
    const needed = neededOf(free, left);
    expect([...needed.values()].reduce((sum, piece) => sum + piece.neededTicks, 0)).toBe(m(2));
    for (const { neededTicks, freeTicks } of needed.values())
      expect(neededTicks).toBeLessThanOrEqual(freeTicks);
  });

  it('is nothing of what no garment cuts', () => {
    const free = [stretch(1, 1, 2)];
    expect(neededOf(free, free)).toEqual(new Map());
    expect(neededOf(free, [])).toEqual(new Map([[1, { lotId: 1, neededTicks: m(2), freeTicks: m(2) }]]));
  });
});

describe('what is to spare of lots', () => {
  it('is what is free less what is needed, and the longest single length of it', () => {
    const lots = [
      { lotId: 1, freeTicks: m(12), longestFreeTicks: m(10), freePieces: 2 },
      { lotId: 2, freeTicks: m(3), longestFreeTicks: m(3), freePieces: 1 },
      { lotId: 3, freeTicks: m(1), longestFreeTicks: m(1), freePieces: 1 },
    ];
    const needed = [
      { lotId: 1, neededTicks: m(9), freeTicks: m(10) },
      { lotId: 3, neededTicks: m(1), freeTicks: m(1) },
    ];
    expect(spareOf(lots, needed, new Map([[1, m(2)]]))).toEqual({
      neededTicks: m(10),
      spareTicks: m(6),
      longestTicks: m(3),
      pieces: 3,
      lots: 2,
    });
    expect(spareOf([], [], new Map())).toEqual({
      neededTicks: 0,
      spareTicks: 0,
      longestTicks: 0,
      pieces: 0,
      lots: 0,
    });
  });

  it('agrees with going through the pieces one by one', () => {
    const piece = fc.record({ lotId: fc.nat(3), freeTicks: fc.nat(50), share: fc.nat(100) });
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 12 }), (given) => {
        const pieces = given.map(({ lotId, freeTicks, share }) => {
          const neededTicks = share > 60 ? 0 : Math.floor((freeTicks * share) / 60);
          return { lotId, freeTicks, neededTicks };
        });
        const most = (of: readonly number[]) => Math.max(0, ...of);
        const free = pieces.filter(({ freeTicks }) => freeTicks > 0);
        const lotIds = [...new Set(free.map(({ lotId }) => lotId))];
        const lots = lotIds.map((lotId) => {
          const own = free.filter((one) => one.lotId === lotId).map(({ freeTicks }) => freeTicks);
          const freeTicks = own.reduce((sum, ticks) => sum + ticks, 0);
          return { lotId, freeTicks, longestFreeTicks: most(own), freePieces: own.length };
        });
        const needed = free.filter(({ neededTicks }) => neededTicks > 0);
        const beside = free.filter(({ neededTicks }) => neededTicks === 0);
        const longestBeside = new Map(
          lotIds.map((id) => [
            id,
            most(beside.filter(({ lotId }) => lotId === id).map((one) => one.freeTicks)),
          ]),
        );
        const rests = free.map(({ freeTicks, neededTicks }) => freeTicks - neededTicks);
        const withSpare = free.filter(({ freeTicks, neededTicks }) => freeTicks > neededTicks);
        expect(spareOf(lots, needed, longestBeside)).toEqual({
          neededTicks: free.reduce((sum, { neededTicks }) => sum + neededTicks, 0),
          spareTicks: rests.reduce((sum, ticks) => sum + ticks, 0),
          longestTicks: most(rests),
          pieces: withSpare.length,
          lots: new Set(withSpare.map(({ lotId }) => lotId)).size,
        });
      }),
      { numRuns: 500 },
    );
  });
});
