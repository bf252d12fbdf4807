import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readVolume, showVolume } from '../../../src/quantity/volume.ts';

describe('reading a volume', () => {
  it.each([
    ['10 L', 10_000, '10 L', true],
    ['2,5 l', 2_500, '2.5 L', true],
    ['750 ml', 750, '750 mL', true],
    ['1500 mL', 1_500, '1500 mL = 1.5 L', true],
    ['1 L 500 mL', 1_500, '1 L 500 mL = 1.5 L', true],
    ['2½ litres', 2_500, '2½ L = 2.5 L', true],
    ['12', 12_000, '12 L', true],
    ['0.5 ml', 1, '0.5 mL ≈ 1 mL', false],
    ['12.345 l', 12_345, '12.345 L ≈ 12.35 L', true],
    ['0 l', 0, '0 L = 0 mL', true],
    // NIST Handbook 44, appendix C: the US gallon is 231 in³ = 3.785411784 L; the imperial one is 4.54609 L.
    ['1 US gal', 3_785, '1 US gal ≈ 3.79 L', false],
    ['1000 gal (US)', 3_785_412, '1000 US gal ≈ 3785.4 L', false],
    ['100 imperial gallons', 454_609, '100 imperial gal ≈ 454.6 L', true],
    ['2 ½ UK gal', 11_365, '2½ imperial gal ≈ 11.37 L', false],
  ])('takes %s', (typed, ml, echo, exact) => {
    expect(readVolume(typed, 'l')).toEqual({ ok: true, value: ml, echo, exact });
  });

  it.each([
    ['2 gal', /is it a US gallon .* or an imperial one/],
    ['2 gallons', /Write US gal or imperial gal/],
    ['3 quarts', /more than one size/],
    ['1 pint', /more than one size/],
    ['8 fl oz', /more than one size/],
    ['-1 l', 'A volume cannot be negative: write it without the minus.'],
    ['1,500 ml', '1,500 can mean 1.5 or 1500: write 1.5 or 1500.'],
    ['5 m', 'm is not a unit used here: write imperial gal, US gal, l or ml.'],
    ['100001 l', 'A volume here can be 100 000 L at most.'],
    ['', 'Enter a number.'],
    ['pint'.repeat(20), 'This is too long: 64 characters at most.'],
  ])('says why %j cannot be read', (typed, reason) => {
    const said = typeof reason === 'string' ? reason : expect.stringMatching(reason);
    expect(readVolume(typed, 'l')).toEqual({ ok: false, reason: said });
  });
});

describe('showing a volume', () => {
  it('goes by the steps of vessels', () => {
    const shown = (ml: number) => showVolume(ml, 'near');
    expect([0, 750, 1_000, 2_500, 12_340, 99_990, 120_500].map(shown)).toEqual([
      ...['0 mL', '750 mL', '1 L', '2.5 L', '12.34 L', '99.99 L', '120.5 L'],
    ]);
    expect([1_234, 120_549, -1_234].map(shown)).toEqual(['≈ 1.23 L', '≈ 120.5 L', '≈ −1.23 L']);
    expect(showVolume(1_231, 'up')).toBe('≈ 1.24 L');
  });

  it('is the same when what is shown is typed again, unless marked', () => {
    fc.assert(
      fc.property(fc.nat(1_000_000), (ml) => {
        const shown = showVolume(ml, 'near');
        const read = readVolume(shown.replace('≈ ', ''), 'ml');
        expect(read.ok && read.value === ml).toBe(!shown.startsWith('≈ '));
      }),
    );
  });
});
