/** Predicts the shade of a recipe on one cloth, and says how near it is likely to be: as near as it came to mixtures that it was not shown. */

import type { Observer } from '../colour-reading.ts';
import { deltaE00, type Lab } from '../lab.ts';
import { type DyedSwatch, type DyeModel, dyesIn } from './dye-model.ts';
import { type Fitted, fitDyeModel } from './fit.ts';
import { learnFrom } from './learned.ts';

/** With fewer mixtures than these a prediction is a rough guess. */
export const ENOUGH_MIXTURES = 8;
/**
 * A rough guess is no nearer than this, in units of CIEDE2000: of first dyeings 1 in 20 lies further off (between simulated dyes
 * and measured mixtures of watercolours, Chen 2019, arXiv 1904.00275).
 */
export const ROUGH_WITHIN = 6;
/** Mixtures are left out one by one, or where there are more, in so many groups. */
const MOST_GROUPS = 12;
/** Of 10 predictions 9 are to lie within the band. */
const SHARE_WITHIN = 0.9;

export interface ShadePredictor {
  readonly model: DyeModel;
  /** how many mixtures it learned from, and so was tried on */
  readonly mixtures: number;
  readonly isRough: boolean;
  /** the shade that amounts of each dye in its order, in % on weight of fabric, are expected to give: D65, the model's observer */
  shadeOf(amounts: readonly number[]): Lab;
  /** 9 of 10 such dyeings come out within this of that shade, in units of CIEDE2000 */
  withinOf(amounts: readonly number[]): number;
}

/** All that takes long to work out of a set of swatches: plain figures that can be kept and sent. */
export interface FittedSet {
  readonly model: DyeModel;
  /** of each mixture, how it lay when it was left out */
  readonly trials: readonly LeftOutTrial[];
}

/** How far a mixture lay from what was predicted without it, in units of CIEDE2000, and how strange it was. */
export interface LeftOutTrial {
  readonly off: number;
  readonly strangeness: number;
}

/**
 * Learns from swatches of one cloth with `dyes` amounts each, read for one observer: one or more undyed, of each dye some where
 * it is alone, and as many mixtures as there are. Throws RangeError where one is missing.
 */
export function predictorFor(
  swatches: readonly DyedSwatch[],
  dyes: number,
  observer: Observer,
): ShadePredictor {
  return predictorOf(swatches, fitSet(swatches, dyes, observer));
}

/** What `predictorFor` works out at length: tens of milliseconds. */
export function fitSet(swatches: readonly DyedSwatch[], dyes: number, observer: Observer): FittedSet {
  const fitted = fitDyeModel(swatches, dyes, observer);
  const mixtures = swatches.filter(({ amounts }) => dyesIn(amounts) > 1);
  return { model: fitted.model, trials: tryOnMixtures(swatches, mixtures, fitted) };
}

/** The predictor of swatches that were fitted before. */
export function predictorOf(swatches: readonly DyedSwatch[], { model, trials }: FittedSet): ShadePredictor {
  const learned = learnFrom(model, swatches);
  const within = bandOf(trials, roughWithin(swatches));
  return {
    model,
    mixtures: trials.length,
    isRough: trials.length < ENOUGH_MIXTURES,
    shadeOf: learned.shadeOf,
    withinOf: (amounts) => within(learned.strangenessOf(amounts)),
  };
}

/** What a rough guess is within: the more, the less sure the readings that it is from. */
export function roughWithin(swatches: readonly DyedSwatch[]): number {
  const sure = swatches.reduce((sum, { uncertainty }) => sum + uncertainty, 0) / swatches.length;
  return Math.hypot(ROUGH_WITHIN, sure);
}

function tryOnMixtures(
  swatches: readonly DyedSwatch[],
  mixtures: readonly DyedSwatch[],
  fitted: Fitted,
): LeftOutTrial[] {
  const groups = Math.min(MOST_GROUPS, mixtures.length);
  return Array.from({ length: groups }, (_, group) => {
    const out = mixtures.filter((_, at) => at % groups === group);
    const rest = swatches.filter((each) => !out.includes(each));
    const learned = learnFrom(
      fitDyeModel(rest, fitted.model.perPercent.length, fitted.model.observer, fitted).model,
      rest,
    );
    return out.map(({ amounts, lab }) => ({
      off: deltaE00(learned.shadeOf(amounts), lab),
      strangeness: learned.strangenessOf(amounts),
    }));
  }).flat();
}

/**
 * The band of a prediction by its strangeness: where in order of size the trials' share of 9 in 10 lies, counting the one to come
 * (split conformal prediction: Vovk, Gammerman and Shafer). Few trials tell little of the seldom large error: the band is
 * wider by three parts in their number, with which it kept to 9 in 10 of invented dyes (our rule).
 */
function bandOf(trials: readonly LeftOutTrial[], rough: number): (strangeness: number) => number {
  const n = trials.length;
  const sorted = trials.map(({ off, strangeness }) => off / strangeness).sort((a, b) => a - b);
  const place = Math.min(n, Math.ceil(SHARE_WITHIN * (n + 1)));
  const times = n === 0 ? 0 : (sorted[place - 1] as number) * (1 + 3 / n);
  const least = n < ENOUGH_MIXTURES ? rough : 0;
  return (strangeness) => Math.max(least, times * strangeness);
}
