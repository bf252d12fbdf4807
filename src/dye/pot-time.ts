/** How long a bath stands in its pot, and what energy it takes there. */

import type { CardVessel } from './batch.ts';
import type { Bath } from './bath.ts';
import { EFFICIENCIES, heatKj, loadOf, minutesFor, TAP_C } from './heater.ts';
import type { WorkKind, WorkStep } from './work-step.ts';

/** Whether a step is done in the pot: the cloth dries elsewhere. */
export function isInPotAt({ kind }: Pick<WorkStep, 'kind'>): boolean {
  return kind !== 'dry';
}

/** Minutes that a heater needs beyond those of the heating steps of a plan; 0 where it keeps up or is not known. */
export function lateMinutes(steps: readonly WorkStep[], bath: Bath, pot: CardVessel): number {
  const heating = steps.filter(({ kind }) => kind === 'heat');
  const [first] = heating;
  if (!first || !pot.heaterKind || !pot.watts) return 0;
  const heater = { watts: pot.watts, efficiencyBp: EFFICIENCIES[pot.heaterKind].bp };
  const load = loadOf(bath, pot);
  const late = heating.reduce((sum, { fromC, toC, minutes }) => {
    const needed = toC > fromC ? minutesFor(heatKj(load, fromC, toC).inAllKj, heater) : 0;
    return sum + Math.max(0, needed - minutes);
  }, 0);
  return Math.ceil(late);
}

/** Minutes of a bath in its pot: all steps but drying, and what the heater is late. */
export function minutesInPot(steps: readonly WorkStep[], bath: Bath, pot: CardVessel): number {
  const planned = steps.filter(isInPotAt).reduce((sum, { minutes }) => sum + minutes, 0);
  return planned + lateMinutes(steps, bath, pot);
}

/**
 * The heat that a dye bath takes up from the tap to its highest temperature, and what of the fuel does not reach it where
 * the heater is known; in kJ. The side baths are those of `sideBathsKj`.
 */
export function bathKj(bath: Bath, pot: CardVessel, temperatureC: number): number {
  return fuelKj(bath, pot, temperatureC);
}

/** The baths beside the dye bath that are filled anew: scour, each wash, and an aftertreatment. */
const SIDE_BATHS: readonly WorkKind[] = ['prepare', 'clear', 'fix'];

/**
 * The heat of the scour, of each wash and of an aftertreatment, each filled from the tap with as much as the dye bath and
 * brought to its own temperature, and what of the fuel does not reach them; in kJ.
 */
export function sideBathsKj(steps: readonly WorkStep[], bath: Bath, pot: CardVessel): number {
  return steps
    .filter(({ kind, toC }) => SIDE_BATHS.includes(kind) && toC > TAP_C)
    .reduce((sum, { toC }) => sum + fuelKj(bath, pot, toC), 0);
}

function fuelKj(bath: Bath, pot: CardVessel, temperatureC: number): number {
  const { inAllKj } = heatKj(loadOf(bath, pot), TAP_C, Math.max(TAP_C, temperatureC));
  return pot.heaterKind ? (inAllKj * 10_000) / EFFICIENCIES[pot.heaterKind].bp : inAllKj;
}
