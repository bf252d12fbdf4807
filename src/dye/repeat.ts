/**
 * Repeating a batch for another mass: what must stay as it was for the shade to come again, and what differs.
 */
import type { Bath } from './bath.ts';
import type { Recipe } from './recipe.ts';

/** A batch as far as its shade depends on it. Masses in mg, volumes in mL and µL. */
export interface RepeatedBatch {
  readonly recipe: Pick<
    Recipe,
    'dyeClass' | 'liquorRatioMilli' | 'temperatureC' | 'holdMinutes' | 'pHFrom' | 'pHTo'
  > & { readonly id: number };
  readonly vessel: { readonly name: string; readonly volumeMl: number };
  readonly cloths: readonly string[];
  readonly lots: readonly string[];
  readonly massMg: number;
  readonly baths: readonly Bath[];
}

export type Sameness = 'recipe' | 'ratio' | 'cloth' | 'ground lot' | 'vessel' | 'baths' | 'mass';

/** One thing compared. `same` false is a flag: the shade may come out otherwise. */
export interface Compared {
  readonly what: Sameness;
  readonly same: boolean;
  /** true for what must be equal; false for what is free to differ, such as the mass */
  readonly must: boolean;
}

/** A mass per bath more than this many times as large moves and heats otherwise (common practice). */
const BATH_TIMES = 2;

/**
 * Compares a batch with the one that it repeats. Recipe (class, % owf, ramp, hold, pH), liquor ratio, cloth and the
 * lot of the ground must stay; vessel, number of baths and mass may differ and are told.
 */
export function compareRepeat(before: RepeatedBatch, after: RepeatedBatch): readonly Compared[] {
  const ratio = (batch: RepeatedBatch) => batch.recipe.liquorRatioMilli;
  return [
    { what: 'recipe', must: true, same: before.recipe.id === after.recipe.id },
    { what: 'ratio', must: true, same: ratio(before) === ratio(after) },
    { what: 'cloth', must: true, same: within(after.cloths, before.cloths) },
    { what: 'ground lot', must: true, same: within(after.lots, before.lots) },
    { what: 'vessel', must: false, same: before.vessel.name === after.vessel.name },
    { what: 'baths', must: false, same: alike(before.baths, after.baths) },
    { what: 'mass', must: false, same: before.massMg === after.massMg },
  ];
}

function within(some: readonly string[], all: readonly string[]): boolean {
  return some.every((each) => all.includes(each));
}

/** Baths are alike where their mass is within a factor of two, whatever their number. */
function alike(before: readonly Bath[], after: readonly Bath[]): boolean {
  const [was, is] = [before[0]?.massMg ?? 0, after[0]?.massMg ?? 0];
  return is <= was * BATH_TIMES && was <= is * BATH_TIMES;
}
