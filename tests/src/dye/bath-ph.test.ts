import { describe, expect, it } from 'vitest';
import { type BathSolutes, bathPh, MOST_IONIC_MOLAR, solveBath } from '../../../src/dye/bath-ph.ts';

// Worked by charge balance from published constants (LibreTexts E1; issuhub 4705 for ammonium; the rest from memory),
// for tap water of pH 7.5 whose carbon dioxide stays in it, but where a source is named. Amounts in g/L, alkalinity in
// mg/L of calcium carbonate.
const ALKALINITIES = [0, 50, 100, 150, 200, 300] as const;
const ACETIC: readonly (readonly [gPerLitre: number, ...pH: number[]])[] = [
  [0.1, 3.79, 4.89, 5.78, 6.21, 6.41, 6.64],
  [0.25, 3.58, 4.26, 4.68, 5.06, 5.44, 5.98],
  [0.5, 3.43, 3.93, 4.24, 4.47, 4.67, 5.04],
  [1, 3.27, 3.64, 3.89, 4.08, 4.22, 4.46],
  [1.5, 3.19, 3.49, 3.71, 3.88, 4.01, 4.21],
  [2, 3.12, 3.39, 3.59, 3.75, 3.87, 4.06],
];

type Dose = (gPerLitre: number) => BathSolutes;
const citric: Dose = (g) => ({ citricAcid: g * 1000 });
const formic: Dose = (g) => ({ formicAcid: g * 1000 });
const sulphuric: Dose = (g) => ({ sulphuricAcid: g * 1000 });
const ammonium: Dose = (g) => ({ ammoniumSulphate: g * 1000 });
const phosphate: Dose = (g) => ({ monosodiumPhosphate: g * 1000 });
const soda: Dose = (g) => ({ sodaAsh: g * 1000 });
const buffered: Dose = (acetate) => ({ aceticAcid: 1000, sodiumAcetate: acetate * 1000 });

/** pH at alkalinities of 0, 100 and 200 mg/L. */
const OTHERS: readonly (readonly [what: string, solutes: BathSolutes, pH: readonly number[]])[] = [
  ['citric acid, anhydrous, 0.5', citric(0.5), [2.97, 3.64, 4.66]],
  ['citric acid, anhydrous, 1', citric(1), [2.79, 3.13, 3.57]],
  ['citric acid, anhydrous, 2', citric(2), [2.61, 2.81, 3.03]],
  ['citric acid monohydrate 1', citric(192.124 / 210.139), [2.81, 3.18, 3.67]],
  ['formic acid 0.5', formic(0.5), [2.89, 3.23, 3.53]],
  ['formic acid 1', formic(1), [2.73, 2.96, 3.16]],
  ['sulphuric acid 0.1', sulphuric(0.1), [2.74, 4.28, 6.25]],
  ['sulphuric acid 0.25', sulphuric(0.25), [2.38, 2.61, 3.06]],
  ['sulphuric acid 1', sulphuric(1), [1.87, 1.92, 1.97]],
  ['ammonium sulphate 1', ammonium(1), [5.59, 7.18, 7.28]],
  ['ammonium sulphate 2', ammonium(2), [5.45, 7.06, 7.18]],
  ['acetic acid 1 with acetate 1', buffered(1), [4.36, 4.51, 4.65]],
  ['acetic acid 1 with acetate 2', buffered(2), [4.64, 4.74, 4.85]],
  ['monosodium phosphate 1', phosphate(1), [4.73, 6.19, 6.4]],
  ['monosodium phosphate 2', phosphate(2), [4.64, 5.93, 6.15]],
  ['soda ash 1', soda(1), [10.99, 10.62, 10.38]],
  ['soda ash 2', soda(2), [11.1, 10.82, 10.61]],
  ['soda ash 5', soda(5), [11.25, 11.06, 10.89]],
  ['soda ash 10', soda(10), [11.37, 11.23, 11.1]],
  ['soda ash 20', soda(20), [11.53, 11.43, 11.33]],
];

const IN_SOFT_WATER: readonly (readonly [what: string, solutes: BathSolutes, pH: number])[] = [
  ['bicarbonate 1', { bicarbonate: 1000 }, 8.24],
  ['bicarbonate 5', { bicarbonate: 5000 }, 8.16],
  ['bicarbonate 20', { bicarbonate: 20_000 }, 8.08],
  ...[
    [0.1, 11.37],
    [0.5, 12.04],
    [1, 12.33],
    [2, 12.61],
    [5, 12.98],
    [10, 13.26],
  ].map(([g = 0, pH = 0]) => [`caustic soda ${g}`, { causticSoda: g * 1000 }, pH] as const),
];

const near = (pH: number, wanted: number, within = 0.05) =>
  expect(Math.abs(pH - wanted)).toBeLessThanOrEqual(within);

