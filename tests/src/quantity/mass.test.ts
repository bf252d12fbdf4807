import fc from 'fast-check';
import { unit as unitOf } from 'mathjs';
import { describe, expect, it } from 'vitest';
import {
  type MassPerAreaUnit,
  type MassUnit,
  readMass,
  readMassPerArea,
  showMass,
  showMassPerArea,
} from '../../../src/quantity/mass.ts';

describe('reading a mass', () => {
  it.each([
    ['450 g', 450_000, '450 g'],
    ['1,2 kg', 1_200_000, '1.2 kg'],
    ['1 kg 500 g', 1_500_000, '1 kg 500 g = 1.5 kg'],
    ['0.125 grams', 125, '0.125 g'],
    ['12½ g', 12_500, '12½ g = 12.5 g'],
    ['250 mg', 250, '250 mg = 0.25 g'],
    ['12', 12_000, '12 g'],
  ])('takes %s', (typed, mg, echo) => {
    expect(readMass(typed, 'g')).toEqual({ ok: true, value: mg, echo, exact: true });
  });

  it('takes pounds and ounces', () => {
    // NIST SP 811 (2008), appendix B.8: pound 4.535924 E-01 kg, ounce 2.834952 E-02 kg; exactly 28.349523125 g.
    expect(readMass('1 lb', 'g')).toEqual({ ok: true, value: 453_592, echo: '1 lb ≈ 453.6 g', exact: false });
    expect(readMass('1 oz', 'g')).toEqual({ ok: true, value: 28_350, echo: '1 oz ≈ 28.35 g', exact: false });
    expect(readMass('1000 oz', 'g')).toMatchObject({ value: 28_349_523, exact: false });
    expect(readMass('1000000 oz', 'g')).toEqual({
      ok: false,
      reason: 'A mass here can be 10 000 kg at most.',
    });
    // 100 lb is 45 359.237 g: whole milligrams.
    expect(readMass('100 lb', 'g')).toMatchObject({ value: 45_359_237, exact: true });
    expect(readMass('2 lb 4 oz', 'g')).toMatchObject({ value: 1_020_583, exact: false });
    expect(readMass('36 oz', 'lb')).toMatchObject({ value: 1_020_583, exact: false });
  });

  it('rounds a part of a milligram once', () => {
    expect(readMass('0.5 mg', 'g')).toMatchObject({ value: 1, exact: false });
    expect(readMass('0.4 mg', 'g')).toMatchObject({ value: 0, exact: false });
  });

  it.each([
    ['-5 g', 'A mass cannot be negative: write it without the minus.'],
    ['1,500 g', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['5 g 1 kg', 'Write the larger unit first and each unit once, as in 2 lb 4 oz or 1 kg 500 g.'],
    ['1 kg 3 oz', '1 kg 3 oz mixes metric and imperial units: write it in one of them.'],
    ['3 m', 'm is not a unit used here: write kg, lb, oz, g or mg.'],
    ['', 'Enter a number.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readMass(typed, 'g')).toEqual({ ok: false, reason });
  });

  it('agrees with a general library of units', () => {
    fc.assert(
      fc.property(
        fc.nat(9_999),
        fc.constantFrom<MassUnit>('mg', 'g', 'kg', 'oz', 'lb'),
        (hundredths, unit) => {
          const byLibrary = unitOf(hundredths / 100, unit).toNumber('mg');
          expect(Math.abs(mg(`${hundredths / 100} ${unit}`) - byLibrary)).toBeLessThanOrEqual(
            0.5 + byLibrary * 1e-12,
          );
        },
      ),
    );
  });
});

describe('reading a mass per area', () => {
  it.each([
    ['8.5', 8_500, '8.5 g/m²', true],
    ['30 gsm', 30_000, '30 g/m²', true],
    ['8.5 g/m2', 8_500, '8.5 g/m²', true],
    ['8,5 g / m²', 8_500, '8.5 g/m²', true],
    ['½ g/sq m', 500, '½ g/m² = 0.5 g/m²', true],
    // NIST SP 811 (2008), appendix B.8: 1 oz/yd² is 3.390575 E-02 kg/m²; from the pound and yard 33.905747… g/m².
    ['1 oz/yd²', 33_906, '1 oz/yd² ≈ 33.906 g/m²', false],
    ['100 oz/sq. yd', 3_390_575, '100 oz/yd² ≈ 3390.575 g/m²', false],
    ['1 osy', 33_906, '1 oz/yd² ≈ 33.906 g/m²', false],
    // A pound in 45 in × 100 yd: apparelsearch.com, "Mommes", prints 4.340 g/m².
    ['1 momme', 4_340, '1 momme ≈ 4.34 g/m²', false],
    ['1000 mommes', 4_339_936, '1000 momme ≈ 4339.936 g/m²', false],
  ])('takes %s', (typed, mgM2, echo, exact) => {
    expect(readMassPerArea(typed, 'g/m²')).toEqual({ ok: true, value: mgM2, echo, exact });
  });

  it('gives a number alone the unit of its field', () => {
    expect(readMassPerArea('2', 'oz/yd²')).toMatchObject({ value: 67_811, echo: '2 oz/yd² ≈ 67.811 g/m²' });
    expect(readMassPerArea('8', 'momme')).toMatchObject({ value: 34_719 });
  });

  it('has the momme of a pound in 125 square yards', () => {
    // 100 momme is 1600 oz in 125 yd², which is 12.8 oz/yd².
    const momme = readMassPerArea('100 momme', 'g/m²');
    expect(momme).toMatchObject({ value: 433_994 });
    expect(readMassPerArea('12.8 oz/yd²', 'g/m²')).toMatchObject({ value: 433_994 });
  });

  it.each([
    ['5 oz', 'oz is not a mass per area: write g/m², oz/yd² or momme.'],
    ['8 mm', 'mm can mean momme or millimetres: write momme, or write the mass per area in g/m² or oz/yd².'],
    ['5 constructor', 'constructor is not a mass per area: write g/m², oz/yd² or momme.'],
    ['-8 g/m²', 'A mass per area cannot be negative: write it without the minus.'],
    ['g/m²', 'g/m2 has no number before it: write the number first.'],
    ['1,500', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['10 001', 'A mass per area here can be 10 000 g/m² at most.'],
    ['', 'Enter a number.'],
  ])('says why %j cannot be read', (typed, reason) => {
    expect(readMassPerArea(typed, 'g/m²')).toEqual({ ok: false, reason });
  });

  it('agrees with a general library of units', () => {
    fc.assert(
      fc.property(fc.nat(9_999), (hundredths) => {
        const read = readMassPerArea(`${hundredths / 100} oz/yd2`, 'g/m²');
        const byLibrary = unitOf(hundredths / 100, 'oz/yd^2').toNumber('mg/m^2');
        expect(read.ok && Math.abs(read.value - byLibrary)).toBeLessThanOrEqual(0.5 + byLibrary * 1e-12);
      }),
    );
  });
});

describe('showing a mass', () => {
  it('goes by the steps of scales', () => {
    const shown = (massMg: number) => showMass(massMg, 'metric', 'near');
    expect([0, 125, 12_340, 450_500, 1_234_000].map(shown)).toEqual([
      '0 g',
      '0.125 g',
      '12.34 g',
      '450.5 g',
      '1.234 kg',
    ]);
    expect([12_345, 450_549, 1_234_567, -12_345].map(shown)).toEqual([
      '≈ 12.35 g',
      '≈ 450.5 g',
      '≈ 1.235 kg',
      '≈ −12.35 g',
    ]);
    expect(showMass(12_345, 'metric', 'down')).toBe('≈ 12.34 g');
  });

  it('shows ounces and pounds', () => {
    const shown = (massMg: number) => showMass(massMg, 'imperial', 'near');
    expect([0, 28_350, 453_592, 1_020_583, -28_350].map(shown)).toEqual([
      '0 oz',
      '≈ 1 oz',
      '≈ 1 lb',
      '≈ 2 lb 4 oz',
      '≈ −1 oz',
    ]);
    expect(shown(45_359_237)).toBe('100 lb');
    // 440 000 mg ÷ 28 349.523125 mg/oz = 15.5205… oz: still below a pound, so to a hundredth.
    expect(shown(440_000)).toBe('≈ 15.52 oz');
    expect(showMass(28_350, 'imperial', 'up')).toBe('≈ 1.01 oz');
    expect(showMass(28_349, 'imperial', 'down')).toBe('≈ 0.99 oz');
  });

  it('is the same when what is shown in grams is typed again, unless marked', () => {
    fc.assert(
      fc.property(fc.nat(100_000_000), (massMg) => {
        const shown = showMass(massMg, 'metric', 'near');
        const read = mg(shown.replace('≈ ', ''));
        expect(shown.startsWith('≈ ')).toBe(read !== massMg);
        expect(Math.abs(read - massMg)).toBeLessThanOrEqual(massMg / 200);
      }),
    );
  });
});

describe('showing a mass per area', () => {
  it('gives the ounces and momme of the trade’s tables', () => {
    // US Customs rulings NY N261747 (nylon tulle 8.5 g/m², 0.25 oz/yd²) and B89349 (30 g/m², 0.88 oz/yd²).
    expect(showMassPerArea(8_500, 'oz/yd²', 'near')).toBe('≈ 0.25 oz/yd²');
    expect(showMassPerArea(30_000, 'oz/yd²', 'near')).toBe('≈ 0.88 oz/yd²');
    expect(showMassPerArea(8_500, 'g/m²', 'near')).toBe('8.5 g/m²');
    expect(showMassPerArea(8_549, 'g/m²', 'down')).toBe('≈ 8.5 g/m²');
    expect(showMassPerArea(34_719, 'momme', 'near')).toBe('≈ 8 momme');
  });

  it('is near enough the same when what is shown is typed again', () => {
    const units = fc.constantFrom<MassPerAreaUnit>('g/m²', 'oz/yd²', 'momme');
    fc.assert(
      fc.property(fc.nat(1_000_000), units, (held, unit) => {
        const read = readMassPerArea(showMassPerArea(held, unit, 'near').replace('≈ ', ''), 'g/m²');
        // Half a step: 0.05 g/m², 0.005 oz/yd² (0.17 g/m²) or 0.05 momme (0.22 g/m²).
        expect(read.ok && Math.abs(read.value - held)).toBeLessThanOrEqual(
          { 'g/m²': 50, 'oz/yd²': 170, momme: 218 }[unit],
        );
      }),
    );
  });
});

function mg(typed: string): number {
  const read = readMass(typed, 'g');
  if (!read.ok) throw new Error(read.reason);
  return read.value;
}
