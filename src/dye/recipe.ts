/**
 * A recipe: what goes into a bath for each mass of cloth, and how it is worked.
 *
 * Dyes are given on weight of fabric (owf), auxiliaries by the litre of bath or on weight of fabric. Every figure
 * carries a mark that says whether it is published, common practice, from the maker's label or the workroom's own.
 */

import type { Provenance } from '../quantity/provenance.ts';
import {
  AUXILIARY_KINDS,
  type AuxiliaryKind,
  auxiliaryForm,
  auxiliaryOf,
  massInForm,
} from './auxiliaries.ts';
import { verdictOn, type Warning } from './dye-advice.ts';
import { affinity, DYE_CLASS_NAMES, DYE_CLASSES, type DyeClass } from './dye-class.ts';
import { conditionsFor } from './dye-conditions.ts';
import { heatLimitFor } from './dye-facts.ts';
import { type Content, type ContentProblem, capital, fibreOf } from './fibre.ts';

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
  readonly dyeClass: DyeClass;
  /** How the class is worked, such as "vinyl sulphone" or "at the boil, no carrier". */
  readonly method: string;
  readonly dyes: readonly RecipeDye[];
  readonly auxiliaries: readonly RecipeAuxiliary[];
  /** Litres of bath per kilogram of cloth, in thousandths: 20:1 is 20000. */
  readonly liquorRatioMilli: number;
  readonly temperatureC: number;
  readonly holdMinutes: number;
  readonly pHFrom?: number;
  readonly pHTo?: number;
  /** How fast the bath is heated and cooled, in thousandths of °C a minute, where it is not as usual (see ramp). */
  readonly heatRateMilli?: number;
  readonly coolRateMilli?: number;
  /** Marks by figure: `liquorRatioMilli`, `temperatureC`, `holdMinutes`, `pH`, `rates`, `auxiliaries.<kind>`. */
  readonly marks: Readonly<Record<string, Provenance>>;
}

