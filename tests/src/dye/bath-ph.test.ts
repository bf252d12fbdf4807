import { describe, expect, it } from 'vitest';
import { type BathSolutes, bathPh } from '../../../src/dye/bath-ph.ts';

describe('the pH of a bath', () => {
  // Worked by charge balance from published constants, each to within 0.05; amounts in g/L, alkalinity in mg/L.
  it.each<[what: string, solutes: BathSolutes, pH: number]>([
    ['soda ash 10 g/L', { sodaAsh: 10_000 }, 11.37],
    ['soda ash 1 g/L, which is not that of 10', { sodaAsh: 1000 }, 10.99],
    ['caustic soda 1 g/L', { causticSoda: 1000 }, 12.33],
    ['acetic acid 1 g/L in soft water', { aceticAcid: 1000 }, 3.27],
    ['acetic acid 1 g/L in water of 100', { aceticAcid: 1000, alkalinity: 100 }, 3.89],
    ['acetic acid 0.5 g/L in water of 200', { aceticAcid: 500, alkalinity: 200 }, 4.67],
    ['vinegar 10 mL/L in water of 100', { aceticAcid: 500, alkalinity: 100 }, 4.24],
    ['citric acid 1 g/L', { citricAcid: 1000 }, 2.79],
    ['formic acid 1 g/L', { formicAcid: 1000 }, 2.73],
    ['sulphuric acid 0.25 g/L in water of 100', { sulphuricAcid: 250, alkalinity: 100 }, 2.61],
    ['ammonium sulphate 1 g/L', { ammoniumSulphate: 1000 }, 5.59],
    ['acetic acid 1 and acetate 2 g/L', { aceticAcid: 1000, sodiumAcetate: 2000 }, 4.64],
  ])('with %s', (_, solutes, pH) => {
    expect(Math.abs(bathPh(solutes) - pH)).toBeLessThanOrEqual(0.05);
  });

  it('of plain water is 7, and an amount below nought is refused', () => {
    expect(bathPh({})).toBeCloseTo(7, 3);
    expect(() => bathPh({ sodaAsh: -1 })).toThrow(RangeError);
  });
});
