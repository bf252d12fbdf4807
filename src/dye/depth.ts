/** A recipe at other depths: all its dyes together are the depth, in thousandths of a percent on weight of fabric. */

import { apportion } from '../quantity/money.ts';
import type { FibreCode } from './fibre.ts';
import { isLabelClass } from './label-class.ts';
import { amountOf, depthOwfMilli, type Recipe, type RecipeAuxiliary, type RecipeDye } from './recipe.ts';
import { starterRecipe } from './starter-recipe.ts';

/**
 * Dyes in the proportions given, together exactly `depth`, in thousandths of a percent. A dye of which less than a
 * thousandth would be left falls out. Throws RangeError where the dyes weigh nothing.
 */
export function dyesAtDepth(
  proportions: readonly { readonly name: string; readonly weight: number }[],
  depth: number,
): RecipeDye[] {
  const shares = apportion(
    depth,
    proportions.map(({ weight }) => weight),
  );
  return proportions.flatMap(({ name }, at) => {
    const owfMilli = shares[at] ?? 0;
    return owfMilli > 0 ? [{ name, owfMilli }] : [];
  });
}

/**
 * The recipe with other dyes. An auxiliary that stands as it is offered for the old depth, such as the salt of a reactive
 * dye, goes to what is offered for the new one; the workroom's own figures and those of a label stay.
 */
export function withDyes(recipe: Recipe, fibre: FibreCode, dyes: readonly RecipeDye[]): Recipe {
  const content = [{ fibre, shareBp: 10_000 }];
  const { dyeClass, method } = recipe;
  // Nothing is offered for what is worked by its label.
  const offeredFor = (of: readonly RecipeDye[]) =>
    isLabelClass(dyeClass) ? [] : (starterRecipe(content, dyeClass, of, method)?.auxiliaries ?? []);
  const [before, after] = [offeredFor(recipe.dyes), offeredFor(dyes)];
  const auxiliaries = recipe.auxiliaries.map((auxiliary) => {
    const offered = before.some((each) => isSame(each, auxiliary));
    const next = after.find(({ kind, form }) => kind === auxiliary.kind && form === auxiliary.form);
    return offered && next && next.per === auxiliary.per ? { ...next, name: auxiliary.name } : auxiliary;
  });
  return { ...recipe, dyes, auxiliaries };
}

function isSame(one: RecipeAuxiliary, other: RecipeAuxiliary): boolean {
  return (
    one.kind === other.kind &&
    one.form === other.form &&
    one.per === other.per &&
    amountOf(one) === amountOf(other)
  );
}

/** The same recipe paler or deeper, its dyes in proportion. */
export function atDepth(recipe: Recipe, fibre: FibreCode, depth: number): Recipe {
  if (depth === depthOwfMilli(recipe)) return recipe;
  const proportions = recipe.dyes.map(({ name, owfMilli }) => ({ name, weight: owfMilli }));
  return withDyes(recipe, fibre, dyesAtDepth(proportions, depth));
}
