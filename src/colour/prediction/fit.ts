/**
 * Fits a dye model to swatches of one cloth, all of them together: undyed, single dyes at several depths, and mixtures. A colour
 * has three figures and a curve 36, so each curve starts from smooth ones that have the colours of its swatches, and departs
 * from them smoothly as far as all swatches ask for it. Gauss's and Newton's steps, damped (Levenberg, Marquardt).
 */

import type { Observer } from '../colour-reading.ts';
import { curveWithColour } from '../curve-from-lab.ts';
import { kOverS, reflectanceWith } from '../kubelka-munk.ts';
import { meanLab } from '../lab.ts';
import { solveFor, takeApart } from '../linear.ts';
import { differenceAlong, differencesNear } from '../local-difference.ts';
import { labFromReflectances, labSlopes } from '../reflectance.ts';
import { BANDS, bandShares, type Curve } from '../spectrum.ts';
import { type DyedSwatch, type DyeModel, dyesIn, takenUp } from './dye-model.ts';
import { KNOTS, knotWeights } from './knots.ts';

/** What is known before any swatch, as standard deviations of logarithms; tried on invented dyes (our rule). */
const PRIOR = {
  /** a dye's curve from the one it starts from, and its bends from knot to knot */
  dye: 0.8,
  bends: 0.5,
  cloth: 0.3,
  fullness: 1,
  crowding: 0.5,
} as const;
/** 1 % of a dye hinders the next by so much until swatches tell otherwise. */
const USUAL_FULLNESS = 0.15;
/** What no model of dyeing tells of a swatch, in units of CIEDE2000 in each of three directions; less of undyed cloth (our rule). */
const UNTOLD = 0.3;
const UNTOLD_UNDYED = 0.05;
/** Of three directions 19 of 20 lengths lie within 2.8 standard deviations (chi-square, three degrees of freedom: 7.81). */
export const DEVIATIONS_WITHIN = 2.8;

const MOST_STEPS = 25;
const MOST_CROWDING = 3;

/** A fitted model, with all that a further fit can start from. */
export interface Fitted {
  readonly model: DyeModel;
  readonly start: Start;
}

/** The curves that departures are from, as logarithms of K/S (the cloth's first), and what was fitted last. */
interface Start {
  readonly observer: Observer;
  readonly logs: readonly Curve[];
  readonly values: Float64Array;
}

/**
 * Fits a model to swatches that have `dyes` amounts each, all read for one observer. Among them must be one undyed, and of each dye one where it is alone.
 * Without `from` it starts from those; with it, from an earlier fit of nearly the same swatches. Throws RangeError
 * where a swatch that it starts from is missing.
 */
export function fitDyeModel(
  swatches: readonly DyedSwatch[],
  dyes: number,
  observer: Observer,
  from?: Fitted,
): Fitted {
  const start = from?.start ?? startFrom(swatches, dyes, observer);
  const aims = swatches.map(aimOf);
  const prior = priorOf(dyes);
  let values: Float64Array = start.values.slice();
  let cost = costOf(values, start, aims, prior);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS; step++) {
    const { matrix, downhill } = normalEquations(values, start, aims, prior);
    let gained = 0;
    for (let tries = 0; tries < 8 && gained === 0; tries++) {
      const tried = moved(values, matrix, downhill, damping, dyes);
      const triedCost = tried ? costOf(tried, start, aims, prior) : Number.POSITIVE_INFINITY;
      if (tried && triedCost < cost) {
        gained = (cost - triedCost) / cost;
        [values, cost, damping] = [tried, triedCost, Math.max(1e-7, damping / 5)];
      } else damping *= 4;
    }
    if (gained < 1e-4) break;
  }
  return { model: modelOf(values, start), start: { ...start, values } };
}

// The fitted values: knots of the cloth's curve, of each dye's, then the logarithm of each fullness, then the crowding.
const fullnessAt = (dyes: number, dye: number) => (dyes + 1) * KNOTS + dye;
const crowdingAt = (dyes: number) => (dyes + 1) * KNOTS + dyes;

