import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { IMPERIAL, METRIC } from '../../../src/quantity/length-show.ts';
import {
  MEASURES,
  readSupplyAmount,
  type SupplyMeasure,
  showSupplyAmount,
  unitOfMeasure,
  writeSupplyAmount,
} from '../../../src/supply/amount.ts';

const read = (typed: string, measure: SupplyMeasure, units = METRIC) => {
  const reading = readSupplyAmount(typed, measure, units);
  return reading.ok ? reading.value : reading.reason;
};

describe('reading an amount of a supply', () => {
  // Pound of 453.59237 g and yard of 0.9144 m exactly: international agreement of 1 July 1959. US gallon of 231 cubic
  // inches: NIST Handbook 44, appendix C.
  it.each([
    ['12', 'mass', 12_000],
    ['1 lb', 'mass', 453_592],
    ['2.55', 'volume', 2_550],
    ['1 L 500 mL', 'volume', 1_500_000],
    ['1 US gal', 'volume', 3_785_412],
    ['2,5 m', 'length', 400_000],
    ['24', 'count', 24],
    ['24 pieces', 'count', 24],
    ['1 piece', 'count', 1],
  ] as const)('%s as a %s is %i', (typed, measure, value) => {
    expect(read(typed, measure)).toBe(value);
  });

  it('takes a bare length in the unit of the reader', () => {
    expect(read('1', 'length', IMPERIAL)).toBe(146_304);
    expect(unitOfMeasure('length', IMPERIAL)).toBe('yd');
  });

  it.each([
    ['half', 'count', /not a number|number/],
    ['', 'count', /Enter a number of pieces/],
    ['2.5', 'count', /whole number/],
    ['12 g', 'volume', /g is not/],
    ['1 gal', 'volume', /two sizes/],
    ['3 m', 'mass', /m is not/],
  ] as const)('%s is refused as a %s', (typed, measure, why) => {
    expect(read(typed, measure)).toMatch(why);
  });
});

describe('showing an amount of a supply', () => {
  it.each([
    [12_345, 'mass', '≈ 12.34 g'],
    [250_000, 'volume', '250 mL'],
    [2_550, 'volume', '2.55 mL'],
    [3_785_412, 'volume', '≈ 3.78 L'],
    [560_000, 'length', '3.5 m'],
    [1, 'count', '1 piece'],
    [24, 'count', '24 pieces'],
  ] as const)('%i of a %s is %s', (amount, measure, shown) => {
    expect(showSupplyAmount(amount, measure, METRIC, 'down')).toBe(shown);
  });

  it('reads back as the same amount, whatever the measure', () => {
    for (const measure of MEASURES)
      for (const amount of [1_600, 16_000, 480_000, 1_600_000]) {
        const shown = showSupplyAmount(amount, measure, METRIC, 'near');
        expect([measure, shown, read(shown, measure)]).toEqual([measure, shown, amount]);
      }
  });
});

it('what is written for a form reads as the same amount', () => {
  const amount = fc.oneof(fc.integer({ min: 1, max: 2000 }), fc.integer({ min: 1, max: 1_000_000_000 }));
  fc.assert(
    fc.property(
      amount,
      fc.constantFrom(...MEASURES),
      fc.constantFrom(METRIC, IMPERIAL),
      (whole, measure, units) => {
        expect(read(writeSupplyAmount(whole, measure, units), measure, units)).toBe(whole);
      },
    ),
  );
});
