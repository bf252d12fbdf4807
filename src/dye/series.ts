/** A graded series: one recipe at several depths, or its dyes moved step by step to those of another. */

import { sayViewing, type Viewing } from '../colour/colour-reading.ts';
import { kOverS, reflectanceWith } from '../colour/kubelka-munk.ts';
import { deltaE00, type Lab } from '../colour/lab.ts';
import { labFromReflectances, reflectancesOf } from '../colour/reflectance.ts';
import { dyesAtDepth, withDyes } from './depth.ts';
import type { Warning } from './dye-advice.ts';
import { DYE_CLASS_NAMES } from './dye-class.ts';
import { type FibreCode, fibreOf } from './fibre.ts';
import { depthOwfMilli, type Recipe } from './recipe.ts';

/** A recipe and the fibre that it is for. */
export interface SeriesEnd {
  readonly fibre: FibreCode;
  readonly recipe: Recipe;
}

export interface SeriesStep {
  /** all dyes together, in thousandths of a percent on weight of fabric */
  readonly depthOwfMilli: number;
  /** how far the dyes are moved to those of the other recipe, in hundredths of a percent */
  readonly movedBp: number;
  readonly recipe: Recipe;
}

/**
 * The recipe of each step at its depth. With a second recipe the proportions of the dyes move from those of the first to
 * those of the second in equal steps; the rest is that of the first. Without, they are kept.
 */
export function seriesSteps(
  from: SeriesEnd,
  to: SeriesEnd | null,
  depths: readonly number[],
): readonly SeriesStep[] {
  return depths.map((depth, at) => {
    const movedBp = to ? Math.round((10_000 * at) / Math.max(1, depths.length - 1)) : 0;
    const dyes = dyesAtDepth(mixedDyes(from.recipe, to?.recipe ?? from.recipe, movedBp), depth);
    return { depthOwfMilli: depth, movedBp, recipe: withDyes(from.recipe, from.fibre, dyes) };
  });
}

/** Dyes by name with their weights in the mixture, those of the first recipe first. */
function mixedDyes(from: Recipe, to: Recipe, movedBp: number): { name: string; weight: number }[] {
  const weights = new Map<string, number>();
  // Each recipe counts alike however deep it is: a dye's weight is its share of its own recipe.
  const add = (recipe: Recipe, other: Recipe, shareBp: number) => {
    for (const { name, owfMilli } of recipe.dyes)
      weights.set(name, (weights.get(name) ?? 0) + owfMilli * depthOwfMilli(other) * shareBp);
  };
  add(from, to, 10_000 - movedBp);
  add(to, from, movedBp);
  return [...weights].map(([name, weight]) => ({ name, weight }));
}

/** Why dyes of two recipes cannot be moved from one to the other in one bath; '' where they can. */
export function whyNotTogether(from: SeriesEnd, to: SeriesEnd): string {
  if (from.fibre !== to.fibre)
    return `The one recipe is for ${fibreOf(from.fibre).name} and the other for ${fibreOf(to.fibre).name}: copy one for the same fibre.`;
  if (from.recipe.dyeClass !== to.recipe.dyeClass)
    return `The one is ${DYE_CLASS_NAMES[from.recipe.dyeClass]} and the other ${DYE_CLASS_NAMES[to.recipe.dyeClass]}: one bath takes one class.`;
  if (from.recipe.method !== to.recipe.method)
    return `The one is worked ${from.recipe.method || 'without a group'} and the other ${to.recipe.method || 'without a group'}: they want other heats.`;
  return '';
}

/** Share of the label's maximum from which a depth is warned of, in percent (common practice). */
const NEAR_FULL_PERCENT = 80;

/** What to know of depths as they are asked; `mostOwfMilli` is the deepest that the label gives, where it is known. */
export function seriesWarnings(depths: readonly number[], mostOwfMilli: number | null): Warning[] {
  const looks =
    'Equal steps of dye are not equal steps to the eye: the dark end flattens as the fibre fills, and the pale end shows every error of weighing. Swatches tell where each step lies.';
  const warnings = [{ id: 'ratios-not-looks', text: looks, source: 'common practice' }];
  const deepest = Math.max(...depths);
  if (mostOwfMilli !== null && deepest * 100 > mostOwfMilli * NEAR_FULL_PERCENT) {
    const text = `The darkest step is over ${NEAR_FULL_PERCENT} % of the label's maximum: little more dye will go on, and more washes off.`;
    warnings.push({ id: 'near-full', text, source: 'common practice' });
  }
  return warnings;
}

/** The order of baths in one pot: from pale to deep, so that what clings to the pot is always less than what comes. */
export function bathOrder(depths: readonly number[]): number[] {
  return depths.map((_, at) => at).sort((a, b) => (depths[a] ?? 0) - (depths[b] ?? 0));
}