/** Limits of what a recipe may ask: guards against slips of the pen, not advice (common practice). */
export const RECIPE_LIMITS = {
  /** 20 % owf: even a black seldom passes 10 %. */
  dyeOwfMilli: 20_000,
  /** 100 % owf. */
  auxiliaryOwfMilli: 100_000,
  /** 200 g/L. */
  auxiliaryMgPerLitre: 200_000,
  /** Below 5:1 a bath in a pot no longer covers the cloth. */
  lowestLiquorRatioMilli: 5_000,
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
export function markOf(recipe: Recipe, figure: string): Provenance {
  return recipe.marks[figure] ?? { basis: 'own', source: 'this workroom' };
}

/** All dyes of a recipe together, in thousandths of a percent owf. */
export function depthOwfMilli(recipe: Pick<Recipe, 'dyes'>): number {
  return recipe.dyes.reduce((sum, dye) => sum + dye.owfMilli, 0);
}

/**
 * Everything wrong with a recipe for a cloth of this content, all at once, and what to beware of.
 *
 * Fields: `dyeClass`, `dyes`, `dyes.<row>.name`, `dyes.<row>.owfMilli`, `auxiliaries.<row>.kind`, `.form`,
 * `.mgPerLitre`, `.owfMilli`, `liquorRatioMilli`, `temperatureC`, `holdMinutes`, `pH`; rows from 0.
 */
export function checkRecipe(
  recipe: Recipe,
  content: Content,
): { readonly problems: readonly ContentProblem[]; readonly warnings: readonly Warning[] } {
  const problems = [
    ...checkClass(recipe.dyeClass, content),
    ...checkDyes(recipe.dyes),
    ...recipe.auxiliaries.flatMap(checkAuxiliary),
    ...checkBath(recipe),
    ...checkHeat(recipe, content),
  ];
  return { problems, warnings: warningsOf(recipe, content) };
}

function checkClass(dyeClass: DyeClass, content: Content): readonly ContentProblem[] {
  if (!DYE_CLASSES.includes(dyeClass)) return [{ field: 'dyeClass', message: 'Choose a class of dye.' }];
  const { verdict, reasons } = verdictOn(content, dyeClass);
  if (verdict === 'dyes' || verdict === 'partly') return [];
  return [{ field: 'dyeClass', message: reasons.join(' ') }];
}

function checkDyes(dyes: readonly RecipeDye[]): readonly ContentProblem[] {
  if (dyes.length === 0) return [{ field: 'dyes', message: 'Give at least one dye.' }];
  const most = RECIPE_LIMITS.dyeOwfMilli;
  const problems: ContentProblem[] = [];
  dyes.forEach(({ name, owfMilli }, row) => {
    if (name.trim() === '') problems.push({ field: `dyes.${row}.name`, message: 'Name the dye.' });
    if (!Number.isInteger(owfMilli) || owfMilli <= 0 || owfMilli > most) {
      const message = `Dye is given from 0.001 to ${most / 1000} % on weight of fabric; 2 to 4 % is already dark.`;
      problems.push({ field: `dyes.${row}.owfMilli`, message });
    }
  });
  const sum = depthOwfMilli({ dyes });
  if (problems.length === 0 && sum > most) {
    const message = `The dyes together make ${sum / 1000} %: no cloth takes more than ${most / 1000} %.`;
    problems.push({ field: 'dyes', message });
  }
  return problems;
}

function checkAuxiliary(auxiliary: RecipeAuxiliary, row: number): readonly ContentProblem[] {
  const field = `auxiliaries.${row}`;
  if (!AUXILIARY_KINDS.includes(auxiliary.kind)) {
    return [{ field: `${field}.kind`, message: 'Choose an auxiliary from the list.' }];
  }
  const problems: ContentProblem[] = [];
  if (!auxiliaryForm(auxiliary.kind, auxiliary.form)) {
    const names = auxiliaryOf(auxiliary.kind).forms.map((form) => form.name);
    problems.push({
      field: `${field}.form`,
      message: `Say which form the label names: ${names.join(', ')}.`,
    });
  }
  const amount = amountOf(auxiliary);
  const [key, most, unit] =
    auxiliary.per === 'litre'
      ? (['mgPerLitre', RECIPE_LIMITS.auxiliaryMgPerLitre, 'g/L'] as const)
      : (['owfMilli', RECIPE_LIMITS.auxiliaryOwfMilli, '% owf'] as const);
  if (!Number.isInteger(amount) || amount <= 0 || ofItsForm(auxiliary) > most) {
    const message = `An auxiliary is given from 0.001 to ${most / 1000} ${unit}.`;
    problems.push({ field: `${field}.${key}`, message });
  }
  return problems;
}

/** The amount of the form that goes in, to a thousandth; the amount itself where it is for no other that is sold. */
function ofItsForm(auxiliary: RecipeAuxiliary): number {
  const { kind, form, stated } = auxiliary;
  const amount = amountOf(auxiliary);
  const known = stated !== undefined && auxiliaryForm(kind, form) && auxiliaryForm(kind, stated);
  return known ? massInForm(kind, amount, stated, form) : amount;
}

function checkBath(recipe: Recipe): readonly ContentProblem[] {
  const { lowestLiquorRatioMilli: low, highestLiquorRatioMilli: high, longestHoldMinutes } = RECIPE_LIMITS;
  const problems: ContentProblem[] = [];
  const ratio = recipe.liquorRatioMilli;
  if (!Number.isInteger(ratio) || ratio < low) {
    const message = `Less than ${low / 1000} L of bath to a kilogram does not cover the cloth.`;
    problems.push({ field: 'liquorRatioMilli', message });
  } else if (ratio > high) {
    const message = `More than ${high / 1000} L of bath to a kilogram leaves hardly any dye on the cloth.`;
    problems.push({ field: 'liquorRatioMilli', message });
  }
  const minutes = recipe.holdMinutes;
  if (!Number.isInteger(minutes) || minutes < 1 || minutes > longestHoldMinutes) {
    problems.push({
      field: 'holdMinutes',
      message: 'Hold the heat for 1 minute to 24 hours, in whole minutes.',
    });
  }
  const from = recipe.pHFrom ?? recipe.pHTo ?? 7;
  const to = recipe.pHTo ?? from;
  if (!(from >= 0 && to <= 14 && from <= to)) {
    problems.push({ field: 'pH', message: 'pH runs from 0 to 14, the lower figure first.' });
  }
  return problems;
}

/** Heat: below what water allows, and within what the most delicate fibre stands. */
function checkHeat(recipe: Recipe, content: Content): readonly ContentProblem[] {
  const { temperatureC } = recipe;
  const field = 'temperatureC';
  if (!(temperatureC >= 5)) return [{ field, message: 'Give the temperature of the bath, from 5 °C.' }];
  if (temperatureC > RECIPE_LIMITS.boilC) {
    const message =
      'An open bath gets no hotter than 100 °C. Above that is pressure work for a commission dyer; never seal a pot.';
    return [{ field, message }];
  }
  const limit = heatLimitFor(content);
  const byLabel = markOf(recipe, field).basis === 'label';
  const mostC = byLabel ? limit.neverC : limit.limitC;
  if (temperatureC <= mostC) return [];
  const way = !byLabel && limit.neverC > mostC ? ` Up to ${limit.neverC} °C where the label says so.` : '';
  const message = `${capital(fibreOf(limit.fibre).name)} is dyed at ${mostC} °C at most: ${limit.why}.${way}`;
  return [{ field, message }];
}

function warningsOf(recipe: Recipe, content: Content): readonly Warning[] {
  const { dyeClass, temperatureC, liquorRatioMilli } = recipe;
  const heatByLabel = markOf(recipe, 'temperatureC').basis === 'label';
  const warnings: Warning[] = [];
  const warn = (id: string, text: string, source = 'common practice'): void => {
    warnings.push({ id, text, source });
  };
  for (const { fibre } of content) {
    const { take, note, mark } = affinity(fibre, dyeClass);
    const name = capital(fibreOf(fibre).name);
    const dye = DYE_CLASS_NAMES[dyeClass];
    if (take === 'dyes' && note) warn(`note-${fibre}`, `${name} takes ${dye}: ${note}.`, mark.source);
    if (take !== 'dyes') warn(`left-${fibre}`, `${name} is left pale, stained or white by ${dye}.`);
    const open = conditionsFor(fibre, dyeClass).filter(({ vessel }) => vessel === 'open');
    const named = open.filter(({ method }) => method === recipe.method);
    const ways = named.length > 0 ? named : open;
    const worked = ways.some(
      (way) => way.temperatureC[0] <= temperatureC && temperatureC <= way.temperatureC[1],
    );
    if (ways.length > 0 && !worked) {
      const range = ways
        .map((way) => way.temperatureC.join(' to '))
        .filter((each, at, all) => all.indexOf(each) === at);
      const by = named.length < open.length && named.length > 0 ? ` (${recipe.method})` : '';
      const text = `${name} is worked with ${dye}${by} at ${range.join(', ')} °C.`;
      warn(`heat-${fibre}`, text, ways[0]?.mark.source);
    }
    if (dyeClass === 'reactive' && open.length > 1 && named.length === 0 && !heatByLabel) {
      const groups = open.map((way) => `${way.method} ${way.temperatureC.join(' to ')} °C`).join(', ');
      const text = `The reactive group is not named: heat and alkali depend on it (${groups}). Take them from the label.`;
      warn('reactive-group', text, open[0]?.mark.source);
    }
  }
  if (liquorRatioMilli >= RECIPE_LIMITS.lowestLiquorRatioMilli && liquorRatioMilli < 20_000) {
    warn('liquor-ratio', 'Below 20:1 cloth lies in folds: sheer cloth is better at 30:1 to 40:1.');
  }
  return warnings;
}
