import { describe, expect, it } from 'vitest';
import { lotsThatMeet, mayMeet, meetingSets } from '../../../src/fit/lots.ts';

const lot = (lotId: number, l: number, a: number, b: number) => ({ lotId, lab: { l, a, b } });

describe('lots that may meet', () => {
  // CIEDE2000 test data: Sharma, Wu and Dalal, Color Research & Application 30 (2005), table 1, pairs 1 and 7.
  it('are those within the tolerance, by CIEDE2000', () => {
    const pair1 = [lot(1, 50, 2.6772, -79.7751), lot(2, 50, 0, -82.7485)];
    expect(lotsThatMeet(pair1, 205)).toEqual([[1, 2]]);
    expect(lotsThatMeet(pair1, 204)).toEqual([]);
    const pair7 = [lot(9, 50, -1, 2), lot(4, 50, 0, 0)];
    expect(lotsThatMeet(pair7, 237)).toEqual([[4, 9]]);
    expect(lotsThatMeet(pair7, 236)).toEqual([]);
  });

  it('are none where only one has a colour', () => {
    expect(lotsThatMeet([lot(1, 50, 0, 0)], 10_000)).toEqual([]);
  });

  it('meet themselves, and each other either way round', () => {
    expect(mayMeet([], 3, 3)).toBe(true);
    expect(mayMeet([[1, 2]], 2, 1)).toBe(true);
    expect(mayMeet([[1, 2]], 1, 3)).toBe(false);
  });

  it('make sets in which every lot meets every other: neighbours of a neighbour do not', () => {
    // 1 meets 2 and 2 meets 3, but 1 does not meet 3.
    const pairs = [
      [1, 2],
      [2, 3],
    ] as const;
    expect(meetingSets([1, 2, 3], pairs)).toEqual([
      [1, 2],
      [2, 3],
    ]);
    expect(meetingSets([4], pairs)).toEqual([[4]]);
  });
});
