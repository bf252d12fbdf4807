/**
 * A recipe: what goes into a bath for each mass of cloth, and how it is worked.
 *
 * Dyes are given on weight of fabric (owf), auxiliaries by the litre of bath or on weight of fabric. Every figure
 * carries a mark that says whether it is published, common practice, from the maker's label or the workroom's own.
 */

import type { Provenance } from '../quantity/provenance.ts';
import { type AuxiliaryKind, massInForm } from './auxiliaries.ts';
import type { RecipeClass } from './dye-class.ts';
import type { Content, FibreCode } from './fibre.ts';
import type { Fixing } from './label-class.ts';
import type { MakerLabel } from './label-figures.ts';

/** `owfMilli` in thousandths of a percent on weight of fabric: 2 % is 2000. */
export interface RecipeDye {
  readonly name: string;
  readonly owfMilli: number;
}

/**
 * `mgPerLitre` of bath, or `owfMilli` in thousandths of a percent; for the named form of the auxiliary, or for the form
 * `stated`, which is turned into the named one exactly where it is weighed.
 */
export type RecipeAuxiliary = {
  readonly kind: AuxiliaryKind;
  readonly name: string;
  readonly form: string;
  readonly stated?: string;
} & (
  | { readonly per: 'litre'; readonly mgPerLitre: number }
  | { readonly per: 'cloth'; readonly owfMilli: number }
);

export interface Recipe {
  readonly dyeClass: RecipeClass;
  /** How the class is worked, such as "vinyl sulphone" or "at the boil, no carrier". */
  readonly method: string;
  readonly dyes: readonly RecipeDye[];
  readonly auxiliaries: readonly RecipeAuxiliary[];
  /** Litres of bath per kilogram of cloth, in thousandths: 1:20 is 20000. */
  readonly liquorRatioMilli: number;
  readonly temperatureC: number;
  readonly holdMinutes: number;
  /** Fibres of thread, trim, elastic or lining that are in the bath with the cloth: they count at any share. */
  readonly also?: readonly FibreCode[];
  readonly pHFrom?: number;
  readonly pHTo?: number;
  /** How fast the bath is heated and cooled, in thousandths of °C a minute, where it is not as usual (see ramp). */
  readonly heatRateMilli?: number;
  readonly coolRateMilli?: number;
  /** The maker's label that it is worked by, where one was entered. */
  readonly label?: MakerLabel;
  /** How a print, a paint or a transfer is fixed. */
  readonly fixing?: Fixing;
  /** Marks by figure: `liquorRatioMilli`, `temperatureC`, `holdMinutes`, `pH`, `rates`, `auxiliaries.<kind>`. */
  readonly marks: Readonly<Record<string, Provenance>>;
}

/** What goes into a bath of its own after the dye bath, and never into that. */
const AFTER_KINDS: readonly AuxiliaryKind[] = ['fixer', 'syntan'];
/** What a vat takes in the bath after it. */
const AFTER_A_VAT: readonly AuxiliaryKind[] = ['peroxide', 'perborate'];

/** Whether an auxiliary is for a bath after the dye bath: a fixing agent, or what turns a vat back into its colour. */
export function isAfterBath({ kind }: RecipeAuxiliary, { dyeClass }: Pick<Recipe, 'dyeClass'>): boolean {
  return AFTER_KINDS.includes(kind) || (dyeClass === 'vat' && AFTER_A_VAT.includes(kind));
}

/** What goes into the dye bath itself. */
export function bathAuxiliaries(
  recipe: Pick<Recipe, 'auxiliaries' | 'dyeClass'>,
): readonly RecipeAuxiliary[] {
  return recipe.auxiliaries.filter((each) => !isAfterBath(each, recipe));
}

/** All that is in the bath: the fibres of a cloth, and at no share of it those of what is sewn to it. */
export function contentInBath(content: Content, { also = [] }: Pick<Recipe, 'also'>): Content {
  const sewn = also.filter((fibre) => !content.some((share) => share.fibre === fibre));
  return [...content, ...sewn.map((fibre) => ({ fibre, shareBp: 0 }))];
}

