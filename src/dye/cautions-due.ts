/**
 * Which cautions are due at which step, and each in a few words for wet hands. The few words never stand alone: the
 * full text unfolds beside them, and the bench card prints it.
 */
import type { Hazard } from './auxiliaries.ts';
import { type Caution, cautionRule, HOT_FROM_C, type Occasion, STEAM_FROM_C } from './cautions.ts';
import type { Weighing } from './order-of-work.ts';
import type { WorkStep } from './work-step.ts';

/** A caution in a few words; its own first sentence where there are none for it. */
export function headOf({ id, text }: Caution): string {
  return cautionRule(id)?.head ?? text.split(/[.:;]/)[0] ?? text;
}

/** Steps at which dye is handled as powder, and those after which a bath is let go. */
const POWDER: readonly WorkStep['kind'][] = ['weigh', 'dissolve'];
const LET_GO: readonly WorkStep['kind'][] = ['rinse', 'clear', 'fix', 'oxidise'];

/**
 * The cautions that are due at a step, in the order of the list: by the kind of step, its heat, and what is weighed
 * at it. `hazards` tells those of each auxiliary by name. The label is always among them.
 */
export function dueAt(
  step: WorkStep,
  weighings: readonly Weighing[],
  hazards: ReadonlyMap<string, readonly Hazard[]>,
  cautions: readonly Caution[],
): readonly Caution[] {
  const hottestC = Math.max(step.fromC, step.toC);
  const dyed = weighings.some(({ part }) => part === 'dye' || part === 'addition');
  const now = new Set<Occasion>([
    'every step',
    `at ${step.kind}`,
    ...(dyed || POWDER.includes(step.kind) ? (['dye powder'] as const) : []),
    ...(hottestC >= HOT_FROM_C ? (['hot'] as const) : []),
    ...(hottestC >= STEAM_FROM_C ? (['steaming'] as const) : []),
    ...(LET_GO.includes(step.kind) ? (['drain'] as const) : []),
    ...weighings.flatMap(({ name }) => hazards.get(name) ?? []).map((hazard): Occasion => `with ${hazard}`),
  ]);
  // One that only an older card has is told at every step, rather than never.
  return cautions.filter(({ id }) => cautionRule(id)?.due.some((occasion) => now.has(occasion)) ?? true);
}
