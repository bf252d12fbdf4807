import { readOwf } from '../../../src/dye/bench-figures.ts';
import type { Reader } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { readDyes } from '../dyes/store.ts';
import { labelInForce, type RecipeVersion } from '../label/store.ts';
import { offerFor, type SuggestedRecipe } from './offer.ts';

/** The offer for what is typed in a recipe form so far, by the maker's label where a dye of the list or the recipe has one. */
export function suggestFor(
  reader: Reader,
  typed: Typed,
  recipe: RecipeVersion | null = null,
): SuggestedRecipe {
  return offerFor(typed, labelInForce(reader, recipe, dyesOnList(reader, typed)));
}

/** The dyes of a form that are on the list, of the class that is asked for where one is. */
function dyesOnList(reader: Reader, typed: Typed) {
  const list = readDyes(reader);
  return Object.entries(typed).flatMap(([field, name]) => {
    const row = /^dyes\.(\d+)\.name$/.exec(field)?.[1];
    const dye = list.find((each) => each.name === name);
    if (row === undefined || !dye || (typed.dye_class && dye.dyeClass !== typed.dye_class)) return [];
    const owf = readOwf(typed[`dyes.${row}.owf`] ?? '');
    return [{ name: dye.name, owf_milli: owf.ok ? owf.value : 0, dye_id: dye.id }];
  });
}
