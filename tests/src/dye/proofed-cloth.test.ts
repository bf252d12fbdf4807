import { expect, it } from 'vitest';
import { FINISHES } from '../../../src/dye/cloth-finish.ts';
import { whyNotProofed } from '../../../src/dye/proofed-cloth.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { STRIP_METHODS, stripMethod, stripRecipe } from '../../../src/dye/strip.ts';

const COTTON = [{ fibre: 'cotton', shareBp: 10_000 }] as const;
const bathOf = (code: Parameters<typeof stripMethod>[0]) => stripRecipe(stripMethod(code), COTTON) as Recipe;

// Chlorine Institute chart: hypochlorite with ammonium salts gives explosive compounds. MIT 21M.735: stage cloth is proofed
// with ammonium sulphate.
it('refuses chlorine bleach on flame-proofed cloth, and on no other finish', () => {
  for (const finish of FINISHES) {
    const why = whyNotProofed(bathOf('hypochlorite'), { finishes: [finish] });
    expect(why !== '').toBe(finish === 'flame-retardant');
  }
  expect(whyNotProofed(bathOf('hypochlorite'), {})).toBe('');
});

it('refuses no other bath that strips', () => {
  const others = STRIP_METHODS.filter(({ code }) => code !== 'hypochlorite').flatMap(
    (method) => stripRecipe(method, COTTON) ?? [],
  );
  expect(others.length).toBeGreaterThan(3);
  for (const recipe of others) expect(whyNotProofed(recipe, { finishes: ['flame-retardant'] })).toBe('');
});
