/** The chemicals that meet in a bath, with their groups: what a recipe lists, what its class of dye takes, the vessel. */

import { type AuxiliaryKind, auxiliaryForm, groupsOf } from './auxiliaries.ts';
import type { Chemical, ChemicalGroup } from './chemical-group.ts';
import { DYE_CLASS_NAMES, type DyeClass } from './dye-class.ts';
import type { Material } from './heater.ts';
import { isLabelClass, labelClassFacts } from './label-class.ts';
import type { Dose } from './order-facts.ts';
import { bathAuxiliaries, type Recipe, type RecipeAuxiliary } from './recipe.ts';
import { SOLUTES } from './solutes.ts';

const DYE: Readonly<Record<DyeClass, readonly ChemicalGroup[]>> = {
  reactive: ['anionic', 'reactive-dye'],
  direct: ['anionic'],
  vat: ['anionic'],
  'acid-levelling': ['anionic'],
  'acid-milling': ['anionic'],
  'acid-metal-complex': ['anionic'],
  disperse: [],
  basic: ['cationic'],
};

/** What a class of dye cannot do without, whether or not a recipe lists it. */
const OWN: Partial<Record<DyeClass, readonly Chemical[]>> = {
  vat: [
    { name: 'the caustic soda of the vat', groups: ['caustic'] },
    { name: 'the hydrosulphite of the vat', groups: ['hydros'] },
  ],
};

/**
 * All that a recipe puts into its dye bath: its auxiliaries in their order, but for those of a bath after it, then the dye
 * and what its class takes and the recipe does not list.
 */
export function chemicalsOf(
  recipe: Pick<Recipe, 'auxiliaries' | 'dyeClass' | 'liquorRatioMilli'>,
): readonly Chemical[] {
  const { dyeClass, liquorRatioMilli } = recipe;
  const listed = chemicalsOfAuxiliaries(bathAuxiliaries(recipe), liquorRatioMilli);
  const own = ownOf(dyeClass).filter(
    ({ groups }) => !listed.some((each) => groups.every((group) => each.groups.includes(group))),
  );
  const groups = isLabelClass(dyeClass) ? labelClassFacts(dyeClass).groups : DYE[dyeClass];
  return [...listed, { name: DYE_CLASS_NAMES[dyeClass], groups }, ...own];
}

function ownOf(dyeClass: Recipe['dyeClass']): readonly Chemical[] {
  return isLabelClass(dyeClass) ? [] : (OWN[dyeClass] ?? []);
}

/** Auxiliaries as what they bring to a bath of that liquor ratio. */
export function chemicalsOfAuxiliaries(
  auxiliaries: readonly RecipeAuxiliary[],
  liquorRatioMilli: number,
): readonly Chemical[] {
  return auxiliaries.map((each) => asChemical(each, liquorRatioMilli));
}

/** An auxiliary with its dose as the pure substance, in mg in a litre of a bath of that liquor ratio. */
function asChemical(auxiliary: RecipeAuxiliary, liquorRatioMilli: number): Chemical {
  const { kind, form, name, stated } = auxiliary;
  const [part, whole] = (auxiliaryForm(kind, stated ?? form) ?? { pure: [1, 1] }).pure;
  // A thousandth of a percent on a kilogram is 10 mg.
  const mg =
    auxiliary.per === 'litre' ? auxiliary.mgPerLitre : (auxiliary.owfMilli * 10_000) / liquorRatioMilli;
  return { name, groups: groupsOf(kind, form) ?? [], ...asSolute(kind), mgPerLitre: (mg * part) / whole };
}

function asSolute(kind: AuxiliaryKind): Pick<Chemical, 'solute'> {
  const solute = SOLUTES[kind];
  return solute ? { solute } : {};
}

/** What a bath beside the dye bath takes. */
export function chemicalsOfDoses(doses: readonly Dose[]): readonly Chemical[] {
  return doses.map(chemicalOfDose);
}

/** Something that is dosed into a bath by itself. */
export function chemicalOfDose({ kind, form, name, mgPerLitre }: Dose): Chemical {
  const [part, whole] = (form === undefined ? undefined : auxiliaryForm(kind, form))?.pure ?? [1, 1];
  const groups = groupsOf(kind, form) ?? [];
  return { name, groups, ...asSolute(kind), mgPerLitre: (mgPerLitre * part) / whole };
}

const OF_MATERIAL: Readonly<Record<Material, readonly ChemicalGroup[]>> = {
  'stainless steel': ['stainless-steel'],
  'enamelled steel': [],
  aluminium: ['aluminium'],
  copper: ['copper'],
  glass: [],
  plastic: [],
};

/** A vessel as something that a bath meets. */
export function vesselAsChemical(material: Material): Chemical {
  return { name: `the vessel of ${material}`, groups: OF_MATERIAL[material] };
}
