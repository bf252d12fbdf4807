import { readOwf } from '../../../src/dye/bench-figures.ts';
import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { labelOfNamed, type RecipeVersion } from '../label/store.ts';
import { offerFor, type SuggestedRecipe } from './offer.ts';

/** The offer for what is typed in a recipe form so far, by the maker's label where a dye of the list or the recipe has one. */
export function suggestFor(
  reader: Reader,
  typed: Typed,
  recipe: RecipeVersion | null = null,
): SuggestedRecipe {
  return offerFor(typed, labelOfNamed(reader, namedIn(typed), typed.dye_class, recipe));
}

/** The dyes that a form names, with their depth as far as it can be read. */
function namedIn(typed: Typed) {
  return Object.entries(typed).flatMap(([field, name]) => {
    const row = /^dyes\.(\d+)\.name$/.exec(field)?.[1];
    if (row === undefined) return [];
    const owf = readOwf(typed[`dyes.${row}.owf`] ?? '');
    return [{ name, owfMilli: owf.ok ? owf.value : 0 }];
  });
}
