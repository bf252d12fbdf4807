import { expect, it } from 'vitest';
import { IMPERIAL, METRIC } from '../../../src/quantity/length-show.ts';
import { showUnitPrice } from '../../../src/supply/unit-price.ts';

// By hand: 8.40 for 100 g are 84.00 a kilogram; 6.20 for 5000 m are 0.124 per 100 m; 9.60 for 48 are 0.20 a piece;
// 30.00 for 1000 are 3.00 per 100; 3.00 for 10,000 are 0.30 per 1000.
it.each([
  [840, 100_000, 'mass', METRIC, '€84.00 a kilogram'],
  [450, 5_000_000, 'volume', METRIC, '€0.90 a litre'],
  [620, 800_000_000, 'length', METRIC, '€0.12 per 100 m'],
  [2250, 4_000_000, 'length', METRIC, '€0.90 a metre'],
  [2250, 3_657_600, 'length', IMPERIAL, '€0.90 a yard'],
  [960, 48, 'count', METRIC, '€0.20 a piece'],
  [3000, 1000, 'count', METRIC, '€3.00 per 100 pieces'],
  [300, 10_000, 'count', METRIC, '€0.30 per 1000 pieces'],
] as const)('%i for %i of a %s', (priceMinor, amount, measure, units, said) => {
  expect(showUnitPrice(priceMinor, amount, measure, 'EUR', units)).toBe(said);
});
