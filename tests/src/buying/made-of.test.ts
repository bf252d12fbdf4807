import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allCloth, type MadeOf, shareOf, togetherOf } from '../../../src/buying/made-of.ts';

const sumOf = (parts: MadeOf) => Object.values(parts).reduce((sum, minor) => sum + minor, 0);

describe('what a cost is made of', () => {
  const parts: MadeOf = {
    clothMinor: 5000,
    cutFeesMinor: 300,
    freightMinor: 700,
    taxMinor: 1200,
    dyeingMinor: 0,
  };

  it('is shared out by parts, worked out by hand', () => {
    // 691 of 7200: 479.86, 28.79, 67.18 and 115.17; the two cents that are left go to the largest remainders.
    expect(shareOf(691, parts)).toEqual({
      clothMinor: 480,
      cutFeesMinor: 29,
      freightMinor: 67,
      taxMinor: 115,
      dyeingMinor: 0,
    });
    expect(shareOf(7, allCloth(0))).toEqual(allCloth(7));
    expect(() => shareOf(7, { ...parts, taxMinor: -1 })).toThrow(RangeError);
  });

  it('is the whole again where all of it is cut, in whatever lengths', () => {
    const part = fc.nat(20_000);
    const of = fc.record({
      clothMinor: part,
      cutFeesMinor: part,
      freightMinor: part,
      taxMinor: part,
      dyeingMinor: part,
    });
    fc.assert(
      fc.property(of, fc.array(fc.nat(5000), { minLength: 1, maxLength: 20 }), (made, cuts) => {
        const together = togetherOf(cuts.map((minor) => shareOf(minor, made)));
        expect(sumOf(together)).toBe(cuts.reduce((sum, minor) => sum + minor, 0));
        expect(shareOf(sumOf(made), made)).toEqual(made);
      }),
    );
  });
});
