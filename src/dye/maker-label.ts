/**
 * What a maker's label says of how its dye is worked, as far as it says it: where the bath is set and how it is heated,
 * what goes in when, how much of it by the depth, and how it is washed off. It goes before all that is given here, step
 * by step; what somebody of the workroom wrote down in the place of an offered figure stays, and is told where it differs.
 */

import type { Provenance } from '../quantity/provenance.ts';
import { auxiliaryOf, nameOfForm } from './auxiliaries.ts';
import type { Warning } from './dye-advice.ts';
import type { MakerLabel } from './label-figures.ts';
import {
  amountOf,
  auxiliaryFrom,
  depthOwfMilli,
  markOf,
  type Recipe,
  type RecipeAuxiliary,
} from './recipe.ts';
import { showAddition } from './recipe-figures.ts';

/** Whether a label says nothing at all. */
export function saysNothing({ source: _, ...label }: MakerLabel): boolean {
  return Object.values(label).every((said) => said === null || (Array.isArray(said) && said.length === 0));
}

export function markOfLabel({ source }: Pick<MakerLabel, 'source'>): Provenance {
  return { basis: 'label', source: source === '' ? "the maker's label" : source };
}

/** The doses of a label for all dyes together in thousandths of a percent owf: of each kind the row of the next depth. */
export function dosesAt({ doses }: MakerLabel, depthMilli: number): readonly RecipeAuxiliary[] {
  const kinds = [...new Set(doses.map(({ kind }) => kind))];
  return kinds.flatMap((kind): RecipeAuxiliary[] => {
    const rows = doses
      .filter((dose) => dose.kind === kind)
      .sort((a, b) => (a.upToMilli ?? Number.POSITIVE_INFINITY) - (b.upToMilli ?? Number.POSITIVE_INFINITY));
    // Deeper than the last row of the label goes by that row.
    const row = rows.find(({ upToMilli }) => upToMilli === null || depthMilli <= upToMilli) ?? rows.at(-1);
    if (!row) return [];
    const { form, per, amount } = row;
    return [auxiliaryFrom({ kind, form, per, amount, name: nameOfForm(kind, form) })];
  });
}

/** A recipe as it is worked by a label: what was only offered gives way to it, what the workroom wrote down stays. */
export function byLabel(recipe: Recipe, label: MakerLabel): Recipe {
  const mark = markOfLabel(label);
  const marks: Record<string, Provenance> = { ...recipe.marks };
  const free = (figure: string): boolean => !['label', 'own'].includes(markOf(recipe, figure).basis);
  const taken = <T>(figure: string, said: T | null, before: T): T => {
    if (said === null || !free(figure)) return before;
    marks[figure] = mark;
    return said;
  };
  const doses = dosesAt(label, depthOwfMilli(recipe));
  const auxiliaries = recipe.auxiliaries.map((auxiliary): RecipeAuxiliary => {
    const { kind } = auxiliary;
    const dose = doses.find((each) => each.kind === kind);
    if (!dose || !free(`auxiliaries.${kind}`)) return auxiliary;
    marks[`auxiliaries.${kind}`] = mark;
    return dose;
  });
  const { pHFrom, pHTo } = label;
  const pH = pHFrom === null || pHTo === null ? null : { pHFrom, pHTo };
  const rates = {
    ...(label.heatRateMilli === null ? {} : { heatRateMilli: label.heatRateMilli }),
    ...(label.coolRateMilli === null ? {} : { coolRateMilli: label.coolRateMilli }),
  };
  // A recipe without rates of its own has none that could stand.
  const ownRates = recipe.heatRateMilli !== undefined || recipe.coolRateMilli !== undefined;
  if (!ownRates && Object.keys(rates).length > 0) marks.rates = mark;
  return {
    ...recipe,
    auxiliaries,
    liquorRatioMilli: taken('liquorRatioMilli', label.liquorRatioMilli, recipe.liquorRatioMilli),
    temperatureC: taken('temperatureC', label.temperatureC, recipe.temperatureC),
    holdMinutes: taken('holdMinutes', label.holdMinutes, recipe.holdMinutes),
    ...taken<object>('pH', pH, {}),
    ...(ownRates ? {} : rates),
    marks,
    label,
  };
}

