import { describe, expect, it } from 'vitest';
import { fitsOfSets } from '../../../src/fit/lot-sets.ts';
import type { StripDemand } from '../../../src/garment/need.ts';

const demand: StripDemand = { tierId: 1, depthTicks: 30, lengthTicks: 100, direction: 'across', count: 4 };
const piece = (pieceId: number, lotId: number, lengthTicks: number, usableWidthTicks = 100) => ({
  pieceId,
  lotId,
  lengthTicks,
  usableWidthTicks,
});

describe('what sets of lots give of a need', () => {
  it('puts what gives all first, then what takes least, then the fewest lots', () => {
    // Lot 3 is wide enough for two strips side by side: two cut lengths of 30 instead of four.
    const free = [piece(1, 1, 60), piece(2, 2, 60), piece(3, 3, 60, 200), piece(4, 4, 30)];
    const fits = fitsOfSets([demand], free, [[1, 2], [3], [1, 4], [9]]);
    expect(fits).toEqual([
      { lotIds: [3], madeStrips: 4, missingStrips: 0, usedTicks: 60 },
      { lotIds: [1, 2], madeStrips: 4, missingStrips: 0, usedTicks: 120 },
      { lotIds: [1, 4], madeStrips: 3, missingStrips: 1, usedTicks: 90 },
    ]);
  });

  it('names only the lots that are cut, and a set once', () => {
    const fits = fitsOfSets([demand], [piece(1, 1, 500), piece(2, 2, 10)], [[1, 2], [1]]);
    expect(fits).toEqual([{ lotIds: [1], madeStrips: 4, missingStrips: 0, usedTicks: 120 }]);
    expect(fitsOfSets([demand], [], [[1]])).toEqual([]);
  });
});
