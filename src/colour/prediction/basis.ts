/** What a predictor is made from, in plain figures that can be kept and sent. */

import type { DyedSwatch } from './dye-model.ts';
import { type DyesAtHand, type FirstRecipe, firstRecipes, type WantedShade } from './first-recipes.ts';
import type { SwatchSet } from './known-swatches.ts';
import { carriedTo } from './other-cloth.ts';
import { type FittedSet, fitSet, predictorOf, type ShadePredictor } from './predictor.ts';

/** Swatches that are learned from, and those of another cloth that what was learned is carried to, if any. */
export interface PredictionBasis {
  readonly from: SwatchSet;
  readonly onto: readonly DyedSwatch[] | null;
}

/** What takes tens of milliseconds and more; a page that shows it has it worked out elsewhere. */
export interface PredictionTask {
  readonly basis: PredictionBasis;
  /** what was fitted of the same basis before */
  readonly fitted: FittedSet | null;
  /** null where no recipes are looked for */
  readonly search: RecipeSearch | null;
}

export interface RecipeSearch {
  readonly wanted: WantedShade;
  readonly hand: DyesAtHand;
  /** at most so many recipes */
  readonly count: number;
}

export interface PredictionDone {
  readonly fitted: FittedSet;
  /** empty where none were looked for */
  readonly recipes: readonly FirstRecipe[];
}

/** Fits and searches. Throws RangeError where an undyed swatch or one of each dye alone is missing. */
export function workOutPrediction({ basis, fitted, search }: PredictionTask): PredictionDone {
  const { swatches, dyes, observer } = basis.from;
  const known = fitted ?? fitSet(swatches, dyes.length, observer);
  const recipes = search
    ? firstRecipes(predictorFrom(basis, known), search.wanted, search.hand, search.count)
    : [];
  return { fitted: known, recipes };
}

/** The predictor of a basis that was fitted: a few milliseconds. */
export function predictorFrom({ from, onto }: PredictionBasis, fitted: FittedSet): ShadePredictor {
  const own = predictorOf(from.swatches, fitted);
  return onto ? carriedTo(own, onto) : own;
}