describe('the pH of a bath', () => {
  it.each(ACETIC)('with %s g/L of acetic acid, by the alkalinity of the water', (g, ...pHs) => {
    ALKALINITIES.forEach((alkalinity, at) => {
      near(bathPh({ aceticAcid: g * 1000, alkalinity }), pHs[at] ?? 0);
    });
  });

  it.each(OTHERS)('with %s g/L, by the alkalinity of the water', (_, solutes, pHs) => {
    [0, 100, 200].forEach((alkalinity, at) => {
      near(bathPh({ ...solutes, alkalinity }), pHs[at] ?? 0);
    });
  });

  it.each(IN_SOFT_WATER)('with %s g/L in water without alkalinity', (_, solutes, pH) => {
    near(bathPh(solutes), pH);
  });

  it('with vinegar of 5 g in 100 mL, 10 mL/L, and with 56 % acid, 1 mL/L', () => {
    near(bathPh({ aceticAcid: 500, alkalinity: 100 }), 4.24);
    for (const [alkalinity, pH] of [
      [0, 3.39],
      [100, 4.15],
      [200, 4.54],
    ] as const) {
      near(bathPh({ aceticAcid: 595, alkalinity }), pH);
    }
  });

  // The 1 % figure of an encyclopaedia's table, which is often passed on as that of 1 g/L.
  it('with 1 % by weight of soda ash is that of 10 g/L, and not that of 1 g/L; 5 and 10 % are beyond the model', () => {
    near(bathPh(soda(10)), 11.37);
    near(bathPh(soda(1)), 10.99);
    expect(solveBath(soda(50)).ionicMolar).toBeGreaterThan(MOST_IONIC_MOLAR);
    expect(solveBath(soda(100)).ionicMolar).toBeGreaterThan(MOST_IONIC_MOLAR);
    // Beyond it, still within the 0.3 that a page allows: 11.58 and 11.70 in that table.
    near(bathPh(soda(50)), 11.58, 0.3);
    near(bathPh(soda(100)), 11.7, 0.3);
  });

  it('is lower in a hot bath with alkali: 1 g/L of caustic soda and 10 g/L of soda ash at 60 °C', () => {
    near(bathPh({ causticSoda: 1000 }, { temperatureC: 60 }), 11.36);
    near(bathPh(soda(10), { temperatureC: 60 }), 10.77);
    expect(bathPh({ causticSoda: 1000 }, { temperatureC: 50 })).toBeGreaterThan(11.36);
    expect(bathPh({ causticSoda: 1000 }, { temperatureC: 120 })).toBeCloseTo(
      bathPh({ causticSoda: 1000 }, { temperatureC: 98 }),
      3,
    );
  });

  it('of a little acid in alkaline water turns alkaline where its carbon dioxide boils away', () => {
    const little = { aceticAcid: 100, alkalinity: 100 };
    near(bathPh(little), 5.8, 0.06);
    expect(bathPh(little, { carbonDioxide: 'lost' })).toBeGreaterThan(10);
  });

  // A quadratic of acetic acid in water whose alkalinity is wholly neutralised, without activities.
  it.each([
    ['1 g/L in 100 mg/L', 1, 100, 3.92],
    ['0.5 g/L in 200 mg/L', 0.5, 200, 4.73],
    ['0.342 g/L in 100 mg/L', 0.342, 100, 4.5],
    ['0.442 g/L in 50 mg/L', 0.442, 50, 4],
  ])('agrees with a closed form to 0.06: acetic acid %s', (_, g, alkalinity, closed) => {
    const [c, a, k] = [g / 60.05, alkalinity / 50_040, 10 ** -4.756];
    const h = (-(a + k) + Math.sqrt((a + k) ** 2 + 4 * k * (c - a))) / 2;
    near(-Math.log10(h), closed, 0.01);
    near(bathPh({ aceticAcid: g * 1000, alkalinity }), closed, 0.06);
  });

  it('of plain water is 7, of tap water its own, and an amount below nought is refused', () => {
    expect(bathPh({})).toBeCloseTo(7, 3);
    near(bathPh({ alkalinity: 100 }), 7.5);
    near(bathPh({ alkalinity: 100 }, { tapPh: 8.3 }), 8.3);
    expect(() => bathPh({ sodaAsh: -1 })).toThrow(RangeError);
  });

  it('is hardly moved by salt, which takes it out of the model from about 3 %', () => {
    near(bathPh({ salt: 20_000 }), 7, 0.01);
    expect(solveBath({ salt: 20_000 }).ionicMolar).toBeLessThan(MOST_IONIC_MOLAR);
    expect(solveBath({ salt: 50_000 }).ionicMolar).toBeGreaterThan(MOST_IONIC_MOLAR);
    expect(solveBath({ sodiumSulphate: 50_000 }).ionicMolar).toBeGreaterThan(MOST_IONIC_MOLAR);
    near(bathPh({ disodiumPhosphate: 1000 }), 9.3, 0.3);
  });
});
