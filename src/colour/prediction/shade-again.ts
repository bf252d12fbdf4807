/** The next recipe after a trial that was seen beside what is wanted. */

import { deltaE00, type Lab } from '../lab.ts';
import { BEYOND_DEEPEST } from './first-recipes.ts';
import { nearestAmounts } from './nearest-amounts.ts';
import type { ShadePredictor } from './predictor.ts';

/** Target and trial as they were seen together, in one photo or one after the other with one instrument. D65, for the observer of the predictor. */
export interface SeenTogether {
  readonly wanted: Lab;
  readonly trial: Lab;
  /** 19 of 20 such differences are right within this, in units of CIEDE2000 */
  readonly uncertainty: number;
}

export interface NextRecipe {
  readonly amounts: number[];
  /** the difference that was seen */
  readonly seen: number;
  /** how much of it is corrected, from 0 to 1: the rest may be an error of the reading */
  readonly share: number;
  /** how far the new recipe is expected to stay from that part of the correction */
  readonly rest: number;
}

/** Errors of which 19 of 20 are shorter than 1 have this mean square (chi-square, three degrees of freedom: 3 ÷ 7.81). */
const SQUARE_OF_ERRORS = 3 / 7.815;

/**
 * The amounts that move the trial's shade as target and trial differ, less what may be an error of the seeing: (d² − e²) ÷ d² of
 * it. Only the difference counts, so an error that both share does no harm; where the trial really lies is left to the
 * predictor. `dyes` are the places of the dyes to use: those of the trial, or one more. Null where the difference is no larger than such errors are.
 */
export function shadeAgain(
  predictor: ShadePredictor,
  trial: readonly number[],
  { wanted, trial: seenTrial, uncertainty }: SeenTogether,
  dyes: readonly number[],
  deepest: readonly number[],
): NextRecipe | null {
  const seen = deltaE00(seenTrial, wanted);
  const share = seen === 0 ? 0 : 1 - (uncertainty ** 2 * SQUARE_OF_ERRORS) / seen ** 2;
  if (share <= 0) return null;
  const { shadeOf } = predictor;
  const here = shadeOf(trial);
  const aim = {
    l: Math.min(100, Math.max(0, here.l + share * (wanted.l - seenTrial.l))),
    a: here.a + share * (wanted.a - seenTrial.a),
    b: here.b + share * (wanted.b - seenTrial.b),
  };
  const most = deepest.map((each, dye) =>
    Math.max(each * BEYOND_DEEPEST, (trial[dye] ?? 0) * BEYOND_DEEPEST),
  );
  const start = trial.map((amount, dye) => (dyes.includes(dye) && amount === 0 ? 0.01 : amount));
  const { amounts, difference } = nearestAmounts({ wanted: aim, dyes, most, shadeOf }, start);
  return { amounts: amounts.map((each) => Math.round(each * 1000) / 1000), seen, share, rest: difference };
}