/** Each dye's curve is the mean, in logarithms, of what its swatches have more of K/S than the undyed cloth. */
function startFrom(swatches: readonly DyedSwatch[], dyes: number, observer: Observer): Start {
  const undyed = swatches.filter(({ amounts }) => dyesIn(amounts) === 0);
  if (undyed.length === 0) throw new RangeError('A fit needs an undyed swatch');
  const cloth = curveWithColour(meanLab(undyed.map(({ lab }) => lab)), observer).map(kOverS);
  const logs = Array.from({ length: dyes }, (_, dye) => {
    const alone = swatches.filter(({ amounts }) => (amounts[dye] ?? 0) > 0 && dyesIn(amounts) === 1);
    if (alone.length === 0) throw new RangeError('A fit needs a swatch of each dye alone');
    const each = alone.map(({ amounts, lab }) =>
      logAbsorbed(cloth, curveWithColour(lab, observer), amounts[dye] ?? 0),
    );
    return cloth.map((_, band) => each.reduce((sum, log) => sum + (log[band] ?? 0), 0) / each.length);
  });
  const values = new Float64Array(crowdingAt(dyes) + 1);
  values.fill(Math.log(USUAL_FULLNESS), fullnessAt(dyes, 0), crowdingAt(dyes));
  return { observer, logs: [cloth.map(Math.log), ...logs], values };
}

function logAbsorbed(cloth: Curve, curve: Curve, amount: number): number[] {
  const taken = amount / (1 + amount * USUAL_FULLNESS);
  const dyed = curve.map(kOverS);
  return dyed.map((ratio, band) => Math.log(Math.max(0.003, (ratio - (cloth[band] ?? 0)) / taken)));
}

function modelOf(values: Float64Array, { observer, logs }: Start): DyeModel {
  const dyes = logs.length - 1;
  const [cloth = [], ...perPercent] = curvesOf(values, logs);
  return {
    observer,
    cloth: [...cloth],
    perPercent: perPercent.map((curve) => [...curve]),
    fullness: perPercent.map((_, dye) => Math.exp(values[fullnessAt(dyes, dye)] as number)),
    crowding: values[crowdingAt(dyes)] as number,
  };
}

function curvesOf(values: Float64Array, logs: readonly Curve[]): Float64Array[] {
  return logs.map((log, curve) =>
    Float64Array.from(log, (start, band) => {
      const weights = knotWeights(band);
      let sum = start;
      for (let knot = 0; knot < KNOTS; knot++)
        sum += (weights[knot] as number) * (values[curve * KNOTS + knot] as number);
      return Math.exp(sum);
    }),
  );
}

/** A swatch as the fit aims at it. */
interface Aim extends DyedSwatch {
  readonly near: Float64Array;
  /** one over the standard deviation that is allowed it */
  readonly weight: number;
}

function aimOf(swatch: DyedSwatch): Aim {
  const untold = dyesIn(swatch.amounts) === 0 ? UNTOLD_UNDYED : UNTOLD;
  const deviation = Math.hypot(swatch.uncertainty / DEVIATIONS_WITHIN, untold);
  return { ...swatch, near: differencesNear(swatch.lab), weight: 1 / deviation };
}

/** What the values are held to without swatches: a matrix of squares, and where each has its middle. */
function priorOf(dyes: number): { readonly matrix: Float64Array; readonly middle: Float64Array } {
  const n = crowdingAt(dyes) + 1;
  const matrix = new Float64Array(n * n);
  const middle = new Float64Array(n);
  const hold = (at: number, other: number, by: number) => {
    matrix[at * n + other] = (matrix[at * n + other] as number) + by;
  };
  const bend = [1, -2, 1];
  for (let curve = 0; curve <= dyes; curve++) {
    const first = curve * KNOTS;
    for (let knot = 0; knot < KNOTS; knot++)
      hold(first + knot, first + knot, 1 / (curve === 0 ? PRIOR.cloth : PRIOR.dye) ** 2);
    for (let knot = 0; knot + 2 < KNOTS; knot++)
      bend.forEach((one, i) => {
        bend.forEach((other, j) => {
          hold(first + knot + i, first + knot + j, (one * other) / PRIOR.bends ** 2);
        });
      });
  }
  for (let dye = 0; dye < dyes; dye++) {
    const at = fullnessAt(dyes, dye);
    hold(at, at, 1 / PRIOR.fullness ** 2);
    middle[at] = Math.log(USUAL_FULLNESS);
  }
  hold(n - 1, n - 1, 1 / PRIOR.crowding ** 2);
  return { matrix, middle };
}

