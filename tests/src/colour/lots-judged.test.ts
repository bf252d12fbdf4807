import { describe, expect, it } from 'vitest';
import { lotRead } from '../../../src/colour/lot-colour.ts';
import { judgeTwoLots, type LotEvidence, lotPairKey, lotsThatMeet } from '../../../src/colour/lots-judged.ts';

const read = (l: number, a: number, b: number) =>
  lotRead([
    {
      lab: { l, a, b },
      illuminant: 'D65',
      observer: '2',
      how: 'instrument',
      uncertaintyCenti: 50,
      state: 'dry',
      layers: null,
      backing: null,
      place: null,
    },
  ]);
const bands = (meetCenti: number) => ({ meetCenti, apartCenti: meetCenti + 90 });

// CIEDE2000 test data: Sharma, Wu and Dalal, Color Research & Application 30 (2005), table 1, pairs 1 and 7.
const EVIDENCE: LotEvidence = {
  read: new Map([
    [1, read(50, 2.6772, -79.7751)],
    [2, read(50, 0, -82.7485)],
    [9, read(50, -1, 2)],
    [4, read(50, 0, 0)],
  ]),
  judgements: new Map([[lotPairKey(7, 3), [{ how: 'eye', verdict: 'may meet' }]]]),
};

describe('lots that meet', () => {
  it('are those within the tolerance, by CIEDE2000', () => {
    expect(lotsThatMeet([1, 2], EVIDENCE, bands(205))).toEqual([[1, 2]]);
    expect(lotsThatMeet([1, 2], EVIDENCE, bands(204))).toEqual([]);
    expect(lotsThatMeet([9, 4], EVIDENCE, bands(237))).toEqual([[4, 9]]);
    expect(lotsThatMeet([9, 4], EVIDENCE, bands(236))).toEqual([]);
  });

  it('are those that somebody saw together, and none of which nothing is known', () => {
    expect(lotsThatMeet([7, 3, 1, 8], EVIDENCE, bands(0))).toEqual([[3, 7]]);
    expect(judgeTwoLots(EVIDENCE, 1, 8, bands(10_000)).verdict).toBe('unknown');
  });

  it('tell the difference of the first less the other, whichever comes first', () => {
    expect(judgeTwoLots(EVIDENCE, 9, 4, bands(0)).measured?.difference).toMatchObject({ a: -1, b: 2 });
    expect(judgeTwoLots(EVIDENCE, 4, 9, bands(0)).measured?.difference).toMatchObject({ a: 1, b: -2 });
  });
});
