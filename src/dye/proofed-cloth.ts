/** Cloth that is proofed against fire, and the baths that it may not meet before it is rinsed. */

import { chemicalsOf } from './bath-chemicals.ts';
import type { ClothState } from './cloth-finish.ts';
import type { Recipe } from './recipe.ts';

/**
 * Why proofed cloth may not go into the bath of a recipe; '' where it may. Cloth for the stage is proofed with ammonium salts
 * (MIT 21M.735, note on flame retarding), and those with chlorine bleach give explosive compounds (Chlorine Institute chart).
 */
export function whyNotProofed(recipe: Recipe, { finishes = [] }: ClothState): string {
  const bleached = chemicalsOf(recipe).some(({ groups }) => groups.includes('hypochlorite'));
  return bleached && finishes.includes('flame-retardant')
    ? 'Chlorine bleach gives explosive compounds with the ammonium salts that cloth is flame-proofed with. Rinse it well, take the finish off at the cloth, and then bleach it.'
    : '';
}
