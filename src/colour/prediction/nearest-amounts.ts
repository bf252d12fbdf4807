/** Amounts of a few dyes by which a predicted shade comes nearest to one that is wanted. */

import { deltaE00, type Lab } from '../lab.ts';
import { eliminate } from '../linear.ts';
import { differenceAlong, differencesNear } from '../local-difference.ts';

export interface SoughtAmounts {
  readonly wanted: Lab;
  /** the dyes that may be used, by their places */
  readonly dyes: readonly number[];
  /** of every dye, the most that may be used of it, in % */
  readonly most: readonly number[];
  readonly shadeOf: (amounts: readonly number[]) => Lab;
}

/** The least of a dye that is used at all, in %: the finest step of a recipe. */
export const LEAST_AMOUNT = 0.001;
const MOST_STEPS = 40;
/** A step in ln amount over which slopes are measured, and the longest that is gone at once. */
const TOUCH = 1e-4;
const LONGEST = 1.2;

/** From amounts downhill (Levenberg and Marquardt, in logarithms of amounts) to where nothing is nearer; all dyes by their places. */
export function nearestAmounts(
  { wanted, dyes, most, shadeOf }: SoughtAmounts,
  from: readonly number[],
): { readonly amounts: number[]; readonly difference: number } {
  const near = differencesNear(wanted);
  const bounded = (dye: number, log: number) =>
    Math.min(Math.log(most[dye] as number), Math.max(Math.log(LEAST_AMOUNT), log));
  const amountsOf = (logs: readonly number[]) => {
    const amounts = most.map(() => 0);
    dyes.forEach((dye, at) => {
      amounts[dye] = Math.exp(logs[at] as number);
    });
    return amounts;
  };
  const missedBy = (logs: readonly number[]) => differenceAlong(near, wanted, shadeOf(amountsOf(logs)));
  const size = (missed: readonly number[]) => missed.reduce((sum, each) => sum + each * each, 0);
  let logs = dyes.map((dye) => bounded(dye, Math.log(Math.max(LEAST_AMOUNT, from[dye] ?? 0))));
  let missed = missedBy(logs);
  let damping = 1e-2;
  for (let step = 0; step < MOST_STEPS && size(missed) > 1e-8 && damping < 1e6; step++) {
    const slopes = logs.map((log, at) => {
      const touched = missedBy(logs.with(at, log + TOUCH));
      return touched.map((each, direction) => (each - (missed[direction] as number)) / TOUCH);
    });
    const n = logs.length;
    const matrix = new Float64Array(n * n);
    const downhill = new Float64Array(n);
    slopes.forEach((one, row) => {
      slopes.forEach((other, column) => {
        matrix[row * n + column] =
          product(one, other) + (row === column ? damping * (product(one, one) + 1e-3) : 0);
      });
      downhill[row] = -product(one, missed);
    });
    const moves = eliminate(matrix, downhill);
    const tried = logs.map((log, at) =>
      bounded(dyes[at] as number, log + Math.max(-LONGEST, Math.min(LONGEST, moves?.[at] ?? 0))),
    );
    const triedMissed = missedBy(tried);
    if (size(triedMissed) < size(missed)) {
      const gained = size(missed) - size(triedMissed);
      [logs, missed, damping] = [tried, triedMissed, damping / 4];
      if (gained < 1e-7 * size(missed)) break;
    } else damping *= 4;
  }
  const amounts = amountsOf(logs);
  return { amounts, difference: deltaE00(wanted, shadeOf(amounts)) };
}

function product(one: readonly number[], other: readonly number[]): number {
  return one.reduce((sum, each, at) => sum + each * (other[at] as number), 0);
}