/** A swatch that was measured at a depth. */
export interface MeasuredDepth {
  readonly depthOwfMilli: number;
  readonly lab: Lab;
  /** what the figures are for: those of two lights or observers are never compared */
  readonly viewing: Viewing;
}

/** What most of some swatches were read for; null where there are none. */
export function mostRead(measured: readonly { readonly viewing: Viewing }[]): Viewing | null {
  const countOf = (viewing: Viewing) =>
    measured.filter((each) => sayViewing(each.viewing) === sayViewing(viewing)).length;
  const [most] = measured
    .map(({ viewing }) => viewing)
    .toSorted((one, other) => countOf(other) - countOf(one));
  return most ?? null;
}

/** As many depths must be measured before one between them is worked out (common practice). */
export const LEAST_MEASURED = 5;

/** How a colour is known: of a swatch, worked out between swatches, or predicted from what dyes do on the cloth. */
export type HowKnown = 'measured' | 'worked out' | 'predicted';

export type NeighbourDifference =
  | { readonly ok: true; readonly deltaE: number; readonly how: HowKnown }
  | { readonly ok: false; readonly reason: string };

/**
 * The difference to be seen between each depth and the next (CIEDE2000): of measured swatches where both depths were
 * measured, else of what is `predicted` of each (null where nothing is), else worked out between at least five measured
 * depths. `kept` says that all steps have the same dyes in the same proportions; otherwise nothing can be worked out
 * between them. Swatches that were read for another light or observer than most do not count. One less than there are depths.
 */
export function neighbourDifferences(
  depths: readonly number[],
  measured: readonly MeasuredDepth[],
  kept: boolean,
  predicted: readonly (Lab | null)[] = [],
): NeighbourDifference[] {
  const viewing = mostRead(measured);
  const isAlike = (each: MeasuredDepth) =>
    viewing !== null && sayViewing(each.viewing) === sayViewing(viewing);
  const [alike, others] = [measured.filter(isAlike), measured.filter((each) => !isAlike(each))];
  const colours = depths.map((depth, at): ColourAt => {
    const known = alike.findLast(({ depthOwfMilli }) => depthOwfMilli === depth);
    if (known) return { ok: true, lab: known.lab, how: 'measured' };
    const lab = predicted[at] ?? null;
    if (lab) return { ok: true, lab, how: 'predicted' };
    const other = others.findLast(({ depthOwfMilli }) => depthOwfMilli === depth);
    if (other && viewing)
      return {
        ok: false,
        reason: `its swatch was read for ${sayViewing(other.viewing)}, the others for ${sayViewing(viewing)}`,
      };
    return colourBetween(depth, alike, kept);
  });
  return colours.slice(1).map((next, at): NeighbourDifference => {
    const before = colours[at];
    if (before?.ok && next.ok) {
      const how = HOWS.find((each) => before.how === each || next.how === each) ?? 'measured';
      return { ok: true, deltaE: deltaE00(before.lab, next.lab), how };
    }
    const missing = before?.ok === false ? before : next;
    return { ok: false, reason: missing.ok ? '' : missing.reason };
  });
}

/** The least sure first. */
const HOWS: readonly HowKnown[] = ['predicted', 'worked out', 'measured'];

type ColourAt =
  | { readonly ok: true; readonly lab: Lab; readonly how: HowKnown }
  | { readonly ok: false; readonly reason: string };

/** Between measured depths K/S of X, Y and Z is taken as straight: a stand-in for that of each wavelength (our rule). */
function colourBetween(depth: number, measured: readonly MeasuredDepth[], kept: boolean): ColourAt {
  const others = new Map(measured.map((each) => [each.depthOwfMilli, each]));
  if (!kept)
    return { ok: false, reason: 'no swatch of it is measured, and its dyes are in another proportion' };
  if (others.size < LEAST_MEASURED)
    return {
      ok: false,
      reason: `no swatch of it is measured, and of ${LEAST_MEASURED} depths to work it out from ${others.size} are`,
    };
  const sorted = [...others.values()].sort((a, b) => a.depthOwfMilli - b.depthOwfMilli);
  const upper = sorted.find(({ depthOwfMilli: at }) => at > depth);
  const lower = sorted.findLast(({ depthOwfMilli: at }) => at < depth);
  if (!upper || !lower)
    return { ok: false, reason: 'no swatch of it is measured, and it lies beyond those that are' };
  const share = (depth - lower.depthOwfMilli) / (upper.depthOwfMilli - lower.depthOwfMilli);
  const [low, high] = [reflectancesOf(lower.lab), reflectancesOf(upper.lab)];
  const between = low.map((reflectance, axis) => {
    const [one, other] = [kOverS(reflectance), kOverS(high[axis] ?? reflectance)];
    return reflectanceWith(one + (other - one) * share);
  });
  return { ok: true, lab: labFromReflectances(between), how: 'worked out' };
}
