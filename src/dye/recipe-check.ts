/** What is wrong with a recipe for a cloth, and what to beware of with it. */

import type { Provenance } from '../quantity/provenance.ts';
import { donorWarnings } from './acid-donors.ts';
import { afterBaths } from './after-baths.ts';
import {
  AUXILIARY_KINDS,
  auxiliaryForm,
  auxiliaryOf,
  groupsOf,
  massInForm,
  nameOfForm,
} from './auxiliaries.ts';
import { chemicalsOf, chemicalsOfDoses } from './bath-chemicals.ts';
import { type Chemical, groupToldBy } from './chemical-group.ts';
import { clashesIn, isRefused, sayClash } from './clash.ts';
import { verdictOn, type Warning } from './dye-advice.ts';
import { affinity, DYE_CLASS_NAMES, RECIPE_CLASSES, type RecipeClass } from './dye-class.ts';
import { conditionsFor } from './dye-conditions.ts';
import { heatLimitFor, TINT_OWF_MILLI } from './dye-facts.ts';
import { type Content, type ContentProblem, capital, fibreOf } from './fibre.ts';
import { type BathOnFibre, type FibreLimit, limitsPassed, type PassedLimit } from './fibre-limits.ts';
import { checkFixing, isLabelClass, labelWarnings, liesInBath } from './label-class.ts';
import {
  amountOf,
  bathAuxiliaries,
  contentInBath,
  depthOwfMilli,
  markOf,
  RECIPE_LIMITS,
  type Recipe,
  type RecipeAuxiliary,
  type RecipeDye,
} from './recipe.ts';
import { recipeAdvice } from './recipe-advice.ts';
import { checkVat } from './vat.ts';
import type { Water } from './water.ts';

/**
 * Everything wrong with a recipe for a cloth of this content, all at once, and what to beware of.
 *
 * Fields: `dyeClass`, `dyes`, `dyes.<row>.name`, `dyes.<row>.owfMilli`, `auxiliaries.<row>.kind`, `.form`,
 * `.mgPerLitre`, `.owfMilli`, `liquorRatioMilli`, `temperatureC`, `holdMinutes`, `pH`; rows from 0.
 *
 * The pH that acid and alkali bring the bath to is that in `water`; where nobody has measured it, in soft water.
 */
export function checkRecipe(
  recipe: Recipe,
  cloth: Content,
  water: Water | null = null,
): { readonly problems: readonly ContentProblem[]; readonly warnings: readonly Warning[] } {
  const content = contentInBath(cloth, recipe);
  const dangers = isKnown(recipe) ? dangersOf(recipe, content, water) : NO_DANGERS;
  const fixing = checkFixed(recipe, content);
  const ofClass = checkClass(recipe.dyeClass, cloth);
  const problems = [
    ...ofClass,
    ...(isLabelClass(recipe.dyeClass) ? checkByLabel(recipe) : checkDyes(recipe.dyes)),
    ...recipe.auxiliaries.flatMap(checkAuxiliary),
    ...(ofClass.length === 0 && isKnown(recipe) ? checkVat(recipe) : []),
    ...checkTint(recipe, content),
    ...checkBath(recipe),
    ...checkHeat(recipe, content),
    ...dangers.problems,
    ...fixing.problems,
  ];
  const warnings = [
    ...dangers.warnings,
    ...fixing.warnings,
    ...warningsOf(recipe, content),
    ...recipeAdvice(recipe, cloth),
  ];
  return { problems, warnings };
}

/** Whether it is known what is in the bath and at which pH; where it is not, that is a problem already. */
function isKnown(recipe: Recipe): boolean {
  const { dyeClass, auxiliaries } = recipe;
  const known = auxiliaries.every(({ kind }) => AUXILIARY_KINDS.includes(kind));
  return known && RECIPE_CLASSES.includes(dyeClass) && checkBath(recipe).length === 0;
}

type Checked = ReturnType<typeof checkRecipe>;
const NO_DANGERS: Checked = { problems: [], warnings: [] };

/**
 * Chemicals that may not meet in the bath and what a fibre does not stand, each told at what was typed, and what comes
 * near that. What only an order is for, the order of work says; the heat itself is told by `checkHeat`.
 */
