/**
 * What somebody puts into a bath beside its plan: looked up against all that is in it, and against what the cloth stands,
 * before it goes in.
 */

import type { AuxiliaryKind } from './auxiliaries.ts';
import type { Bath } from './bath.ts';
import { chemicalOfDose, chemicalsOf, vesselAsChemical } from './bath-chemicals.ts';
import { isOfBath } from './bath-clock.ts';
import type { Chemical } from './chemical-group.ts';
import { clashesIn, isRefused, sayClash, sayOrder } from './clash.ts';
import type { Content } from './fibre.ts';
import { limitsPassed } from './fibre-limits.ts';
import type { Material } from './heater.ts';
import { chemicalsOfStep } from './order-of-work.ts';
import { contentInBath, type Recipe } from './recipe.ts';
import type { Water } from './water.ts';
import type { WorkStep } from './work-step.ts';

/** An auxiliary by its mass, for one bath. */
export interface ByHand {
  readonly kind: AuxiliaryKind;
  readonly form: string;
  readonly name: string;
  readonly massMg: number;
}

/** The bath that it would go into, at the step that is under way. */
export interface BathAtHand {
  readonly recipe: Recipe;
  readonly content: Content;
  readonly bath: Bath;
  readonly step: WorkStep;
  /** what went in by hand before */
  readonly before: readonly ByHand[];
  readonly material: Material | '';
  /** null where nobody has measured it */
  readonly water: Water | null;
}

export interface VerdictByHand {
  /** why it must not go in; empty where it may */
  readonly refused: readonly string[];
  /** what to beware of, and in which order */
  readonly warned: readonly string[];
}

/** Whether something may go into a bath by hand. Every sentence names the gas or the harm, and what to do instead. */
export function verdictByHand(at: BathAtHand, added: ByHand): VerdictByHand {
  const { recipe, bath, step, before, material } = at;
  if (!hasBath(step)) {
    return { refused: [`There is no bath at this step, ${step.title}: wait until one is set.`], warned: [] };
  }
  const there = [
    ...(isOfBath(step) || step.kind === 'vat'
      ? chemicalsOf(recipe)
      : chemicalsOfStep({ ...step, adds: step.adds.map(({ name }) => name) }, recipe)),
    ...before.map((each) => asChemical(each, bath)),
    ...(material === '' ? [] : [vesselAsChemical(material)]),
  ];
  const now = asChemical(added, bath);
  const met = clashesIn([...there, now]).filter(({ one, other }) => one === now || other === now);
  const limits = limitsOf(at, [...there, now]).filter(
    (each) => !limitsOf(at, there).some((planned) => planned.limit === each.limit),
  );
  return {
    refused: [
      ...met.filter(isRefused).map(sayClash),
      ...limits.filter(({ limit }) => limit.act === 'refuse').map(({ says }) => says),
    ],
    warned: [
      ...met.filter(({ clash }) => clash.action === 'order').map(sayOrder),
      ...met.filter(({ clash }) => clash.action === 'warn').map(sayClash),
      ...limits.filter(({ limit }) => limit.act === 'warn').map(({ says }) => says),
    ],
  };
}

/** Weighing, dissolving and drying have no bath that the cloth is in. */
function hasBath({ kind }: WorkStep): boolean {
  return !['weigh', 'dissolve', 'dry'].includes(kind);
}

/** By its dose alone: what the recipe brings its bath to says nothing of a bath that gets more acid or alkali. */
function limitsOf({ recipe, content, step, water }: BathAtHand, chemicals: readonly Chemical[]) {
  const temperatureC = Math.max(step.fromC, step.toC, isOfBath(step) ? recipe.temperatureC : 0);
  const minutes = isOfBath(step) ? recipe.holdMinutes : step.minutes;
  return limitsPassed({ chemicals, temperatureC, minutes, water }, contentInBath(content, recipe));
}

function asChemical({ massMg, ...what }: ByHand, { volumeUl }: Bath): Chemical {
  return chemicalOfDose({ ...what, mgPerLitre: (massMg * 1_000_000) / volumeUl });
}
