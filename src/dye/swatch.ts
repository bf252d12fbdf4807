/** A swatch dyed before the cloth: how much, and what its bath can and cannot tell of the bath in the pot. */

import type { Warning } from './dye-advice.ts';
import type { RecipeClass } from './dye-class.ts';

/** Below this a swatch tells little of the cloth, in mg: 5 g (our rule). */
export const USUAL_SWATCH_MG = 5_000;
/** The smallest that teaching laboratories dye, in mg: 2 g, in 40 mL at 1:20 (textilepad, February 2022). */
export const LEAST_SWATCH_MG = 2_000;

const TEXTILEPAD = 'textilepad, February 2022, polyester in the laboratory';
const OUR_RULE = 'our rule';

/** Dyes that lose most into a longer bath (dyeing supplement: reactive and direct most). */
const LOSES_YIELD: readonly RecipeClass[] = ['reactive', 'direct'];

/**
 * What to know of swatches of this mass in mg at a lab ratio, for cloth that is dyed at a bulk ratio (litres of bath per
 * kilogram, in thousandths).
 */
export function swatchWarnings(
  swatch: { readonly massMg: number; readonly labRatioMilli: number; readonly bulkRatioMilli: number },
  dyeClasses: readonly RecipeClass[],
): Warning[] {
  const { massMg, labRatioMilli, bulkRatioMilli } = swatch;
  const warnings: Warning[] = [];
  if (massMg < LEAST_SWATCH_MG) {
    const text =
      'Under 2 g is less than any laboratory was found to dye: the amounts cannot be measured well.';
    warnings.push({ id: 'tiny-swatch', text, source: TEXTILEPAD });
  } else if (massMg < USUAL_SWATCH_MG) {
    const text = 'A swatch of 5 g or more tells the cloth better than a small one.';
    warnings.push({ id: 'small-swatch', text, source: OUR_RULE });
  }
  if (labRatioMilli !== bulkRatioMilli) warnings.push(ratioWarning(swatch, dyeClasses));
  const loose =
    'A loose swatch dyes more evenly than cloth that lies in folds: the pot comes out paler at its folds. Use the same bolt and the same water.';
  warnings.push({ id: 'loose-swatch', text: loose, source: 'common practice' });
  return warnings;
}

function ratioWarning(
  { labRatioMilli, bulkRatioMilli }: { readonly labRatioMilli: number; readonly bulkRatioMilli: number },
  dyeClasses: readonly RecipeClass[],
): Warning {
  const longer = labRatioMilli > bulkRatioMilli;
  const loses = dyeClasses.some((dyeClass) => LOSES_YIELD.includes(dyeClass));
  const direction = longer
    ? `Expect the pot to come out deeper than the swatch${loses ? ', and a good deal so with this dye' : ''}.`
    : `Expect the pot to come out paler than the swatch${loses ? ', and to want more salt' : ''}.`;
  const text = `The swatch has another liquor ratio than the pot. Only at the same ratio do grams a litre and percent on weight of fabric both match. ${direction}`;
  return { id: 'lab-ratio', text, source: 'common practice' };
}

/**
 * The side of a square of cloth of so many milligrams, in ticks of 1/160 mm, rounded up. Throws RangeError unless both
 * figures are above 0.
 */
export function swatchSideTicks(massMg: number, massPerAreaMgM2: number): number {
  if (!(massMg > 0 && massPerAreaMgM2 > 0)) throw new RangeError('A swatch and its cloth weigh something');
  return Math.ceil(Math.sqrt(massMg / massPerAreaMgM2) * 160_000);
}
