/** The band and the opening: what is cut, what holds it closed, and which layers it goes through. Lengths in ticks. */
import { TICKS_PER } from '../../quantity/length.ts';

/** A straight waistband as it is asked for. */
export interface Waistband {
  readonly waistTicks: number;
  readonly easeTicks: number;
  /** overlap and underlap beyond the waist, together */
  readonly lapsTicks: number;
  readonly finishedDepthTicks: number;
  readonly seamTicks: number;
  /** outer piece and facing apart, not one piece folded; folded where it is left out */
  readonly faced?: boolean;
}

/** The band cut: waist + ease + laps + 2s long, and twice its finished depth + 2s, or once where it is faced (geometry). */
export function cutWaistband(band: Waistband): { readonly lengthTicks: number; readonly depthTicks: number } {
  const { waistTicks, easeTicks, lapsTicks, finishedDepthTicks, seamTicks } = band;
  return {
    lengthTicks: waistTicks + easeTicks + lapsTicks + 2 * seamTicks,
    depthTicks: (band.faced ? 1 : 2) * finishedDepthTicks + 2 * seamTicks,
  };
}

/** Hooks or snaps of an opening, one at each spacing and one at the end. Throws RangeError for no spacing. */
export function fastenersFor(openingTicks: number, spacingTicks: number): number {
  if (spacingTicks < 1) throw new RangeError('fasteners stand some way apart');
  return Math.floor(openingTicks / spacingTicks) + 1;
}

/** The strip of a continuous lap: twice the opening long (The New Dressmaker, 1921, p. 100). */
export function placketStrip(openingTicks: number): number {
  return 2 * openingTicks;
}

/** An underlap reaches an inch below the opening (The New Dressmaker, 1921, p. 102). */
export function underlapStrip(openingTicks: number): number {
  return openingTicks + TICKS_PER.in;
}

/**
 * The lace of a crossed lacing: gap + 2(m − 1)·√(gap² + pitch²) + 2 tails, for m pairs of eyelets (geometry). It is sized
 * by the gap that is needed to get in, rounded up to the tick. Throws RangeError for fewer than two pairs.
 */
export function laceLength(pairs: number, gapTicks: number, pitchTicks: number, tailTicks: number): number {
  if (pairs < 2) throw new RangeError('a lacing has two pairs of eyelets or more');
  return Math.ceil(gapTicks + 2 * (pairs - 1) * Math.hypot(gapTicks, pitchTicks) + 2 * tailTicks);
}

/** A cord in a casing: what it passes when it is fully open, and a tail at each end. */
export function cordLength(openTicks: number, tailTicks: number): number {
  return openTicks + 2 * tailTicks;
}

/**
 * Elastic for a body measure: drawn up by a share of it in hundredths of a percent, and a lap. Throws RangeError for a
 * share of everything.
 */
export function elasticLength(bodyTicks: number, reductionBp: number, lapTicks: number): number {
  if (reductionBp < 0 || reductionBp >= 10_000)
    throw new RangeError('elastic is drawn up by less than all of it');
  return Math.round((bodyTicks * (10_000 - reductionBp)) / 10_000) + lapTicks;
}

/** How an opening from the waist goes through a layer that is sewn on at a drop. */
export type LayerOpening =
  | { readonly how: 'ring' }
  /** two finished ends from top to bottom */
  | { readonly how: 'open' }
  /** open from its upper edge so far down, and closed below */
  | { readonly how: 'partly'; readonly openTicks: number };

/** An opening of this depth below the waist: a layer that begins below it stays a ring (common practice, geometry). */
export function openingThrough(openingTicks: number, dropTicks: number, depthTicks: number): LayerOpening {
  if (dropTicks >= openingTicks) return { how: 'ring' };
  return dropTicks + depthTicks <= openingTicks
    ? { how: 'open' }
    : { how: 'partly', openTicks: openingTicks - dropTicks };
}
