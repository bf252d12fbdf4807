/**
 * How large a bath sheer cloth wants. Sheer cloth is light, so that a liquor ratio by mass packs many square metres
 * into a litre: its bath is sized by area too, and the larger one is taken.
 */

import type { Provenance } from '../quantity/provenance.ts';
import type { Bath } from './bath.ts';
import { leastSheerRatioMilli } from './crease-care.ts';
import type { Warning } from './dye-advice.ts';
import type { Content } from './fibre.ts';
import { markOf, RECIPE_LIMITS, type Recipe } from './recipe.ts';

/** Sheer cloth that moves freely in a litre, in m²: our rule, since no published figure was found. */
export const FREE_M2_PER_LITRE = 1;
/** The largest bath that is still lifted by hand, in litres (our rule). */
export const LIFTED_LITRES = 80;

/** Cloth of one kind in a bath: its area over its whole width in mm², and its mass in mg. */
export interface ClothInBath {
  readonly sheer: boolean;
  readonly areaMm2: number;
  readonly massMg: number;
}

/** The liquor ratio of a bath, in thousandths, and who says so. */
export interface BathRatio {
  readonly ratioMilli: number;
  readonly mark: Provenance;
  readonly warnings: readonly Warning[];
}

/** Sheer cloth in a litre of a bath, in m²: 1000 ÷ (g/m² × litres a kilogram). */
export function m2PerLitre(massPerAreaMgM2: number, ratioMilli: number): number {
  return 1_000_000_000 / (massPerAreaMgM2 * ratioMilli);
}

/**
 * The ratio that a bath is made with. One that somebody asked for, the workroom's own or the label's stands, with a
 * warning where sheer cloth has too little room in it; an offered one is raised to what the cloth wants: by area, and
 * where folds would set by the least ratio of `creaseCare`.
 */
export function ratioFor(
  recipe: Pick<Recipe, 'liquorRatioMilli' | 'temperatureC' | 'marks'>,
  content: Content,
  cloths: readonly ClothInBath[],
  askedMilli: number | null = null,
): BathRatio {
  const byRecipe = { ratioMilli: recipe.liquorRatioMilli, mark: markOf(recipe, 'liquorRatioMilli') };
  const stands = askedMilli === null ? byRecipe : { ratioMilli: askedMilli, mark: ASKED };
  if (!cloths.some(({ sheer }) => sheer)) return { ...stands, warnings: [] };
  const free = freeRatioMilli(cloths, stands.ratioMilli);
  const least = leastSheerRatioMilli(content, recipe.temperatureC);
  const fixed = askedMilli !== null || ['label', 'own'].includes(stands.mark.basis);
  if (fixed) return { ...stands, warnings: free > stands.ratioMilli ? [tooTight(free, stands)] : [] };
  const ratioMilli = Math.min(
    Math.max(stands.ratioMilli, free, least),
    RECIPE_LIMITS.highestLiquorRatioMilli,
  );
  if (ratioMilli === stands.ratioMilli) return { ...stands, warnings: [] };
  const byArea = free >= least;
  const source = byArea
    ? `our rule: ${FREE_M2_PER_LITRE} m² of sheer cloth moves freely in a litre`
    : 'common practice for sheer cloth that creases when hot';
  return { ratioMilli, mark: { basis: byArea ? 'our rule' : 'common practice', source }, warnings: [] };
}

const ASKED: Provenance = { basis: 'own', source: 'this workroom' };

/**
 * The least ratio by which sheer cloth gets its litre to the square metre, the other cloth the bath that its mass asks
 * for; rounded up to a whole litre a kilogram.
 */
function freeRatioMilli(cloths: readonly ClothInBath[], ratioMilli: number): number {
  const massMg = cloths.reduce((sum, cloth) => sum + cloth.massMg, 0);
  if (massMg <= 0) return ratioMilli;
  const volumeUl = cloths.reduce((sum, cloth) => {
    const byMassUl = (cloth.massMg * ratioMilli) / 1000;
    // A square millimetre is to the microlitre what a square metre is to the litre.
    const byAreaUl = cloth.sheer ? cloth.areaMm2 / FREE_M2_PER_LITRE : 0;
    return sum + Math.max(byMassUl, byAreaUl);
  }, 0);
  const ratio = volumeUl / massMg;
  return Math.max(ratioMilli, Math.ceil(Math.round(ratio * 1000) / 1000) * 1000);
}

function tooTight(freeMilli: number, { ratioMilli }: { readonly ratioMilli: number }): Warning {
  const text = `At 1:${ratioMilli / 1000} this sheer cloth is packed: by its area it moves freely from 1:${freeMilli / 1000}, a litre to the square metre. Keep it moving by hand, or dye less at a time.`;
  return { id: 'sheer-bath', text, source: 'our rule; no published figure was found' };
}

/** A recipe as a bath is made by it: with another ratio than its own. */
export function withRatio(recipe: Recipe, { ratioMilli, mark }: BathRatio): Recipe {
  if (ratioMilli === recipe.liquorRatioMilli) return recipe;
  return { ...recipe, liquorRatioMilli: ratioMilli, marks: { ...recipe.marks, liquorRatioMilli: mark } };
}

/** What to know of the baths that sheer cloth is dyed in. */
export function sheerBathCare(baths: readonly Pick<Bath, 'volumeUl'>[]): readonly Warning[] {
  const covered = {
    id: 'sheer-covered',
    text: 'Whatever the ratio says, the liquor stands 5 cm over the sheer cloth in its vessel.',
    source: 'our rule',
  };
  const largestUl = Math.max(0, ...baths.map(({ volumeUl }) => volumeUl));
  if (largestUl <= LIFTED_LITRES * 1_000_000) return [covered];
  const text = `A bath of more than ${LIFTED_LITRES} L is not lifted by hand: share it over more baths, or dye in open width on a frame.`;
  return [covered, { id: 'bath-lifted', text, source: 'our rule' }];
}