type Prior = ReturnType<typeof priorOf>;

/** The pull of the prior on each value, times −1. */
function strainOf(values: Float64Array, { matrix, middle }: Prior): Float64Array {
  const n = values.length;
  return values.map((_, row) => {
    let sum = 0;
    for (let column = 0; column < n; column++)
      sum += (matrix[row * n + column] as number) * ((values[column] as number) - (middle[column] as number));
    return sum;
  });
}

function costOf(values: Float64Array, start: Start, aims: readonly Aim[], prior: Prior): number {
  const dyes = start.logs.length - 1;
  const curves = curvesOf(values, start.logs);
  const uptake = uptakeOf(values, dyes);
  let cost = 0;
  for (const aim of aims) {
    const { parts } = dyedParts(curves, takenUp(uptake, aim.amounts), start.observer);
    const missed = differenceAlong(aim.near, aim.lab, labFromReflectances(parts));
    cost += aim.weight ** 2 * missed.reduce((sum, each) => sum + each * each, 0);
  }
  strainOf(values, prior).forEach((pull, at) => {
    cost += pull * ((values[at] as number) - (prior.middle[at] as number));
  });
  return cost;
}

function uptakeOf(values: Float64Array, dyes: number) {
  const fullness = values.subarray(fullnessAt(dyes, 0), crowdingAt(dyes));
  return { fullness: Array.from(fullness, Math.exp), crowding: values[crowdingAt(dyes)] as number };
}

/** X, Y and Z as parts of the white of a dyed swatch, and by band how its reflectance follows its K/S. */
function dyedParts(curves: readonly Float64Array[], taken: readonly number[], observer: Observer) {
  const parts = [0, 0, 0];
  const follows = new Float64Array(BANDS);
  const shares = bandShares('daylight', observer);
  for (let band = 0; band < BANDS; band++) {
    let ratio = curves[0]?.[band] as number;
    for (let dye = 0; dye < taken.length; dye++)
      ratio += (taken[dye] as number) * (curves[dye + 1]?.[band] as number);
    const reflectance = reflectanceWith(ratio);
    follows[band] = 1 - (ratio + 1) / Math.sqrt(ratio * ratio + 2 * ratio);
    for (let axis = 0; axis < 3; axis++)
      parts[axis] = (parts[axis] as number) + (shares[axis]?.[band] as number) * reflectance;
  }
  return { parts, follows };
}

/** Matrix and right side of the step that would end the fit if all were straight. */
function normalEquations(values: Float64Array, start: Start, aims: readonly Aim[], prior: Prior) {
  const n = values.length;
  const dyes = start.logs.length - 1;
  const curves = curvesOf(values, start.logs);
  const uptake = uptakeOf(values, dyes);
  const matrix = prior.matrix.slice();
  const downhill = strainOf(values, prior).map((pull) => -pull);
  for (const aim of aims) {
    const { missed, columns } = slopesOf(aim, curves, uptake, start.observer);
    for (const [place, [at, slopes]] of columns.entries()) {
      downhill[at] = (downhill[at] as number) - along(slopes, missed);
      for (const [other, others] of columns.slice(0, place + 1)) {
        const product = along(slopes, others);
        matrix[at * n + other] = (matrix[at * n + other] as number) + product;
        if (at !== other) matrix[other * n + at] = (matrix[other * n + at] as number) + product;
      }
    }
  }
  return { matrix, downhill };
}

type Three = readonly [number, number, number];

function along(one: Three, other: Three): number {
  return one[0] * other[0] + one[1] * other[1] + one[2] * other[2];
}

