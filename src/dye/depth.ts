/** A recipe at other depths: all its dyes together are the depth, in thousandths of a percent on weight of fabric. */

import { apportion } from '../quantity/money.ts';
import type { Provenance } from '../quantity/provenance.ts';
import type { FibreCode } from './fibre.ts';
import { isLabelClass } from './label-class.ts';
import { dosedByLabel } from './maker-label.ts';
import {
  amountOf,
  depthOwfMilli,
  markOf,
  type Recipe,
  type RecipeAuxiliary,
  type RecipeDye,
} from './recipe.ts';
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
 * dye, goes to what is offered for the new one, and falls out or comes in with the offer, as a syntan does for pale and
 * deep shades. The label that it is worked by doses for the new depth too. The workroom's own figures stay.
 */
export function withDyes(recipe: Recipe, fibre: FibreCode, dyes: readonly RecipeDye[]): Recipe {
  const { dyeClass, method, marks } = recipe;
  // Nothing is offered for what is worked by its label.
  const offeredFor = (of: readonly RecipeDye[]) =>
    isLabelClass(dyeClass) ? undefined : starterRecipe([{ fibre, shareBp: 10_000 }], dyeClass, of, method);
  const [before, after] = [offeredFor(recipe.dyes), offeredFor(dyes)];
  if (!before || !after) return dosedByLabel({ ...recipe, dyes });
  const changed: Record<string, Provenance> = {};
  const ofKind = (of: Recipe, wanted: RecipeAuxiliary) =>
    of.auxiliaries.find(({ kind }) => kind === wanted.kind);
  const kept = recipe.auxiliaries.flatMap((auxiliary) => {
    if (!before.auxiliaries.some((each) => isSame(each, auxiliary))) return [auxiliary];
    const next = ofKind(after, auxiliary);
    if (next) changed[`auxiliaries.${next.kind}`] = markOf(after, `auxiliaries.${next.kind}`);
    return next ? [{ ...next, name: auxiliary.name }] : [];
  });
  const added = after.auxiliaries.filter((each) => !ofKind(before, each) && !ofKind(recipe, each));
  for (const { kind } of added) changed[`auxiliaries.${kind}`] = markOf(after, `auxiliaries.${kind}`);
  return dosedByLabel({
    ...recipe,
    dyes,
    auxiliaries: [...kept, ...added],
    marks: { ...marks, ...changed },
  });
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
