/** Whether what was really weighed for a bath passes a limit of the cloth that the amounts of the plan keep. */

import { type Bath, massUgOf } from './bath.ts';
import { chemicalsOfDoses } from './bath-chemicals.ts';
import type { Content } from './fibre.ts';
import { limitsPassed, type PassedLimit } from './fibre-limits.ts';
import { weighingsAt } from './order-of-work.ts';
import { contentInBath, type Recipe, type RecipeAuxiliary } from './recipe.ts';
import { refusedLimits } from './recipe-check.ts';
import type { Water } from './water.ts';
import type { WorkStep } from './work-step.ts';

/** What goes in at a step, by its name in the plan, in mg. */
export interface WeighedNow {
  readonly name: string;
  readonly massMg: number;
}

/** The bath that is weighed for; `water` is null where nobody has measured it. */
export interface WeighedFor {
  readonly recipe: Recipe;
  readonly content: Content;
  readonly bath: Bath;
  readonly water: Water | null;
}

/** The limits that a bath would pass by what was weighed for one of its steps, and does not pass as planned. */
export function limitsPassedByWeighing(
  { recipe, content: cloth, bath, water }: WeighedFor,
  step: WorkStep,
  weighed: readonly WeighedNow[],
): readonly PassedLimit[] {
  const content = contentInBath(cloth, recipe);
  const planned = weighingsAt(step, bath);
  const moreMg = (name: string): number => {
    const now = weighed.find((each) => each.name === name)?.massMg;
    const wanted = planned.find((each) => each.name === name)?.massMg;
    return now === undefined || wanted === undefined ? 0 : now - wanted;
  };
  const side = { content, bath, water };
  const [asPlanned, asWeighed] =
    step.doses.length > 0
      ? [sideLimits(step, side, () => 0), sideLimits(step, side, moreMg)]
      : [
          refusedLimits(
            inAll(recipe, bath, () => 0),
            content,
            water,
          ),
          refusedLimits(inAll(recipe, bath, moreMg), content, water),
        ];
  return asWeighed.filter(({ limit }) => !asPlanned.some((each) => each.limit === limit));
}

/** The recipe with its auxiliaries as they come to be in the bath. */
function inAll(recipe: Recipe, bath: Bath, moreMg: (name: string) => number): Recipe {
  const auxiliaries = recipe.auxiliaries.map((auxiliary): RecipeAuxiliary => {
    const line = bath.lines.find(({ part, name }) => part === 'auxiliary' && name === auxiliary.name);
    if (!line) return auxiliary;
    const { kind, name, form } = auxiliary;
    const massMg = massUgOf(line) / 1000 + moreMg(name);
    return { kind, name, form, per: 'litre', mgPerLitre: perLitre(massMg, bath) };
  });
  return { ...recipe, auxiliaries };
}

function sideLimits(
  { doses, toC, minutes }: WorkStep,
  { content, bath, water }: Omit<WeighedFor, 'recipe'>,
  moreMg: (name: string) => number,
): readonly PassedLimit[] {
  const given = doses.map((dose) => ({
    ...dose,
    mgPerLitre: dose.mgPerLitre + perLitre(moreMg(dose.name), bath),
  }));
  const chemicals = chemicalsOfDoses(given);
  const passed = limitsPassed({ chemicals, temperatureC: toC, minutes, water }, content);
  return passed.filter(({ limit }) => limit.act === 'refuse');
}

function perLitre(massMg: number, { volumeUl }: Bath): number {
  return (massMg * 1_000_000) / volumeUl;
}
