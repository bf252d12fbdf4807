import type { Reader } from '../../database/book.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import type { Page } from '../../web/page-frame.ts';
import { filledIn } from '../numbered-rows.ts';
import { newRecipeForm } from './form.ts';
import { fillIn, offerFor } from './offer.ts';
import { readRecipe, recipePath } from './store.ts';

/** Blank rows that are added where more are asked for. */
const MORE_ROWS = 4;

/**
 * The form for a new recipe. Opened with a fibre (`?fibre=nylon&dye_class=…&depth=…`), it is filled in with the
 * figures offered for it; with `keep` too, or sent and refused, it keeps what was typed.
 */
export function newRecipePage(reader: Reader, typed: Typed, opened: 'asked' | 'refused') {
  const offers = opened === 'asked' && typed.keep === undefined;
  const shown = offers ? fillIn(typed, offerFor(typed)) : typed;
  return recipeFormPage(reader, shown, {
    title: 'New recipe',
    action: '/dye-bench/recipes/new',
    follows: null,
  });
}

/** The form for the next version of a recipe, with the figures of this one until others are asked for. */
export function versionPage(reader: Reader, recipeId: number, typed: Typed, opened: 'asked' | 'refused') {
  const recipe = readRecipe(reader, recipeId);
  const asked = typed.fibre === undefined ? recipe.typed : fillIn(typed, offerFor(typed));
  const offers = opened === 'asked' && typed.keep === undefined;
  const href = recipePath(recipe.id);
  return recipeFormPage(reader, offers ? asked : typed, {
    title: `New version of ${recipe.name}`,
    action: `${href}/versions/new`,
    follows: { name: recipe.name, version: recipe.version, href },
  });
}

export function recipeFormPage(
  reader: Reader,
  typed: Typed,
  form: {
    readonly title: string;
    /** where the form is sent, and where it is asked for offered figures */
    readonly action: string;
    /** the version that the new one follows; null for a new recipe */
    readonly follows: { readonly name: string; readonly version: number; readonly href: string } | null;
  },
) {
  const { hints, notes } = offerFor(typed);
  const { title, ...shown } = form;
  const filled: Typed = { depth: 'medium', ...filledIn(typed) };
  const more = (list: string) => ({ [list]: countTyped(filled, list) + MORE_ROWS });
  const data = {
    requestKey: mintKey(),
    ...shown,
    fields: drawFields(
      newRecipeForm(reader, typed).shape,
      filled,
      typed.keep === undefined ? {} : { ...more('dyes'), ...more('auxiliaries') },
    ),
    /** what is offered for the lists and where it comes from; '' where nothing is */
    hints: { dyes: hints.dyes ?? '', auxiliaries: hints.auxiliaries ?? '' },
    notes,
  };
  return { view: 'dye-bench/recipe/form', data, title, room: 'dye-bench' } satisfies Page;
}
