import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Content, FIBRE_CODES } from '../../../src/dye/fibre.ts';
import { commercialMassMg, regainBpOf, regainOf, sumOfRegain } from '../../../src/dye/regain.ts';

const KG = 1_000_000;

describe('the commercial mass of cloth', () => {
  it.each([
    // D1909 in Bioresources and Bioprocessing 2020, table 10: commercial = oven-dry × (1 + regain).
    ['cotton', 1_085_000],
    ['linen', 1_120_000],
    ['silk', 1_110_000],
    ['wool', 1_136_000],
    // Textilecalculation.blogspot.com, August 2015.
    ['nylon', 1_040_000],
    ['polyester', 1_004_000],
    ['acetate', 1_060_000],
    ['triacetate', 1_035_000],
    ['viscose', 1_110_000],
    ['acrylic', 1_015_000],
  ] as const)('of 1 kg of oven-dry %s is %d mg', (fibre, wanted) => {
    expect(commercialMassMg(KG, [{ fibre, shareBp: 10_000 }])).toBe(wanted);
  });

  it('of a blend is that of its parts, weighed out in the room', () => {
    const shares = fc.integer({ min: 1, max: 9_999 });
    const fibres = fc.constantFrom(...FIBRE_CODES);
    fc.assert(
      fc.property(fibres, fibres, shares, (one, other, shareBp) => {
        fc.pre(one !== other);
        const content: Content = [
          { fibre: one, shareBp },
          { fibre: other, shareBp: 10_000 - shareBp },
        ];
        // 1 kg of it in the room, each fibre dried by itself.
        const dryMg = content.reduce((sum, each) => {
          return sum + (each.shareBp * 100) / (1 + regainOf(each.fibre).regainBp / 10_000);
        }, 0);
        const factor = KG / dryMg;
        expect(commercialMassMg(100 * KG, content) / (100 * KG)).toBeCloseTo(factor, 7);
        expect(Math.abs(regainBpOf(content) - (factor - 1) * 10_000)).toBeLessThanOrEqual(0.5001);
      }),
    );
  });

  it('is written as a sum that can be done again', () => {
    expect(sumOfRegain(100_000, 850, 108_500)).toBe(
      '100 g oven-dry × (1 + 8.5 %) = 108.5 g air-dry, the mass that owf is of',
    );
    expect(() => commercialMassMg(KG, [])).toThrow(RangeError);
  });
});
