import type { Content } from '../../../src/dye/fibre.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import type { Reader } from '../../database/book.ts';
import { readWater } from '../../setup/water/store.ts';

/** What is wrong with a recipe for a cloth, and what to beware of with it, in this workroom's water. */
export function checkInWater(
  reader: Reader,
  recipe: Recipe,
  content: Content,
): ReturnType<typeof checkRecipe> {
  return checkRecipe(recipe, content, readWater(reader));
}
