import type { AuxiliaryKind } from '../../../src/dye/auxiliaries.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { Recipe, RecipeAuxiliary } from '../../../src/dye/recipe.ts';

export const aux = (kind: AuxiliaryKind, form: string, mgPerLitre: number): RecipeAuxiliary => ({
  kind,
  name: kind,
  form,
  per: 'litre',
  mgPerLitre,
});

/** A recipe with nothing in it but these, at a heat. */
export const recipe = (
  dyeClass: DyeClass,
  temperatureC: number,
  ...auxiliaries: RecipeAuxiliary[]
): Recipe => ({
  dyeClass,
  method: '',
  dyes: [{ name: 'Demo', owfMilli: 1000 }],
  auxiliaries,
  liquorRatioMilli: 20_000,
  temperatureC,
  holdMinutes: 45,
  marks: {},
});
