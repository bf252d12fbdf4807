import { divideRounded, exactly, showDecimal } from '../quantity/figure-show.ts';
import type { Provenance } from '../quantity/provenance.ts';
import { grams } from './bath-sums.ts';

/** 100 × what the cloth took up ÷ what was put in. */
export const EXHAUSTION_MARK: Provenance = { basis: 'published', source: 'textileschool.com, article 28820' };

/**
 * How much of the dye went onto the cloth, in hundredths of a percent, from the dye put in and the dye left in the
 * liquor, both in mg: 80 g of 100 g taken up are 8000 (textileschool.com, article 28820). Rounded to the nearest.
 * Throws RangeError where nothing was put in, or more is left than that.
 */
export function exhaustionBp(appliedMg: number, leftMg: number): number {
  if (!(appliedMg > 0) || !(leftMg >= 0) || leftMg > appliedMg) {
    throw new RangeError('Dye left in the liquor is from nought to what was put in');
  }
  return Number(divideRounded(exactly(appliedMg - leftMg) * 10_000n, exactly(appliedMg), 'near'));
}

/** The same written so that it can be done again by hand: "(100 g − 20 g) ÷ 100 g = 80 %". */
export function sumOfExhaustion(appliedMg: number, leftMg: number): string {
  const [applied, left] = [grams(appliedMg), grams(leftMg)];
  return `(${applied} − ${left}) ÷ ${applied} = ${showDecimal(exactly(exhaustionBp(appliedMg, leftMg)), 2)} %`;
}
