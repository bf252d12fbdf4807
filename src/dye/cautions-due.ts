/**
 * Which cautions are due at which step, and each in a few words for wet hands. The few words never stand alone: the
 * full text unfolds beside them, and the bench card prints it.
 */
import type { Hazard } from './auxiliaries.ts';
import type { Caution } from './cautions.ts';
import type { Weighing, WorkStep } from './order-of-work.ts';

const HEADS: Readonly<Record<string, string>> = {
  dust: 'Breathe no dye dust',
  reactive: 'Tight chest: stop, see a doctor',
  respirator: 'Particle mask on for powder',
  skin: 'Gloves, goggles, sleeves, apron',
  air: 'Air moving, others away',
  'old-direct-dye': 'No old direct dye',
  acid: 'Acid into water, never water into acid',
  alkali: 'Soda: goggles, sprinkle it in',
  caustic: 'Caustic burns: cold water, face shield',
  hydrosulphite: 'Hydrosulphite: dry, no acid, little by little',
  carrier: 'Carrier: ventilated workshop only',
  vessels: 'Never food in these vessels',
  children: 'No children, no animals; pregnant: ask a doctor',
  scald: 'Hot water scalds in seconds',
  steam: 'Lid away from you, never sealed',
  mains: 'Residual-current device, dry hands, never alone',
  flame: 'Cloth away from flame',
  weight: 'Wet cloth is heavy: lift in parts',
  splash: 'Splash: rinse at once',
  label: 'Label and safety data sheet outrank this page',
  'waste-water': 'Waste water by local rules',
};

/** A caution in a few words; its own first sentence where there are none for it. */
export function headOf({ id, text }: Caution): string {
  return HEADS[id] ?? text.split(/[.:;]/)[0] ?? text;
}

const POWDER = ['dust', 'reactive', 'respirator', 'air', 'old-direct-dye'];
const HOT = ['scald', 'steam', 'mains'];
/** From here a bath is hot to the hand, in °C (common practice). */
const HOT_FROM_C = 45;
const BY_KIND: Readonly<Record<WorkStep['kind'], readonly string[]>> = {
  prepare: ['weight', 'splash'],
  set: ['vessels', 'weight', 'splash'],
  add: ['skin', 'splash'],
  heat: [...HOT, 'flame'],
  hold: HOT,
  cool: ['scald', 'steam', 'weight'],
  rinse: ['skin', 'weight', 'waste-water'],
  clear: ['skin', 'splash', 'waste-water'],
  dry: ['flame', 'weight'],
};

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
  const dyed = weighings.some(({ part }) => part === 'dye' || part === 'addition');
  const hot = Math.max(step.fromC, step.toC) >= HOT_FROM_C;
  const due = new Set<string>([
    ...BY_KIND[step.kind],
    ...(dyed ? POWDER : []),
    ...(hot ? ['scald'] : []),
    ...(weighings.length > 0 ? ['skin'] : []),
    ...weighings.flatMap(({ name }) => hazards.get(name) ?? []),
    'label',
  ]);
  return cautions.filter(({ id }) => due.has(id));
}
