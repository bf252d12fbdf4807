/** Depths of a graded series, in thousandths of a percent on weight of fabric. */

import { deltaE00, type Lab } from '../colour/lab.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { readOwf, showOwf } from './bench-figures.ts';
import { RECIPE_LIMITS } from './recipe.ts';

/** Steps in a series at least and at most. */
export const LEAST_STEPS = 2;
export const MOST_STEPS = 12;

/**
 * Depths in equal ratios from the first to the last, each rounded once: D1 × (Dn ÷ D1)^((i − 1) ÷ (n − 1)). Throws
 * RangeError unless both depths are whole and above 0 and there are 2 to 12 steps.
 */
export function equalRatios(first: number, last: number, steps: number): number[] {
  if (!(Number.isInteger(first) && Number.isInteger(last) && first > 0 && last > 0))
    throw new RangeError('A depth is a whole number above 0');
  if (!(Number.isInteger(steps) && steps >= LEAST_STEPS && steps <= MOST_STEPS))
    throw new RangeError(`A series has ${LEAST_STEPS} to ${MOST_STEPS} steps`);
  return Array.from({ length: steps }, (_, at) => Math.round(first * (last / first) ** (at / (steps - 1))));
}

/** So many turns bring the differences of any ladder as near to each other as thousandths of a percent allow. */
const EVENING_TURNS = 40;

/**
 * Depths from the first to the last of which each looks as different from the next (CIEDE2000), as `shadeAt` has the shade of
 * a depth in thousandths of a percent; each rounded once. Throws RangeError as `equalRatios` does.
 */
export function equalLooks(
  first: number,
  last: number,
  steps: number,
  shadeAt: (depth: number) => Lab,
): number[] {
  // Where each depth lies between the first and the last, in ratios; only those between are moved.
  let places = equalRatios(first, last, steps).map((_, at) => at / (steps - 1));
  const depthAt = (place: number) => first * (last / first) ** place;
  for (let turn = 0; turn < EVENING_TURNS; turn++) {
    const shades = places.map((place) => shadeAt(depthAt(place)));
    const apart = shades.slice(1).map((shade, at) => Math.max(1e-3, deltaE00(shades[at] ?? shade, shade)));
    const mean = apart.reduce((sum, each) => sum + each, 0) / apart.length;
    // A gap that looks too wide is drawn together, half of the way at once.
    const gaps = apart.map((each, at) => ((places[at + 1] ?? 1) - (places[at] ?? 0)) * (mean / each) ** 0.5);
    const whole = gaps.reduce((sum, each) => sum + each, 0);
    let place = 0;
    places = [0, ...gaps.map((gap) => (place += gap / whole))];
  }
  return places.map((place, at) => (at === steps - 1 ? last : Math.round(depthAt(place))));
}

/**
 * Reads chosen depths, the palest or the deepest first: "0.1/0.2/0.4/0.8/1.6", "2 1 0.5 %". In thousandths of a percent.
 * Refused unless each is deeper, or each paler, than the one before.
 */
export function readLadder(typed: string): Reading<readonly number[]> {
  const texts = typed.split(/[/;\s]+/).filter((text) => text !== '' && !/^%|^owf$/i.test(text));
  if (texts.length < LEAST_STEPS || texts.length > MOST_STEPS)
    return refused(
      `Write ${LEAST_STEPS} to ${MOST_STEPS} depths with a stroke between: 0.1/0.2/0.4/0.8/1.6.`,
    );
  const depths: number[] = [];
  for (const text of texts) {
    const reading = readOwf(text);
    if (!reading.ok) return refused(`${text}: ${reading.reason}`);
    if (reading.value === 0) return refused('A step has some dye: write a depth above 0.');
    if (reading.value > RECIPE_LIMITS.dyeOwfMilli)
      return refused(`Write ${showOwf(RECIPE_LIMITS.dyeOwfMilli)} or less for each step.`);
    depths.push(reading.value);
  }
  const rises = depths.every((depth, at) => at === 0 || depth > (depths[at - 1] ?? 0));
  const falls = depths.every((depth, at) => at === 0 || depth < (depths[at - 1] ?? 0));
  if (!rises && !falls) return refused('Write the depths in order, from pale to deep or from deep to pale.');
  return { ok: true, value: depths, echo: depths.map((depth) => showOwf(depth)).join(', '), exact: true };
}

/**
 * The jug-halving ladder: half of a full jug goes into the first vessel, the jug is filled to its mark with water, and so
 * on. Vessel k gets half a jug at 2^(1 − k) of the first strength, as denominators: 1, 2, 4, 8. What is left at the end is
 * poured away: poured into the last vessel, it would make the last two equal. Source: a hand-dye tutorial disc,
 * textfiles 8117.
 */
export function jugHalving(vessels: number): { readonly denominator: number }[] {
  return Array.from({ length: vessels }, (_, at) => ({ denominator: 2 ** at }));
}

/** Whether each depth is half of its neighbour, to the rounding of a thousandth of a percent. */
export function isHalving(depths: readonly number[]): boolean {
  const deepFirst = [...depths].sort((a, b) => b - a);
  const top = deepFirst[0] ?? 0;
  return depths.length > 1 && deepFirst.every((depth, at) => Math.abs(depth - top / 2 ** at) <= 0.5);
}
