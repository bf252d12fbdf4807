import { isLabelClass } from '../../../src/dye/label-class.ts';
import { STRIP_METHODS } from '../../../src/dye/strip.ts';
import { conflict } from '../../refusal.ts';
import { recipePath, type StoredRecipe } from './store.ts';

/** The forms of a recipe that is worked by its label: a new one, its next version, and a copy. */
export const BY_LABEL = '/dye-bench/recipes/by-label/new';
export const byLabelVersionPath = (id: number) => `${recipePath(id)}/by-label`;

export function isByLabel({ recipe }: Pick<StoredRecipe, 'recipe'>): boolean {
  return isLabelClass(recipe.dyeClass);
}

/** The product and its label's own words, where a recipe is worked by them; null where it is not, as a published way of stripping. */
export function labelWords(stored: StoredRecipe): { readonly product: string; readonly says: string } | null {
  const { method } = stored.recipe;
  const isPublished = STRIP_METHODS.some(({ name }) => name === method);
  return isByLabel(stored) && !isPublished ? { product: method, says: stored.note } : null;
}

/** A recipe by its label is written in a form of its own. @throws {Refusal} conflict */
export function refuseByLabel(stored: StoredRecipe): void {
  if (!isByLabel(stored)) return;
  throw conflict(`${stored.name} is worked by its label: it is changed and copied in the form for that.`, {
    text: 'To that form',
    href: byLabelVersionPath(stored.id),
  });
}
