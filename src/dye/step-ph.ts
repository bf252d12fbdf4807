/** What each step of a bath wants of the pH, and what is to be expected of it: by what has gone in so far. */

import { auxiliaryOf } from './auxiliaries.ts';
import type { Bath } from './bath.ts';
import { isOfBath } from './bath-clock.ts';
import { dosedIn, type ExpectedPh, expectedPh, movesPh, type WantedPh } from './expected-ph.ts';
import type { Water } from './water.ts';
import type { WorkStep } from './work-step.ts';

export interface StepPh {
  /** null where the step has no bath that anything is dosed into */
  readonly expected: ExpectedPh | null;
  /** null where the pH of the recipe is not due yet, or no more */
  readonly wants: WantedPh | null;
  /** true where the last of what moves the pH goes in at this very step, so that a reading may be from before it */
  readonly moves: boolean;
}

const NOTHING: StepPh = { expected: null, wants: null, moves: false };

/** `wants` is what is wanted when all is in. */
interface OfBath {
  readonly bath: Bath;
  readonly wants: WantedPh | null;
  readonly water: Water | null;
}

/** The pH of a step, named by its key. */
export function phOfStep(steps: readonly WorkStep[], key: string, { bath, wants, water }: OfBath): StepPh {
  const at = steps.findIndex((step) => step.key === key);
  const step = steps[at];
  if (!step) return NOTHING;
  if (!isOfBath(step)) return { ...NOTHING, expected: beside(step, bath, water) };
  const inBath = steps.filter((each) => isOfBath(each) || each.kind === 'vat');
  const before = (name: string) => shareIn(steps.slice(0, at), name);
  const now = (name: string) => shareIn(steps.slice(0, at + 1), name);
  const moving = bath.lines.flatMap(({ kind, form, name }) =>
    kind && form && movesPh({ kind, form }) && shareIn(inBath, name) > 0 ? [name] : [],
  );
  return {
    expected: expectedPh(dosedIn(bath, now), water, step.toC),
    wants: moving.every((name) => now(name) >= ALL_IN) ? wants : null,
    moves: moving.some((name) => before(name) < ALL_IN && now(name) >= ALL_IN),
  };
}

/** Thirds do not add up to one. */
const ALL_IN = 1 - 1e-9;

/** The part of a line that has gone in at these steps. */
function shareIn(steps: readonly WorkStep[], name: string): number {
  const parts = steps.flatMap(({ adds }) => adds.filter((add) => add.name === name));
  return parts.reduce((sum, { of }) => sum + 1 / of, 0);
}

/** A bath beside the dye bath has its own doses, and what of the recipe goes into it alone. */
function beside(step: WorkStep, bath: Bath, water: Water | null): ExpectedPh | null {
  const own = dosedIn(bath, (name) => shareIn([step], name));
  const doses = step.doses.map((dose) => ({
    ...dose,
    form: dose.form ?? auxiliaryOf(dose.kind).forms[0]?.code ?? '',
  }));
  const dosed = [...doses, ...own];
  return dosed.length === 0 ? null : expectedPh(dosed, water, step.toC);
}
