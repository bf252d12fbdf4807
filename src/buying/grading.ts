import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import { TICKS_PER } from '../quantity/length.ts';

/** How holes are charged: by their size, or always with four points, as some buyers have it. */
export type HoleRule = 'by size' | 'always four';

/** A flaw on a bolt: where it begins from the end measured from, and how long it is, in ticks of 1/160 mm. */
export interface GradedFlaw {
  readonly fromTicks: number;
  readonly lengthTicks: number;
  readonly hole: boolean;
}

/** Points that one linear yard is charged with at most (ASTM D5430, four-point system). */
export const MOST_POINTS_A_YARD = 4;

/** How long flaws of one, two and three points are at most, and a hole of two. Source: ASTM D5430. */
export const FLAW_LIMITS_TICKS = [3 * TICKS_PER.in, 6 * TICKS_PER.in, 9 * TICKS_PER.in] as const;
export const HOLE_LIMIT_TICKS = TICKS_PER.in;

/**
 * The points of one flaw by its length: up to 3 in 1, over 3 to 6 in 2, over 6 to 9 in 3, longer 4; a hole up to
 * 1 in 2, a larger one 4. Source: ASTM D5430, four-point system. Throws RangeError on a flaw of no length.
 */
export function pointsOf(flaw: Pick<GradedFlaw, 'lengthTicks' | 'hole'>, holes: HoleRule): number {
  if (!Number.isSafeInteger(flaw.lengthTicks) || flaw.lengthTicks <= 0)
    throw new RangeError('A flaw is longer than nought.');
  if (flaw.hole) return holes === 'always four' || flaw.lengthTicks > HOLE_LIMIT_TICKS ? 4 : 2;
  return 1 + FLAW_LIMITS_TICKS.filter((limitTicks) => flaw.lengthTicks > limitTicks).length;
}

/**
 * The points of a whole bolt. No linear yard, counted from the end measured from, is charged with more than four. A
 * flaw belongs to the yard in which it begins; one that runs on for more than a yard is charged with four in every
 * yard it takes (common practice for running flaws).
 */
export function pointsOfBolt(flaws: readonly GradedFlaw[], holes: HoleRule): number {
  const yards = new Map<number, number>();
  for (const flaw of flaws) {
    const first = Math.floor(flaw.fromTicks / TICKS_PER.yd);
    const taken = Math.ceil(flaw.lengthTicks / TICKS_PER.yd);
    for (let yard = first; yard < first + taken; yard += 1) {
      yards.set(yard, (yards.get(yard) ?? 0) + pointsOf(flaw, holes));
    }
  }
  return [...yards.values()].reduce((sum, points) => sum + Math.min(points, MOST_POINTS_A_YARD), 0);
}

/** A bolt of cloth, in ticks, with the points it was charged with. */
export interface GradedBolt {
  readonly points: number;
  readonly widthTicks: number;
  readonly lengthTicks: number;
}

/**
 * Points in 100 square yards, in hundredths of a point, rounded to the nearest: points × 3600 ÷ (width in inches ×
 * length in yards). Source: ASTM D5430. Throws RangeError on a bolt without width or length.
 */
export function pointsPer100Yd2Centi(bolt: GradedBolt): number {
  return stored(divideRounded(bolt100(bolt, TICKS_PER.yd) * 100n, areaOf(bolt), 'near'));
}

/** Points in 100 square metres, in hundredths of a point: points × 100 000 ÷ (width in mm × length in m). */
export function pointsPer100M2Centi(bolt: GradedBolt): number {
  return stored(divideRounded(bolt100(bolt, TICKS_PER.m) * 100n, areaOf(bolt), 'near'));
}

/**
 * Whether a bolt has no more than `mostPoints` in 100 square yards, judged before any rounding. The standard sets no
 * pass mark; 40 is a common one (common practice).
 */
export function passes(bolt: GradedBolt, mostPoints: number): boolean {
  return bolt100(bolt, TICKS_PER.yd) <= exactly(mostPoints) * areaOf(bolt);
}

/** The points times a hundred squares of a unit, in square ticks. */
function bolt100({ points }: GradedBolt, unitTicks: number): bigint {
  return exactly(points) * 100n * exactly(unitTicks) ** 2n;
}

function areaOf({ widthTicks, lengthTicks }: GradedBolt): bigint {
  if (widthTicks <= 0 || lengthTicks <= 0) throw new RangeError('A bolt has a width and a length.');
  return exactly(widthTicks) * exactly(lengthTicks);
}
