import { axesAt } from './axes.ts';
import type { Form } from './girth.ts';

/** A form is walked down in so many steps between two girths. */
const STEPS = 24;

/** A point of a form's side: how far it lies below the waist down the surface and straight down, in ticks. */
export interface VerticalDrop {
  readonly dropTicks: number;
  readonly verticalTicks: number;
}

/**
 * How far a form falls straight down for each drop down its surface, in ticks, not rounded.
 *
 * Between two drops it falls by √(drop² − growth²), the growth being that of its mean radius √(a·b) — of a round form
 * its radius; where it grows by more than the slant allows it is taken as level. Above the first girth it falls
 * straight down from the waist.
 */
export function verticalDropsOf(form: Form): VerticalDrop[] {
  const first = form.girths[0];
  if (!first) return [];
  const points: VerticalDrop[] = [{ dropTicks: first.dropTicks, verticalTicks: first.dropTicks }];
  let radius = radiusAt(form, first.dropTicks);
  let verticalTicks = first.dropTicks;
  form.girths.slice(1).forEach((lower, place) => {
    const upperTicks = form.girths[place]?.dropTicks ?? 0;
    const stepTicks = (lower.dropTicks - upperTicks) / STEPS;
    for (let step = 1; step <= STEPS; step += 1) {
      const dropTicks = step === STEPS ? lower.dropTicks : upperTicks + step * stepTicks;
      const next = radiusAt(form, dropTicks);
      verticalTicks += Math.sqrt(Math.max(0, stepTicks * stepTicks - (next - radius) ** 2));
      radius = next;
      points.push({ dropTicks, verticalTicks });
    }
  });
  return points;
}

/** How far below the waist a drop lies straight down, in whole ticks, the nearest; below the form cloth hangs free. */
export function verticalDropAt(points: readonly VerticalDrop[], dropTicks: number): number {
  return Math.round(along(points, dropTicks, 'dropTicks', 'verticalTicks'));
}

/** The drop down the surface that lies so far below the waist straight down, in whole ticks, the nearest. */
export function surfaceDropAt(points: readonly VerticalDrop[], verticalTicks: number): number {
  return Math.round(along(points, verticalTicks, 'verticalTicks', 'dropTicks'));
}

/** How high a garment's waist and hem hang, as far as that is known, in ticks; drops are to a level hem. */
export interface HemHeights {
  readonly waistHeightTicks: number | null;
  /** wanted between the hem and the floor */
  readonly clearanceTicks: number | null;
  readonly frontDropTicks: number | null;
  readonly sideDropTicks: number | null;
  readonly backDropTicks: number | null;
}

/**
 * How far below the waist the floor lies, in ticks, where the form stands as it is drawn: upright. A form that is tilted
 * does not stand so: the longest drop to its level hem ends as far above the floor as the hem is wanted. null where
 * that is not known.
 */
export function floorBelowWaist(form: Form, heights: HemHeights): number | null {
  const { waistHeightTicks, clearanceTicks } = heights;
  if (waistHeightTicks === null || !isTilted(heights)) return waistHeightTicks;
  if (clearanceTicks === null) return null;
  const { frontDropTicks, sideDropTicks, backDropTicks } = heights;
  const longestTicks = Math.max(frontDropTicks ?? 0, sideDropTicks ?? 0, backDropTicks ?? 0);
  return verticalDropAt(verticalDropsOf(form), longestTicks) + clearanceTicks;
}

/** Whether a form leans as it is worn: its level hem has drops of its own at front, side and back. */
export function isTilted({ frontDropTicks, sideDropTicks, backDropTicks }: HemHeights): boolean {
  return frontDropTicks !== null && sideDropTicks !== null && backDropTicks !== null;
}

function along(
  points: readonly VerticalDrop[],
  at: number,
  by: keyof VerticalDrop,
  wanted: keyof VerticalDrop,
): number {
  const place = points.findIndex((point) => point[by] >= at);
  const [upper, lower] = [points[place - 1], points[place]];
  if (!lower) {
    const last = points.at(-1);
    return last ? last[wanted] + (at - last[by]) : at;
  }
  if (!upper || lower[by] === upper[by]) return lower[wanted] - (lower[by] - at);
  return upper[wanted] + ((lower[wanted] - upper[wanted]) * (at - upper[by])) / (lower[by] - upper[by]);
}

/** The radius of the circle with the area of the form's outline there. */
function radiusAt(form: Form, dropTicks: number): number {
  const { a, b } = axesAt(form, dropTicks);
  return Math.sqrt(a * b);
}
