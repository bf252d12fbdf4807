import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type TakePiece, takeFree, takeJoined, takeSpare } from '../../../src/fit/take.ts';
import { cm } from '../../lengths.ts';

const WIDTH = cm(147);

function piece(pieceId: number, lotId: number, free: number, needed = 0): TakePiece {
  return { pieceId, lotId, usableWidthTicks: WIDTH, lengthTicks: cm(free), neededTicks: cm(needed) };
}

/** A flaw of 2 cm right across. */
const flawAt = (fromCm: number) => ({
  fromTicks: cm(fromCm),
  toTicks: cm(fromCm + 2),
  leftTicks: 0,
  rightTicks: WIDTH,
});

const ofLength = (length: number) => ({ kind: 'length', lengthTicks: cm(length) }) as const;
const ofStrips = (count: number, depth: number, length: number) =>
  ({
    kind: 'strips',
    count,
    depthTicks: cm(depth),
    stripLengthTicks: cm(length),
    direction: 'across',
  }) as const;

describe('a length', () => {
  const shelf = [piece(1, 1, 1000, 800), piece(2, 1, 250), piece(3, 2, 400, 100)];

  it('is cut off the tightest piece that has it to spare', () => {
    expect(takeSpare(shelf, ofLength(200), 'one')).toEqual([
      { pieceId: 1, lotId: 1, lengthTicks: cm(200), flaws: [], freeAfterTicks: cm(800), spareAfterTicks: 0 },
    ]);
    expect(takeSpare(shelf, ofLength(210), 'one')).toMatchObject([{ pieceId: 2, spareAfterTicks: cm(40) }]);
    expect(takeSpare(shelf, ofLength(300), 'one')).toMatchObject([{ pieceId: 3, spareAfterTicks: 0 }]);
  });

  it('that nothing has to spare is cut off a free piece, first off that of which garments lose least', () => {
    expect(takeSpare(shelf, ofLength(301), 'one')).toBeNull();
    // Of B3 garments would lose 50 cm, of B1 1.5 m.
    expect(takeFree(shelf, ofLength(350), 'one')).toEqual([
      [{ pieceId: 3, lotId: 2, lengthTicks: cm(350), flaws: [], freeAfterTicks: cm(50), spareAfterTicks: 0 }],
      [
        {
          pieceId: 1,
          lotId: 1,
          lengthTicks: cm(350),
          flaws: [],
          freeAfterTicks: cm(650),
          spareAfterTicks: 0,
        },
      ],
    ]);
    expect(takeFree(shelf, ofLength(1001), 'any')).toEqual([]);
  });

  it('is cut where no flaw lies in it, and tells of one that does', () => {
    const flaw = flawAt(50);
    const flawed = { ...piece(1, 1, 250), flaws: [flaw, flawAt(240)] };
    expect(takeSpare([flawed, piece(2, 1, 400)], ofLength(200), 'one')).toMatchObject([
      { pieceId: 2, flaws: [] },
    ]);
    expect(takeSpare([flawed, piece(2, 1, 400, 300)], ofLength(200), 'one')).toMatchObject([
      { pieceId: 1, flaws: [flaw] },
    ]);
    expect(takeSpare([flawed], ofLength(50), 'one')).toMatchObject([{ pieceId: 1, flaws: [] }]);
    expect(takeJoined([flawed, piece(2, 1, 100)], cm(300), 'one')).toMatchObject([
      { pieceId: 1, flaws: [flaw, { fromTicks: cm(240) }] },
      { pieceId: 2, flaws: [] },
    ]);
  });

  it('is joined of the fewest lengths of one lot', () => {
    const shelf = [
      piece(1, 1, 300),
      piece(2, 1, 300),
      piece(3, 2, 500, 300),
      piece(4, 2, 100),
      piece(5, 2, 90),
    ];
    expect(takeJoined(shelf, cm(390), 'one')).toMatchObject([
      { pieceId: 1, lengthTicks: cm(300) },
      { pieceId: 2, lengthTicks: cm(90) },
    ]);
    expect(takeJoined(shelf, cm(700), 'one')).toBeNull();
    expect(takeJoined(shelf, cm(700), 'any')).toMatchObject([{ pieceId: 1 }, { pieceId: 2 }, { pieceId: 3 }]);
    expect(takeJoined(shelf, cm(991), 'any')).toBeNull();
  });

  it('is taken from what is to spare wherever one piece has it, and never from more than that', () => {
    const some = fc.record({ lotId: fc.nat(2), free: fc.integer({ min: 1, max: 60 }), share: fc.nat(100) });
    fc.assert(
      fc.property(fc.array(some, { maxLength: 6 }), fc.integer({ min: 1, max: 60 }), (given, wanted) => {
        const pieces = given.map(({ lotId, free, share }, i) =>
          piece(i + 1, lotId, free, Math.floor((free * share) / 100)),
        );
        const spare = pieces.map(({ lengthTicks, neededTicks }) => lengthTicks - neededTicks);
        const fitting = spare.filter((ticks) => ticks >= cm(wanted));
        const taken = takeSpare(pieces, ofLength(wanted), 'one');
        expect(taken === null).toBe(fitting.length === 0);
        if (taken) expect(spare[(taken[0]?.pieceId ?? 0) - 1]).toBe(Math.min(...fitting));
        const hasFree = pieces.some(({ lengthTicks }) => lengthTicks >= cm(wanted));
        expect(takeFree(pieces, ofLength(wanted), 'one').length > 0).toBe(hasFree);
      }),
      { numRuns: 500 },
    );
  });

  /** The fewest pieces of one set whose spare lengths come to it, by trying every subset. */
  function fewest(spare: readonly number[], wanted: number): number {
    let best = Number.POSITIVE_INFINITY;
    for (let set = 0; set < 2 ** spare.length; set += 1) {
      const picked = spare.filter((_, i) => (set >> i) & 1);
      if (picked.reduce((sum, ticks) => sum + ticks, 0) >= wanted) best = Math.min(best, picked.length);
    }
    return best;
  }

  it('is joined of as few lengths as any choice of pieces makes it', () => {
    const some = fc.record({ lotId: fc.nat(1), free: fc.integer({ min: 1, max: 40 }), share: fc.nat(100) });
    fc.assert(
      fc.property(fc.array(some, { maxLength: 7 }), fc.integer({ min: 1, max: 90 }), (given, wanted) => {
        const pieces = given.map(({ lotId, free, share }, i) =>
          piece(i + 1, lotId, free, Math.floor((free * share) / 100)),
        );
        const spareOf = (of: readonly TakePiece[]) =>
          of.map(({ lengthTicks, neededTicks }) => lengthTicks - neededTicks);
        const any = fewest(spareOf(pieces), cm(wanted));
        const lots = [0, 1].map((id) => spareOf(pieces.filter(({ lotId }) => lotId === id)));
        const one = Math.min(...lots.map((spare) => fewest(spare, cm(wanted))));
        expect(takeJoined(pieces, cm(wanted), 'any')?.length ?? Number.POSITIVE_INFINITY).toBe(any);
        const joined = takeJoined(pieces, cm(wanted), 'one');
        expect(joined?.length ?? Number.POSITIVE_INFINITY).toBe(one);
        if (joined) expect(joined.reduce((sum, { lengthTicks }) => sum + lengthTicks, 0)).toBe(cm(wanted));
      }),
      { numRuns: 300 },
    );
  });
});

