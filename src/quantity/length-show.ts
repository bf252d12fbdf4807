import {
  ABOUT,
  divideRounded,
  exactly,
  MINUS,
  type Rounding,
  showDecimal,
  showMixed,
} from './figure-show.ts';
import { TICKS_PER } from './length.ts';

export type { Rounding } from './figure-show.ts';

/** How a reader wants lengths: in metres and centimetres or in yards and inches, to a step of so many ticks. */
export interface Units {
  readonly system: 'metric' | 'imperial';
  readonly stepTicks: number;
}

/** To the centimetre. */
export const METRIC: Units = { system: 'metric', stepTicks: TICKS_PER.cm };

/** To the eighth of an inch. */
export const IMPERIAL: Units = {
  system: 'imperial',
  stepTicks: TICKS_PER.in / 8,
};

/** A millimetre and a sixteenth of an inch: what a strip or a width is measured to. */
export const SIZE_STEP_TICKS = {
  metric: TICKS_PER.mm,
  imperial: TICKS_PER.in / 16,
} as const;

/**
 * A length of cloth in the reader's units, rounded to the reader's step: "12.35 m", "12 yd 4⅛ in".
 *
 * What is needed rounds `up`, stock rounds `down`. "≈ " stands before a value that is not exactly the stored one, a
 * true minus before a negative one. Throws on a length or step that is not a safe integer, or a step below one.
 */
export function showLength(lengthTicks: number, units: Units, round: Rounding): string {
  const show = units.system === 'metric' ? metres : yardsAndInches;
  return toStep(lengthTicks, units.stepTicks, round, show);
}

/**
 * A width, depth or strip in the reader's units: "14.7 cm" to the millimetre, "9½ in" to the sixteenth, or to the
 * reader's own step where that is finer. Signs, rounding and errors are those of `showLength`.
 */
export function showSize(sizeTicks: number, units: Units, round: Rounding): string {
  const show = units.system === 'metric' ? centimetres : inches;
  return toStep(sizeTicks, Math.min(units.stepTicks, SIZE_STEP_TICKS[units.system]), round, show);
}

/** Pages show hundreds of lengths, and up to here all that is worked out of one is a safe integer: 6 million kilometres. */
const MOST_PLAIN_TICKS = 1e12;

function toStep(
  ticks: number,
  stepTicks: number,
  round: Rounding,
  show: (ticks: bigint | number) => string,
): string {
  if (
    Number.isInteger(ticks) &&
    Number.isInteger(stepTicks) &&
    isPlain(ticks) &&
    isPlain(stepTicks) &&
    stepTicks > 0
  ) {
    const shown = roundedPlain(ticks, stepTicks, round);
    return `${shown === ticks ? '' : ABOUT}${shown < 0 ? MINUS : ''}${show(Math.abs(shown))}`;
  }
  const [held, step] = [exactly(ticks), exactly(stepTicks)];
  const shown = divideRounded(held, step, round) * step;
  const sign = shown < 0n ? MINUS : '';
  return `${shown === held ? '' : ABOUT}${sign}${show(shown < 0n ? -shown : shown)}`;
}

function isPlain(ticks: number): boolean {
  return Math.abs(ticks) <= MOST_PLAIN_TICKS;
}

/** The multiple of a step as `divideRounded` finds it. */
function roundedPlain(ticks: number, stepTicks: number, round: Rounding): number {
  const rest = ticks % stepTicks;
  if (rest === 0) return ticks;
  const towardsNought = ticks - rest;
  const below = ticks < 0;
  if (round === 'up') return below ? towardsNought : towardsNought + stepTicks;
  if (round === 'down') return below ? towardsNought - stepTicks : towardsNought;
  if (2 * Math.abs(rest) < stepTicks) return towardsNought;
  return below ? towardsNought - stepTicks : towardsNought + stepTicks;
}

function metres(ticks: bigint | number): string {
  // A tick is 625 hundred-millionths of a metre, so eight places hold every length exactly.
  return `${showDecimal(hundredMillionths(ticks), 8)} m`;
}

function centimetres(ticks: bigint | number): string {
  return `${showDecimal(hundredMillionths(ticks), 6)} cm`;
}

function hundredMillionths(ticks: bigint | number): bigint | number {
  return typeof ticks === 'bigint' ? ticks * 625n : ticks * 625;
}

function yardsAndInches(length: bigint | number): string {
  const ticks = BigInt(length);
  const [yards, rest] = [ticks / YARD, ticks % YARD];
  if (rest === 0n) return `${yards} yd`;
  return yards === 0n ? inches(rest) : `${yards} yd ${inches(rest)}`;
}

function inches(ticks: bigint | number): string {
  return `${showMixed(BigInt(ticks), INCH)} in`;
}

const YARD = exactly(TICKS_PER.yd);
const INCH = exactly(TICKS_PER.in);

/** A length in millimetres, as scripts read it, not rounded. */
export function toMillimetres(ticks: number): number {
  return ticks / TICKS_PER.mm;
}