/** The doses of a label for a recipe's depth of which the recipe has nothing. */
export function lackingDoses(recipe: Recipe, label: MakerLabel): readonly RecipeAuxiliary[] {
  return dosesAt(label, depthOwfMilli(recipe)).filter(
    ({ kind }) => !recipe.auxiliaries.some((auxiliary) => auxiliary.kind === kind),
  );
}

/** A recipe with the doses of a label that it lacked, marked as the label's. */
export function withLackingDoses(recipe: Recipe, label: MakerLabel): Recipe {
  const lacking = lackingDoses(recipe, label);
  const marks = lacking.map(({ kind }) => [`auxiliaries.${kind}`, markOfLabel(label)] as const);
  return {
    ...recipe,
    auxiliaries: [...recipe.auxiliaries, ...lacking],
    marks: { ...recipe.marks, ...Object.fromEntries(marks) },
  };
}

/** A recipe worked by a label, with the doses of the label that it lacked. */
export function wholeByLabel(recipe: Recipe, label: MakerLabel): Recipe {
  return withLackingDoses(byLabel(recipe, label), label);
}

/** A recipe whose depth has changed, with what its label had dosed for the old depth dosed for the new one. */
export function dosedByLabel(recipe: Recipe): Recipe {
  const { label } = recipe;
  if (!label) return recipe;
  const { basis, source } = markOfLabel(label);
  const doses = dosesAt(label, depthOwfMilli(recipe));
  const auxiliaries = recipe.auxiliaries.map((auxiliary) => {
    const mark = markOf(recipe, `auxiliaries.${auxiliary.kind}`);
    const isOfLabel = mark.basis === basis && mark.source === source;
    return (isOfLabel && doses.find(({ kind }) => kind === auxiliary.kind)) || auxiliary;
  });
  return { ...recipe, auxiliaries };
}

/** Where a recipe that is worked by a label differs from it, and what of the label it cannot follow. */
export function labelDifferences(recipe: Recipe): readonly Warning[] {
  const { label } = recipe;
  if (!label) return [];
  const warnings: Warning[] = [];
  const warn = (id: string, text: string): void => {
    warnings.push({ id: `label-${id}`, text, source: label.source || "the maker's label" });
  };
  const figures = [
    ['temperature', label.temperatureC, recipe.temperatureC, '°C'],
    ['time', label.holdMinutes, recipe.holdMinutes, 'min'],
  ] as const;
  for (const [name, said, has, unit] of figures) {
    if (said !== null && said !== has) {
      warn(name, `The label says ${said} ${unit}, and this recipe has ${has} ${unit} as its own ${name}.`);
    }
  }
  if (label.liquorRatioMilli !== null && label.liquorRatioMilli !== recipe.liquorRatioMilli) {
    const ratio = (milli: number) => `1:${milli / 1000}`;
    warn(
      'ratio',
      `The label says ${ratio(label.liquorRatioMilli)}, and this bath is ${ratio(recipe.liquorRatioMilli)}.`,
    );
  }
  for (const dose of dosesAt(label, depthOwfMilli(recipe))) {
    const has = recipe.auxiliaries.find(({ kind }) => kind === dose.kind);
    const says = `The label asks for ${showAddition({ per: dose.per, amount: amountOf(dose) })} of ${dose.name} at this depth`;
    if (!has) warn(dose.kind, `${says}, and this recipe has none.`);
    else if (has.per !== dose.per || has.form !== dose.form || amountOf(has) !== amountOf(dose)) {
      const own = showAddition({ per: has.per, amount: amountOf(has) });
      warn(dose.kind, `${says}, and this recipe has ${own} of ${has.name} as its own.`);
    }
  }
  const lacking = label.additions.filter(
    ({ what }) => what !== 'dye' && !recipe.auxiliaries.some(({ kind }) => kind === what),
  );
  for (const { what } of lacking) {
    if (what === 'dye' || warnings.some(({ id }) => id === `label-${what}`)) continue;
    warn(what, `The label adds ${auxiliaryOf(what).name}, and this recipe has none.`);
  }
  return warnings;
}
