/** What to beware of with the cloths of a batch in one bath of a vessel. */

import { afterBaths } from './after-baths.ts';
import type { CardVessel, LengthToDye, RecipeOfBatch } from './batch.ts';
import { chemicalsOf, chemicalsOfDoses, vesselAsChemical } from './bath-chemicals.ts';
import { blendRulesFor, blendStages, stageIn } from './blend-order.ts';
import type { Chemical } from './chemical-group.ts';
import {
  clashesBetween,
  clashesIn,
  type FoundClash,
  isRefused,
  sayBetween,
  sayClash,
  sayMeeting,
  sayOrder,
} from './clash.ts';
import { finishesFor } from './cloth-finish.ts';
import { creaseCare, isSheer } from './crease-care.ts';
import { dyeFor, type Warning } from './dye-advice.ts';
import { DYE_CLASS_NAMES, type RecipeClass } from './dye-class.ts';
import { type Content, capital, type FibreCode, fibreOf } from './fibre.ts';
import { type Material, materialCaution } from './heater.ts';
import { scourFor } from './order-facts.ts';
import { contentInBath, type Recipe } from './recipe.ts';
import { checkRecipe } from './recipe-check.ts';
import type { Water } from './water.ts';

/** A bath that the vessel or a piece was in before, told in a sentence. */
export interface BathBefore {
  readonly says: string;
  readonly chemicals: readonly Chemical[];
  /** the class of dye that cloth had in it; left out for what a vessel held */
  readonly dyed?: RecipeClass;
}

const NYLON_BOLTS: Warning = {
  id: 'nylon-bolts',
  text: 'Bolts of nylon net of different age came out in different colours by one recipe: promise no repeat across bolts, and try each bolt first.',
  source: 'UKIC Textile Section, on nylon net',
};

interface OfBath {
  readonly vessel: CardVessel;
  readonly before: readonly BathBefore[];
  readonly water: Water | null;
}

/** What to beware of with these cloths in one bath of this vessel, each said once. */
export function cardWarnings(
  { recipe, fibre }: Pick<RecipeOfBatch, 'recipe' | 'fibre'>,
  lengths: readonly LengthToDye[],
  { vessel, before, water }: OfBath,
): Warning[] {
  const cloths = [...new Map(lengths.map(({ piece }) => [piece.cloth.id, piece.cloth])).values()];
  const found = cloths.flatMap(({ content, name, construction, state }) => {
    const warnings = [
      ...finishesFor(state, content).map((told) => ({ ...told, text: `${capital(name)}: ${told.text}` })),
      ...checkRecipe(recipe, content, water).warnings,
      ...dyeFor(content).warnings,
    ];
    if (isSheer(construction)) warnings.push(...creaseCare(content, recipe));
    if (isSheer(construction) && content.some((share) => share.fibre === 'nylon')) warnings.push(NYLON_BOLTS);
    if (!content.some((share) => share.fibre === fibre)) {
      const text = `The recipe was made for ${fibreOf(fibre).name}; ${name} has none: dye a swatch first.`;
      warnings.push({ id: `other-fibre-${name}`, text, source: 'common practice' });
    }
    return warnings;
  });
  return eachOnce([
    ...(recipe.dyeClass === 'strip' ? [] : dyedOver(lengths)),
    ...found,
    ...mixedCloths(cloths),
    ...vesselWarnings(recipe, vessel),
    ...before.flatMap((each) => leftFrom(recipe, each)),
    ...cloths.flatMap(({ content }) => before.flatMap((each) => outOfOrder(recipe, content, each))),
    ...besideWarnings(
      recipe,
      contentInBath(
        cloths.flatMap(({ content }) => content),
        recipe,
      ),
      vessel,
    ),
  ]);
}

/** Dye over dye: what it can do and what it cannot, and that the recipe is counted anew. */
function dyedOver(lengths: readonly LengthToDye[]): Warning[] {
  const dyed = lengths.filter(({ piece }) => !piece.ground).map(({ piece }) => piece);
  if (dyed.length === 0) return [];
  const names = dyed
    .map(({ code, lotCode, shade }) => `${code} of lot ${lotCode} is ${shade.name}`)
    .join(', ');
  const text = `${capital(names)} already: overdyeing goes darker or to a mixed hue, never lighter. To bring a shade up, take a recipe with only what is missing, target less reached, and half of that first. Dye a swatch first.`;
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
  const met = clashesIn([...chemicalsOf(recipe), vesselAsChemical(material)]).filter(
    (found) => found.clash.action === 'warn' && found.other?.name === vesselAsChemical(material).name,
  );
  const warnings = met.map((found) => asWarning(`vessel-${found.clash.id}`, found, sayClash(found)));
  const pH = { acid: (recipe.pHFrom ?? 7) < 6.5, alkaline: (recipe.pHTo ?? 7) > 7.5 };
  const text = materialCaution(material, { ...pH, temperatureC: recipe.temperatureC });
  return text === '' ? warnings : [...warnings, { id: 'material', text, source: 'common practice' }];
}