/** By how much a swatch is missed, in three directions, and how that follows each value that it depends on. */
function slopesOf(
  aim: Aim,
  curves: readonly Float64Array[],
  uptake: ReturnType<typeof uptakeOf>,
  observer: Observer,
) {
  const dyes = curves.length - 1;
  const taken = takenUp(uptake, aim.amounts);
  const { parts, follows } = dyedParts(curves, taken, observer);
  const off = differenceAlong(aim.near, aim.lab, labFromReflectances(parts));
  const missed: Three = [off[0] * aim.weight, off[1] * aim.weight, off[2] * aim.weight];
  const byBand = slopesByBand(aim, parts, follows, observer);
  const columns: [number, Three][] = [];
  const perTaken: Three[] = [];
  for (let curve = 0; curve <= dyes; curve++) {
    const amount = curve === 0 ? 1 : (taken[curve - 1] as number);
    const absorbed = curves[curve] as Float64Array;
    if (curve > 0) perTaken.push(summed(byBand, (band) => (amount > 0 ? (absorbed[band] as number) : 0)));
    if (amount === 0) continue;
    for (let knot = 0; knot < KNOTS; knot++) {
      const column = summed(
        byBand,
        (band) => amount * (absorbed[band] as number) * (knotWeights(band)[knot] as number),
      );
      columns.push([curve * KNOTS + knot, column]);
    }
  }
  const { fullness, crowding } = uptake;
  const hindered = aim.amounts.map((amount, dye) => amount * (fullness[dye] as number));
  const all = hindered.reduce((sum, each) => sum + each, 0);
  // u = c ÷ d, so that u follows d by −u² ÷ c.
  const perHindrance = taken.map((each, dye) => (each > 0 ? -(each ** 2) / (aim.amounts[dye] as number) : 0));
  const follow = (ofDye: (dye: number) => number): Three => {
    const sum: [number, number, number] = [0, 0, 0];
    perTaken.forEach((slopes, dye) => {
      for (let axis = 0; axis < 3; axis++)
        sum[axis] =
          (sum[axis] as number) + (slopes[axis] as number) * (perHindrance[dye] as number) * ofDye(dye);
    });
    return sum;
  };
  hindered.forEach((own, dye) => {
    if (own > 0) columns.push([fullnessAt(dyes, dye), follow((on) => own * (on === dye ? 1 : crowding))]);
  });
  if (dyesIn(aim.amounts) > 1)
    columns.push([crowdingAt(dyes), follow((on) => all - (hindered[on] as number))]);
  return { missed, columns };
}

/** How far each band's K/S moves what is missed, in three directions. */
function slopesByBand(
  aim: Aim,
  parts: readonly number[],
  follows: Float64Array,
  observer: Observer,
): Float64Array[] {
  const shares = bandShares('daylight', observer);
  const [x, y, z] = labSlopes(parts);
  // What one part more of X, Y or Z does to L*, a* and b*.
  const ofParts = [
    { l: 0, a: 500 * x, b: 0 },
    { l: 116 * y, a: -500 * y, b: 200 * y },
    { l: 0, a: 0, b: -200 * z },
  ].map((lab) => differenceAlong(aim.near, { l: 0, a: 0, b: 0 }, lab));
  return [0, 1, 2].map((direction) =>
    follows.map((follow, band) => {
      const sum = ofParts.reduce(
        (total, of, part) => total + (of[direction] as number) * (shares[part]?.[band] as number),
        0,
      );
      return sum * follow * aim.weight;
    }),
  );
}

function summed(byBand: readonly Float64Array[], weight: (band: number) => number): Three {
  const sum: [number, number, number] = [0, 0, 0];
  for (let band = 0; band < BANDS; band++) {
    const by = weight(band);
    if (by === 0) continue;
    for (let axis = 0; axis < 3; axis++)
      sum[axis] = (sum[axis] as number) + (byBand[axis]?.[band] as number) * by;
  }
  return sum;
}

/** The values after a damped step; null where there is none. No step takes a value further than e² at once. */
function moved(
  values: Float64Array,
  matrix: Float64Array,
  downhill: Float64Array,
  damping: number,
  dyes: number,
): Float64Array | null {
  const n = values.length;
  const damped = matrix.slice();
  for (let at = 0; at < n; at++) damped[at * n + at] = (damped[at * n + at] as number) * (1 + damping);
  if (!takeApart(damped)) return null;
  const step = solveFor(damped, downhill);
  const next = values.map((value, at) => value + Math.max(-2, Math.min(2, step[at] as number)));
  const last = crowdingAt(dyes);
  next[last] = Math.max(0, Math.min(MOST_CROWDING, next[last] as number));
  return next;
}