function dangersOf(recipe: Recipe, content: Content, water: Water | null): Checked {
  const chemicals = chemicalsOf(recipe);
  const met = clashesIn(chemicals);
  const ofFixing = [...fixingProblems(recipe, content, water), ...washProblems(recipe, content, water)];
  const passed = passedBy(recipe, content, { chemicals, water });
  return {
    problems: [
      ...met.filter(isRefused).map((found) => ({
        field: fieldOf([found.one, found.other], chemicals, recipe) ?? 'dyeClass',
        message: sayClash(found),
      })),
      ...passed.filter(isRefusedLimit).map(({ limit, chemical, says }) => ({
        field:
          fieldOf([chemical], chemicals, recipe) ??
          (limit.over.method ? 'method' : chemical ? 'dyeClass' : 'pH'),
        message: says,
      })),
      ...ofFixing,
    ],
    warnings: [
      ...met
        .filter(({ clash }) => clash.action === 'warn')
        .map((found) => ({
          id: `clash-${found.clash.id}`,
          text: sayClash(found),
          source: sayWhence(found.clash.mark),
        })),
      ...passed
        .filter(({ limit }) => limit.act === 'warn')
        .map(({ fibre, limit, says }) => ({
          id: `limit-${fibre}`,
          text: says,
          source: limit.mark.source,
        })),
      ...donorWarnings(recipe, content),
    ],
  };
}

/** What the cloth does not stand of a bath that fixes the dye, told at what is for that bath. */
function fixingProblems(recipe: Recipe, content: Content, water: Water | null): readonly ContentProblem[] {
  return afterBaths(recipe, content).flatMap(({ adds, doses, toC, minutes }) => {
    const row = recipe.auxiliaries.findIndex(({ name }) => adds.includes(name));
    if (row < 0) return [];
    const bath = { chemicals: chemicalsOfDoses(doses), temperatureC: toC, minutes, water };
    const refused = limitsPassed(bath, content).filter(isRefusedLimit);
    return refused.map(({ says }) => ({ field: `auxiliaries.${row}.kind`, message: says }));
  });
}

/** What the cloth does not stand of the wash-off of a label: field `washes.<row>`. */
function washProblems({ label }: Recipe, content: Content, water: Water | null): readonly ContentProblem[] {
  return (label?.washes ?? []).flatMap(({ dose, toC, minutes }, row) => {
    if (!dose) return [];
    const chemicals = chemicalsOfDoses([{ ...dose, name: nameOfForm(dose.kind, dose.form) }]);
    const refused = limitsPassed({ chemicals, temperatureC: toC, minutes, water }, content).filter(
      isRefusedLimit,
    );
    return refused.map(({ says }) => ({ field: `washes.${row}`, message: says }));
  });
}

function sayWhence({ basis, source }: Provenance): string {
  return basis === 'worked out' ? `worked out: ${source}` : source;
}

/** The limits of the cloth's fibres that a recipe passes and may not, but for its heat. */
export function refusedLimits(
  recipe: Recipe,
  cloth: Content,
  water: Water | null = null,
): readonly PassedLimit[] {
  const bath = { chemicals: chemicalsOf(recipe), water };
  return passedBy(recipe, contentInBath(cloth, recipe), bath).filter(isRefusedLimit);
}

function isRefusedLimit({ limit }: PassedLimit): boolean {
  return limit.act === 'refuse' && !isHeatAlone(limit);
}

function isHeatAlone({ over }: FibreLimit): boolean {
  return over.aboveC !== undefined && Object.keys(over).length === 1;
}

function passedBy(
  recipe: Recipe,
  content: Content,
  bath: Pick<BathOnFibre, 'chemicals' | 'water'>,
): readonly PassedLimit[] {
  const { temperatureC, holdMinutes, pHFrom, pHTo, coolRateMilli, method } = recipe;
  return limitsPassed(
    {
      ...bath,
      temperatureC,
      minutes: holdMinutes,
      method,
      ...(pHFrom === undefined ? {} : { pHFrom }),
      ...(pHTo === undefined ? {} : { pHTo }),
      ...(coolRateMilli === undefined ? {} : { coolRateMilli }),
    },
    content,
  );
}

/** The row of the auxiliary that one of these is; undefined where it is what the class of dye brings. */
function fieldOf(
  found: readonly (Chemical | null)[],
  chemicals: readonly Chemical[],
  recipe: Recipe,
): string | undefined {
  const listed = bathAuxiliaries(recipe);
  const rows = found.flatMap((each) => (each ? (listed[chemicals.indexOf(each)] ?? []) : []));
  const [first] = rows.map((each) => recipe.auxiliaries.indexOf(each));
  return first === undefined ? undefined : `auxiliaries.${first}.kind`;
}

