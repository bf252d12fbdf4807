/** What to beware of with the cloths of a batch in one bath of a vessel. */
import type { CardVessel, LengthToDye, RecipeOfBatch } from './batch.ts';
import { creaseCare, isSheer } from './crease-care.ts';
import { dyeFor, type Warning } from './dye-advice.ts';
import { type Content, capital, type FibreCode, fibreOf } from './fibre.ts';
import { materialCaution } from './heater.ts';
import type { Recipe } from './recipe.ts';
import { checkRecipe } from './recipe-check.ts';

/** What to beware of with these cloths in one bath of this vessel, each said once. */
export function cardWarnings(
  { recipe, fibre }: Pick<RecipeOfBatch, 'recipe' | 'fibre'>,
  lengths: readonly LengthToDye[],
  vessel: CardVessel,
): Warning[] {
  const cloths = [...new Map(lengths.map(({ piece }) => [piece.cloth.id, piece.cloth])).values()];
  const found = cloths.flatMap(({ content, name, construction }) => {
    const warnings = [...checkRecipe(recipe, content).warnings, ...dyeFor(content).warnings];
    if (isSheer(construction)) warnings.push(...creaseCare(content, recipe));
    if (!content.some((share) => share.fibre === fibre)) {
      const text = `The recipe was made for ${fibreOf(fibre).name}; ${name} has none: dye a swatch first.`;
      warnings.push({ id: `other-fibre-${name}`, text, source: 'common practice' });
    }
    return warnings;
  });
  return eachOnce([
    ...dyedOver(lengths),
    ...found,
    ...mixedCloths(cloths),
    ...vesselWarnings(recipe, vessel),
  ]);
}

/** Dye over dye: what it can do and what it cannot, and that the recipe is counted anew. */
function dyedOver(lengths: readonly LengthToDye[]): Warning[] {
  const dyed = lengths.filter(({ piece }) => !piece.ground).map(({ piece }) => piece);
  if (dyed.length === 0) return [];
  const names = dyed
    .map(({ code, lotCode, shade }) => `${code} of lot ${lotCode} is ${shade.name}`)
    .join(', ');
  const text = `${capital(names)} already: dye over dye goes darker or to a mixed hue, never lighter. To bring a shade up, take a recipe with only what is missing, target less reached, and half of that first. Dye a swatch first.`;
  const warnings = [{ id: 'dyed-over', text, source: 'common practice' }];
  if (new Set(lengths.map(({ piece }) => piece.shade.id)).size > 1) {
    const mixed = 'Lengths of different shades in one bath stay different: a batch for each is surer.';
    warnings.push({ id: 'mixed-shades', text: mixed, source: 'common practice' });
  }
  return warnings;
}

/**
 * What to beware of with this bath in a vessel of a material; nothing where that is not said. A bath counts as acid below
 * pH 6.5 and as alkaline above 7.5 (common practice).
 */
export function vesselWarnings(recipe: Recipe, { material }: Pick<CardVessel, 'material'>): Warning[] {
  if (!material) return [];
  const pH = { acid: (recipe.pHFrom ?? 7) < 6.5, alkaline: (recipe.pHTo ?? 7) > 7.5 };
  const text = materialCaution(material, { ...pH, temperatureC: recipe.temperatureC });
  return text === '' ? [] : [{ id: 'material', text, source: 'common practice' }];
}

/** Each warning once, in the order in which they were first said. */
export function eachOnce(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((warning) => [warning.text, warning])).values()];
}

function mixedCloths(cloths: readonly { readonly name: string; readonly content: Content }[]): Warning[] {
  if (cloths.length < 2) return [];
  const fibres = new Set(cloths.flatMap(({ content }) => content.map(({ fibre }) => fibre)));
  const names = cloths.map(({ name }) => name).join(', ');
  const text = `${capital(names)} in one bath: cloths take dye unlike each other, so expect more than one shade. A batch for each is surer.`;
  const warnings: Warning[] = [{ id: 'mixed-cloths', text, source: 'common practice' }];
  if (fibres.has('nylon') && fibres.has('polyester')) {
    const together = dyeFor([
      { fibre: 'nylon', shareBp: 5000 },
      { fibre: 'polyester', shareBp: 5000 },
    ]);
    warnings.push(...together.warnings.filter(({ id }) => id === 'nylon-polyester'));
    const apart = (fibre: FibreCode) =>
      cloths
        .filter(({ content }) => content.some((share) => share.fibre === fibre))
        .map(({ name }) => name)
        .join(', ');
    const text = `Dye them in baths of their own: one batch for ${apart('nylon')}, another for ${apart('polyester')}.`;
    warnings.push({ id: 'nylon-polyester-apart', text, source: 'common practice' });
  }
  return warnings;
}