describe('strips', () => {
  // 147 cm across give 4 strips of 35 cm; 10 strips are 3 cut lengths of 20 cm.
  it('are cut in whole cut lengths, of one lot where that is asked', () => {
    const shelf = [piece(1, 1, 50), piece(2, 2, 100, 30)];
    expect(takeSpare(shelf, ofStrips(10, 20, 35), 'one')).toEqual([
      {
        pieceId: 2,
        lotId: 2,
        lengthTicks: cm(60),
        flaws: [],
        freeAfterTicks: cm(40),
        spareAfterTicks: cm(10),
      },
    ]);
    expect(takeSpare(shelf, ofStrips(20, 20, 35), 'one')).toBeNull();
    const mixed = takeSpare(shelf, ofStrips(20, 20, 35), 'any');
    expect(mixed?.map(({ pieceId }) => pieceId).sort()).toEqual([1, 2]);
    expect(takeFree(shelf, ofStrips(20, 20, 35), 'one')).toMatchObject([
      [{ pieceId: 2, lengthTicks: cm(100) }],
    ]);
    // Of the first lot nothing is needed.
    expect(takeFree(shelf, ofStrips(8, 20, 35), 'one')).toMatchObject([[{ pieceId: 1 }], [{ pieceId: 2 }]]);
    expect(takeFree(shelf, ofStrips(20, 20, 35), 'any')).toHaveLength(1);
  });

  it('keep clear of a flaw, as it lies from the free end that they are cut off', () => {
    const flawed = { ...piece(1, 1, 100, 30), flaws: [flawAt(50)] };
    // Of 70 cm to spare 50 cm lie before the flaw and 18 cm behind it: two cut lengths and none.
    expect(takeSpare([flawed], ofStrips(8, 20, 35), 'one')).toMatchObject([
      { lengthTicks: cm(40), flaws: [] },
    ]);
    expect(takeSpare([flawed], ofStrips(9, 20, 35), 'one')).toBeNull();
  });
});