function checkClass(dyeClass: RecipeClass, content: Content): readonly ContentProblem[] {
  if (!RECIPE_CLASSES.includes(dyeClass)) return [{ field: 'dyeClass', message: 'Choose a class of dye.' }];
  const { verdict, reasons } = verdictOn(content, dyeClass);
  if (verdict === 'dyes' || verdict === 'partly') return [];
  return [{ field: 'dyeClass', message: reasons.join(' ') }];
}

/** By a label there may be no dye on weight: a paste is given by the litre. Something must go in, but off paper. */
function checkByLabel({ dyeClass, dyes, auxiliaries }: Recipe): readonly ContentProblem[] {
  if (dyes.length > 0) return checkDyes(dyes);
  if (auxiliaries.length > 0 || dyeClass === 'transfer') return [];
  return [{ field: 'dyes', message: 'Give what goes in: a dye, or what is in the bath or paste.' }];
}

function checkFixed({ dyeClass, fixing }: Recipe, content: Content): Checked {
  if (!isLabelClass(dyeClass)) return NO_DANGERS;
  const { problems, warnings } = checkFixing(dyeClass, fixing, content);
  return { problems, warnings: [...labelWarnings(dyeClass, content), ...warnings] };
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
  if (groupsOf(auxiliary.kind, auxiliary.form) === null) {
    const message = `Say what group ${auxiliary.name} is of, by its safety data sheet: without that nobody can tell what it must not meet.`;
    problems.push({ field: `${field}.form`, message });
  }
  if (/antimony|tartar emetic/i.test(auxiliary.name)) {
    const message =
      'Tartar emetic is a compound of antimony, which is poisonous: no back-tan in a workroom. Fix with syntan.';
    problems.push({ field: `${field}.kind`, message });
  }
  const told =
    auxiliary.kind === 'other' && auxiliary.form === 'none' ? groupToldBy(auxiliary.name) : undefined;
  if (told) {
    const message = `${capital(auxiliary.name)} sounds like ${told.name}: choose it from the list, or its group.`;
    problems.push({ field: `${field}.form`, message });
  }
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

/** At the boil without a carrier only small dyes enter polyester, so a deep shade would stay in the bath. */
function checkTint(recipe: Recipe, content: Content): readonly ContentProblem[] {
  const { dyeClass, auxiliaries, dyes } = recipe;
  const polyester = content.some(({ fibre, shareBp }) => fibre === 'polyester' && shareBp > 0);
  const carried = auxiliaries.some(({ kind }) => kind === 'carrier');
  const byLabel = markOf(recipe, 'temperatureC').basis === 'label';
  if (dyeClass !== 'disperse' || !polyester || carried || byLabel) return [];
  if (depthOwfMilli({ dyes }) <= TINT_OWF_MILLI) return [];
  const message =
    'Polyester at the boil without carrier takes 0.5 % of dye at most, a tint (our rule): no navy, black or deep red. For more have it dyed under pressure, ' +
    'take a carrier in a ventilated workshop, or mark the temperature as the label’s where the label says that its dye goes deeper.';
  return [{ field: 'dyes', message }];
}

function checkBath(recipe: Recipe): readonly ContentProblem[] {
  const { highestLiquorRatioMilli: high, longestHoldMinutes } = RECIPE_LIMITS;
  const low = liesInBath(recipe.dyeClass)
    ? RECIPE_LIMITS.lowestLiquorRatioMilli
    : RECIPE_LIMITS.lowestPasteRatioMilli;
  const problems: ContentProblem[] = [];
  const ratio = recipe.liquorRatioMilli;
  if (!Number.isInteger(ratio) || ratio < low) {
    const message = `Less than ${low / 1000} L of bath to a kilogram does not cover the cloth: enter more water.`;
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
    problems.push({ field: 'pH', message: 'Enter a pH from 0 to 14, the lower figure first.' });
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
    const open = isLabelClass(dyeClass)
      ? []
      : conditionsFor(fibre, dyeClass).filter(({ vessel }) => vessel === 'open');
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
  const inFolds = liquorRatioMilli >= RECIPE_LIMITS.lowestLiquorRatioMilli && liquorRatioMilli < 20_000;
  if (inFolds && liesInBath(recipe.dyeClass)) {
    warn(
      'liquor-ratio',
      'Below 1:20 cloth lies in folds. A batch of sheer cloth is told how long a bath it wants.',
    );
  }
  return warnings;
}
