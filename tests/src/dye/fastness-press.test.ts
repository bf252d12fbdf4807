import { expect, it } from 'vitest';
import { PRESSED_SPECIMEN, pressOf } from '../../../src/dye/fastness-press.ts';

it('presses 40 × 100 mm under 12.5 kPa by 50 N, the weight of 5.1 kg', () => {
  // Worked out by hand: 12 500 N/m² × 0.004 m² = 50 N; ÷ 9.80665 m/s² = 5.0986 kg.
  const { areaCm2, newtons, kilograms } = pressOf(PRESSED_SPECIMEN);
  expect([areaCm2, newtons]).toEqual([40, 50]);
  expect(kilograms).toBeCloseTo(5.0986, 4);
});

it('presses twice the area twice as hard', () => {
  const twice = { ...PRESSED_SPECIMEN, widthMm: 2 * PRESSED_SPECIMEN.widthMm };
  expect(pressOf(twice).newtons).toBe(100);
});
