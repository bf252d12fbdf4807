/**
 * How far off an amount may be that is weighed, measured or taken from a stock solution: from what the balance and the
 * glassware allow. A limit is half the width of a rectangular spread (u = limit ÷ √3), parts are added in quadrature, and
 * what is told is twice that. The strength of the dye's lot, its moisture, drops and what sticks to a jug are not counted.
 */

/** What a workroom measures a few millilitres with. */
export const SMALL_MEASURES = ['cylinder', 'pipette', 'piston', 'syringe'] as const;
export type SmallMeasure = (typeof SMALL_MEASURES)[number];

export const SMALL_MEASURE_NAMES: Readonly<Record<SmallMeasure, string>> = {
  cylinder: 'measuring cylinders alone',
  pipette: 'graduated pipettes of 2, 5 and 10 mL',
  piston: 'a piston pipette of 1000 µL, and graduated pipettes',
  syringe: 'syringes of 1 to 20 mL',
};

/** With what the dye bench measures: the step of its balance, its small measure, and how far off an amount may be. */
export interface Bench {
  readonly balanceMg: number;
  /** `pipette` where nobody has said it */
  readonly measuresWith?: SmallMeasure;
  /** in hundredths of a percent; 5 % where nobody has said it */
  readonly offBp?: number;
}

export const USUAL_OFF_BP = 500;

/** A bench out of something that holds more. */
export function benchOf({
  balanceMg,
  measuresWith = 'pipette',
  offBp = USUAL_OFF_BP,
}: Bench): Required<Bench> {
  return { balanceMg, measuresWith, offBp };
}

/** A measure of so many mL and its limit of error in mL. */
interface Measure {
  readonly ml: number;
  readonly limitMl: number;
}

/** Class B. To 500 mL: ASTM E1272-02 (2012); above: ISO 4788, from memory. */
const CYLINDERS: readonly Measure[] = [
  { ml: 5, limitMl: 0.1 },
  { ml: 10, limitMl: 0.2 },
  { ml: 25, limitMl: 0.34 },
  { ml: 50, limitMl: 0.5 },
  { ml: 100, limitMl: 1 },
  { ml: 250, limitMl: 2 },
  { ml: 500, limitMl: 4 },
  { ml: 1000, limitMl: 10 },
  { ml: 2000, limitMl: 20 },
];
/** USP chapter 31. */
const PIPETTES: readonly Measure[] = [
  { ml: 2, limitMl: 0.01 },
  { ml: 5, limitMl: 0.02 },
  { ml: 10, limitMl: 0.03 },
];
/** ISO 8655, a micropipette of 1000 µL: 8 µL at any setting. */
const PISTON: Measure = { ml: 1, limitMl: 0.008 };
/** ISO 7886-1, from memory: 5 % of the volume below 5 mL, 4 % from there. */
const SYRINGES: readonly Measure[] = [
  { ml: 1, limitMl: 0.05 },
  { ml: 2, limitMl: 0.1 },
  { ml: 5, limitMl: 0.2 },
  { ml: 10, limitMl: 0.4 },
  { ml: 20, limitMl: 0.8 },
];
/** Up to here, in mL, a volume is taken by the small measure; from there a cylinder is as good. */
const MOST_SMALL_ML = 20;

/** Something that makes an amount uncertain: what is used, and its share of the error, u ÷ the amount. */
export interface Source {
  readonly with: string;
  readonly relative: number;
}

/**
 * The standard uncertainty of a mass in mg by a balance of such a step: two readings, each within half a step, and a
 * repeatability of 0.41 of a step (USP chapter 41).
 */
export function weighingMg(balanceMg: number): number {
  return balanceMg * Math.sqrt(2 / 12 + 0.41 ** 2);
}

/** The least that a balance weighs to within a part, in mg: told as twice the standard uncertainty. */
export function leastWeighedTo(balanceMg: number, offBp: number): number {
  return Math.ceil((2 * weighingMg(balanceMg) * 10_000) / offBp);
}

export function byBalance(massUg: number, balanceMg: number): Source {
  return { with: `balance of ${balanceMg / 1000} g`, relative: (weighingMg(balanceMg) * 1000) / massUg };
}

/** A volume in µL by what the workroom has; of what one filling does not hold, as many as it takes. */
export function byVolume(volumeUl: number, measuresWith: SmallMeasure = 'pipette'): Source {
  const ml = volumeUl / 1000;
  const small = ml <= MOST_SMALL_ML && measuresWith !== 'cylinder';
  const { name, measures } = small
    ? smallMeasures(measuresWith, ml)
    : { name: 'cylinder', measures: CYLINDERS };
  const measure = measures.find((each) => each.ml >= ml) ?? measures.at(-1);
  if (!measure) throw new Error('there is something to measure with');
  const fillings = Math.max(1, Math.ceil(ml / measure.ml));
  const limit = measure.limitMl * Math.sqrt(fillings);
  return { with: `${name} of ${measure.ml} mL`, relative: limit / Math.sqrt(3) / ml };
}

function smallMeasures(measuresWith: SmallMeasure, ml: number) {
  if (measuresWith === 'syringe') return { name: 'syringe', measures: SYRINGES };
  if (measuresWith === 'piston' && ml <= PISTON.ml) return { name: 'piston pipette', measures: [PISTON] };
  return { name: 'graduated pipette', measures: PIPETTES };
}

/** A jug of so many mL filled to its mark, as a cylinder is. */
export function byJug(makeMl: number): Source {
  return byVolume(makeMl * 1000, 'cylinder');
}

/** All of it together, as it is told: twice the sum in quadrature, in hundredths of a percent, rounded up. */
export function offBpOf(sources: readonly Source[]): number {
  const u = Math.sqrt(sources.reduce((sum, { relative }) => sum + relative ** 2, 0));
  return Math.ceil(Math.round(u * 2 * 1_000_000) / 100);
}