/** A recipe in a bath with more fibres beside the cloth than it names itself. */
export function withAlso(recipe: Recipe, also: readonly FibreCode[]): Recipe {
  const all = [...new Set([...(recipe.also ?? []), ...also])];
  return all.length === 0 ? recipe : { ...recipe, also: all };
}

/** Limits of what a recipe may ask: guards against slips of the pen, not advice (common practice). */
export const RECIPE_LIMITS = {
  /** 20 % owf: even a black seldom passes 10 %. */
  dyeOwfMilli: 20_000,
  /** 100 % owf. */
  auxiliaryOwfMilli: 100_000,
  /** 200 g/L. */
  auxiliaryMgPerLitre: 200_000,
  /** Below 1:5 a bath in a pot no longer covers the cloth. */
  lowestLiquorRatioMilli: 5_000,
  /** A litre of paste or padding liquor to a kilogram, where nothing lies in a bath. */
  lowestPasteRatioMilli: 1_000,
  highestLiquorRatioMilli: 200_000,
  longestHoldMinutes: 24 * 60,
  /** An open bath gets no hotter. */
  boilC: 100,
} as const;

/** Figures to put in the place of a recipe's own; auxiliaries replace those of the same kind or are added. */
export type LabelFigures = Partial<
  Pick<Recipe, 'liquorRatioMilli' | 'temperatureC' | 'holdMinutes' | 'pHFrom' | 'pHTo' | 'auxiliaries'>
>;

/** A recipe with the figures of the maker's label in place of its own, marked as such. `label` names the label. */
export function withLabel(recipe: Recipe, figures: LabelFigures, label: string): Recipe {
  const mark: Provenance = { basis: 'label', source: label };
  const marks: Record<string, Provenance> = { ...recipe.marks };
  for (const key of ['liquorRatioMilli', 'temperatureC', 'holdMinutes'] as const) {
    if (figures[key] !== undefined) marks[key] = mark;
  }
  if (figures.pHFrom !== undefined || figures.pHTo !== undefined) marks.pH = mark;
  const given = figures.auxiliaries ?? [];
  for (const { kind } of given) marks[`auxiliaries.${kind}`] = mark;
  const kept = recipe.auxiliaries.filter(({ kind }) => !given.some((each) => each.kind === kind));
  return { ...recipe, ...figures, auxiliaries: [...kept, ...given], marks };
}

/** An auxiliary from one amount: mg per litre, or thousandths of a percent owf, by what it is given per. */
export function auxiliaryFrom(given: {
  readonly kind: AuxiliaryKind;
  readonly name: string;
  readonly form: string;
  readonly stated?: string;
  readonly per: 'litre' | 'cloth';
  readonly amount: number;
}): RecipeAuxiliary {
  const { per, amount, ...what } = given;
  return per === 'litre' ? { ...what, per, mgPerLitre: amount } : { ...what, per, owfMilli: amount };
}

/** The amount of an auxiliary, in mg per litre or thousandths of a percent owf by what it is given per. */
export function amountOf(auxiliary: RecipeAuxiliary): number {
  return auxiliary.per === 'litre' ? auxiliary.mgPerLitre : auxiliary.owfMilli;
}

/**
 * The same auxiliary given for another form of it, such as vinegar for glacial acetic acid.
 * Throws RangeError when there is no such form.
 */
export function inForm(auxiliary: RecipeAuxiliary, form: string): RecipeAuxiliary {
  const { kind, name, per } = auxiliary;
  return auxiliaryFrom({
    kind,
    name,
    form,
    per,
    amount: massInForm(kind, amountOf(auxiliary), auxiliary.form, form),
  });
}

/** The mark of one figure of a recipe; what nobody marked is the workroom's own. */
export function markOf(recipe: Pick<Recipe, 'marks'>, figure: string): Provenance {
  return recipe.marks[figure] ?? { basis: 'own', source: 'this workroom' };
}

/** All dyes of a recipe together, in thousandths of a percent owf. */
export function depthOwfMilli(recipe: Pick<Recipe, 'dyes'>): number {
  return recipe.dyes.reduce((sum, dye) => sum + dye.owfMilli, 0);
}
