import { axesAt } from './axes.ts';
import type { Form } from './girth.ts';

/** A form is walked down in so many steps between two girths. */
const STEPS = 24;

/** A point of a form's side: how far it lies below the waist down the surface and straight down, in ticks. */
export interface FallPoint {
  readonly dropTicks: number;
  readonly fallTicks: number;
}

/**
 * How far a form falls straight down for each drop down its surface, in ticks, not rounded.
 *
 * Between two drops it falls by √(drop² − growth²), the growth being that of its mean radius √(a·b) — of a round form
 * its radius; where it grows by more than the slant allows it is taken as level. Above the first girth it falls
 * straight down from the waist.
 */
export function fallOf(form: Form): FallPoint[] {
  const first = form.girths[0];
  if (!first) return [];
  const points: FallPoint[] = [{ dropTicks: first.dropTicks, fallTicks: first.dropTicks }];
  let radius = radiusAt(form, first.dropTicks);
  let fallTicks = first.dropTicks;
  form.girths.slice(1).forEach((lower, place) => {
    const upperTicks = form.girths[place]?.dropTicks ?? 0;
    const stepTicks = (lower.dropTicks - upperTicks) / STEPS;
    for (let step = 1; step <= STEPS; step += 1) {
      const dropTicks = step === STEPS ? lower.dropTicks : upperTicks + step * stepTicks;
      const next = radiusAt(form, dropTicks);
      fallTicks += Math.sqrt(Math.max(0, stepTicks * stepTicks - (next - radius) ** 2));
      radius = next;
      points.push({ dropTicks, fallTicks });
    }
  });
  return points;
}

/** How far below the waist a drop lies straight down, in whole ticks, the nearest; below the form cloth hangs free. */
export function fallAt(points: readonly FallPoint[], dropTicks: number): number {
  return Math.round(along(points, dropTicks, 'dropTicks', 'fallTicks'));
}

/** The drop down the surface that lies so far below the waist straight down, in whole ticks, the nearest. */
export function dropTo(points: readonly FallPoint[], fallTicks: number): number {
  return Math.round(along(points, fallTicks, 'fallTicks', 'dropTicks'));
}

function along(
  points: readonly FallPoint[],
  at: number,
  by: keyof FallPoint,
  wanted: keyof FallPoint,
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
