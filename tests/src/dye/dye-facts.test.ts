import { describe, expect, it } from 'vitest';
import { DYE_CLASSES } from '../../../src/dye/dye-class.ts';
import { DEPTHS, HEAT_LIMITS, heatLimitFor } from '../../../src/dye/dye-facts.ts';
import { type Content, FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';

const of = (...fibres: FibreCode[]): Content =>
  fibres.map((fibre) => ({ fibre, shareBp: 10_000 / fibres.length }));

describe('heat limits', () => {
  it('are known for every fibre, the label never above the last', () => {
    expect(HEAT_LIMITS.map(({ fibre }) => fibre).sort()).toEqual([...FIBRE_CODES].sort());
    for (const { limitC, neverC } of HEAT_LIMITS) expect(limitC).toBeLessThanOrEqual(neverC);
  });

  it('are those of the most delicate fibre', () => {
    expect(heatLimitFor(of('nylon', 'metallised'))).toMatchObject({ fibre: 'metallised', limitC: 60 });
    expect(heatLimitFor(of('polyester', 'elastane'))).toMatchObject({ fibre: 'elastane', limitC: 100 });
    // Cap 85 °C: dyes4dyeing.blogspot.com, July 2012; some dyes 90 °C: zero-emissions.at, 2013.
    expect(heatLimitFor(of('acetate'))).toMatchObject({ limitC: 85, neverC: 90 });
    // Damage to wool above 105 °C: Broadbent, p. 423.
    expect(heatLimitFor(of('wool')).neverC).toBe(105);
  });

  it('need a fibre', () => {
    expect(() => heatLimitFor([])).toThrow(RangeError);
  });
});

describe('depths', () => {
  it('rise from pale to dark for every class', () => {
    for (const dyeClass of DYE_CLASSES) {
      const { pale, medium, dark } = DEPTHS[dyeClass];
      expect(pale).toBeGreaterThan(0);
      expect(medium).toBeGreaterThan(pale);
      expect(dark).toBeGreaterThan(medium);
    }
  });

  it('lie in the published ranges', () => {
    // Disperse on polyester below 0.5, 0.5 to 1.5, above 1.5 %: textilelearner.blogspot.com, January 2012.
    const { pale, medium, dark } = DEPTHS.disperse;
    expect([pale < 500, medium >= 500 && medium <= 1500, dark > 1500]).toEqual([true, true, true]);
    // Dichlorotriazine 0.5 to 1, 2 to 3, 4 to 5 %: canttalkdyeing.wordpress.com, February 2009.
    expect(DEPTHS.reactive).toMatchObject({ pale: 500, medium: 2000, dark: 4000 });
  });
});