/** The orders to keep in a bath, where no order of work tells them step by step. */
export function orderWarnings(recipe: Recipe): Warning[] {
  const met = clashesIn(chemicalsOf(recipe)).filter(({ clash }) => clash.action === 'order');
  return met.map((found) => asWarning(`order-${found.clash.id}`, found, sayOrder(found)));
}

/** Why a bath may not be made in a vessel of a material; '' where it may, or the material is not said. */
export function whyNotInVessel(recipe: Recipe, material: CardVessel['material']): string {
  return material ? sayMet(chemicalsOf(recipe), material) : '';
}

function sayMet(chemicals: readonly Chemical[], material: Material): string {
  const vessel = vesselAsChemical(material);
  const found = clashesIn([...chemicals, vessel]).find(
    (each) => isRefused(each) && each.other?.name === vessel.name,
  );
  return found ? sayClash(found) : '';
}

/** A blend that had a later dyeing already, such as acid dye on its nylon before the reactive dye of its cotton. */
function outOfOrder({ dyeClass }: Recipe, content: Content, { says, dyed }: BathBefore): Warning[] {
  const stages = blendStages(content);
  const [now, then] = [stageIn(stages, dyeClass), dyed === undefined ? -1 : stageIn(stages, dyed)];
  if (dyed === undefined || now < 0 || then <= now) return [];
  const rules = blendRulesFor(content);
  const why = rules.map((rule) => rule.why).join('; ');
  const text = `${says} Out of order: on this blend ${DYE_CLASS_NAMES[dyeClass]} comes before ${DYE_CLASS_NAMES[dyed]}${why === '' ? '' : `, because ${why}`}. Expect to lose some of what it has, and dye a swatch of it first.`;
  const source = rules.map(({ mark }) => mark.source).join('; ') || 'common practice';
  return [{ id: 'out-of-order', text, source }];
}

/** What must be out of the vessel or the cloth before this bath. */
function leftFrom(recipe: Recipe, { says, chemicals }: BathBefore): Warning[] {
  const [worst] = clashesBetween(chemicals, chemicalsOf(recipe)).filter(isRefused);
  if (!worst) return [];
  return [asWarning('bath-before', worst, `${says} ${sayBetween([worst])} Check before the first gram.`)];
}

/** What the scour and the clear do to the vessel, and what of the spent baths must not meet at the drain. */
function besideWarnings(recipe: Recipe, content: Content, { material }: CardVessel): Warning[] {
  const scour = chemicalsOfDoses(scourFor(content).doses);
  const after = afterBaths(recipe, content).map(({ doses }) => chemicalsOfDoses(doses));
  const eaten = material ? sayMet([...scour, ...after.flat()], material) : '';
  const baths = [scour, chemicalsOf(recipe), ...after];
  const spent = baths
    .flatMap((one, at) => baths.slice(at + 1).flatMap((other) => clashesBetween(one, other)))
    .find(isRefused);
  return [
    ...(eaten === ''
      ? []
      : [{ id: 'material-beside', text: `Scour and clear in another vessel: ${eaten}`, source: 'our rule' }]),
    ...(spent
      ? [
          asWarning(
            'drain',
            spent,
            `At the drain: let the spent baths go one after the other, with plenty of water between, never into one sink or pail together: ${sayMeeting(spent.one, spent.other)} gives ${spent.clash.harm}.`,
          ),
        ]
      : []),
  ];
}

function asWarning(id: string, { clash }: FoundClash, text: string): Warning {
  return { id, text, source: clash.mark.source };
}

/** Each warning once, in the order in which they were first said. */
export function eachOnce(warnings: readonly Warning[]): Warning[] {
  return [...new Map(warnings.map((warning) => [warning.text, warning])).values()];
}

function mixedCloths(cloths: readonly LengthToDye['piece']['cloth'][]): Warning[] {
  if (cloths.length < 2) return [];
  const fibres = new Set(cloths.flatMap(({ content }) => content.map(({ fibre }) => fibre)));
  const names = cloths.map(({ name }) => name).join(', ');
  const text = `${capital(names)} in one bath: cloths take dye unlike each other, so expect more than one shade. A batch for each is surer.`;
  const warnings: Warning[] = [{ id: 'mixed-cloths', text, source: 'common practice' }];
  const nylons = new Set(cloths.map(({ state }) => state.nylon ?? ''));
  if (nylons.has('6') && nylons.has('66')) {
    const text = 'Nylon 6 and nylon 66 in one bath: nylon 6 takes more of the dye. A batch for each.';
    warnings.push({ id: 'nylon-types', text, source: 'from memory' });
  }
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
