/** A smooth reflectance that has a given colour: the cloth's own is not known, and many would have it. */

import type { Observer } from './colour-reading.ts';
import type { Lab } from './lab.ts';
import { eliminate } from './linear.ts';
import { reflectancesOf } from './reflectance.ts';
import { BANDS, bandShares, type Curve, labInLight } from './spectrum.ts';

/** No cloth is blacker or whiter than these parts of the white, and hardly a curve between 0 and 1 has such a colour. */
const DARKEST = 0.0005;
const LIGHTEST = 0.99;

const MOST_STEPS = 60;
const SIZE = BANDS + 3;

/**
 * The reflectance that has the colour (CIELAB, D65, for the observer) and the least sum of squared slopes of z, where R = (1 + tanh z) ÷ 2: it
 * lies between 0 and 1 whatever the colour. Source: S. A. Burns, least hyperbolic tangent slope squared; solved by Newton's
 * steps, none longer than 1. A colour that no surface has, as of a fluorescent dye, gives some curve that comes near.
 */
export function curveWithColour(lab: Lab, observer: Observer): Curve {
  const wanted = reflectancesOf(lab).map((part) => Math.min(LIGHTEST, Math.max(DARKEST, part)));
  const z = new Float64Array(BANDS).fill(Math.atanh(2 * (wanted[1] ?? 0.5) - 1));
  const multipliers = new Float64Array(3);
  for (let step = 0; step < MOST_STEPS; step++) {
    const moves = newtonStep(z, multipliers, wanted, observer);
    if (!moves) break;
    const longest = moves.subarray(0, BANDS).reduce((far, move) => Math.max(far, Math.abs(move)), 0);
    const by = longest > 1 ? 1 / longest : 1;
    for (let band = 0; band < BANDS; band++) z[band] = (z[band] as number) + by * (moves[band] as number);
    for (let axis = 0; axis < 3; axis++)
      multipliers[axis] = (multipliers[axis] as number) + by * (moves[BANDS + axis] as number);
    if (longest < 1e-9) break;
  }
  return Array.from(z, (each) => (1 + Math.tanh(each)) / 2);
}

/**
 * Within this, in units of CIEDE2000, 19 of 20 colours of dyed cloth lie that were turned from one observer to the other (tried on
 * invented dyes; our rule).
 */
export const TURNED_WITHIN = 1;

/** A colour in D65 for another observer: that of the smoothest reflectance that has it for the first; only about right. */
export function labForObserver(lab: Lab, from: Observer, to: Observer): Lab {
  return from === to ? lab : labInLight(curveWithColour(lab, from), 'daylight', to);
}

/** Newton's step to where the slopes are least and the colour is met: of z, then of the multipliers of X, Y and Z. */
function newtonStep(
  z: Float64Array,
  multipliers: Float64Array,
  wanted: readonly number[],
  observer: Observer,
) {
  const shares = bandShares('daylight', observer);
  const matrix = new Float64Array(SIZE * SIZE);
  const aim = new Float64Array(SIZE);
  aim.set(wanted, BANDS);
  for (let band = 0; band < BANDS; band++) {
    const here = z[band] as number;
    const tanh = Math.tanh(here);
    const slope = (1 - tanh * tanh) / 2;
    let pull = 0;
    shares.forEach((row, axis) => {
      const share = row[band] as number;
      const line = BANDS + axis;
      pull += (multipliers[axis] as number) * share;
      matrix[band * SIZE + line] = share * slope;
      matrix[line * SIZE + band] = share * slope;
      aim[line] = (aim[line] as number) - (share * (1 + tanh)) / 2;
    });
    const neighbours = [z[band - 1], z[band + 1]].filter((each) => each !== undefined);
    const steepness = neighbours.reduce((sum, each) => sum + here - each, 0);
    matrix[band * SIZE + band] = 2 * neighbours.length - 2 * pull * tanh * slope;
    if (band > 0) matrix[band * SIZE + band - 1] = -2;
    if (band < BANDS - 1) matrix[band * SIZE + band + 1] = -2;
    aim[band] = -2 * steepness - pull * slope;
  }
  return eliminate(matrix, aim);
}
