import type { Form, GirthPoint } from './girth.ts';
import type { SemiAxes } from './hoop.ts';

/**
 * Half the width and half the depth of a form at a drop, in ticks, not rounded.
 *
 * A girth without a hoop is a circle. Between two girths of a straight form both axes grow evenly down the slant. A
 * domed form takes each axis on a smooth curve through all girths, a guess: the monotone cubic of Fritsch and Carlson
 * (SIAM Journal on Numerical Analysis 17, 1980), upright at the lowest girth; between two girths alone that is the
 * parabola 2t − t². Above the first and below the last girth their own axes are given.
 */
export function axesAt(form: Form, dropTicks: number): SemiAxes {
  const below = form.girths.findIndex((point) => point.dropTicks >= dropTicks);
  const place = below < 0 ? form.girths.length : below;
  const [upper, lower] = [form.girths[place - 1], form.girths[place]];
  if (!upper || !lower) return semiAxesOf(upper ?? lower ?? { dropTicks: 0, girthTicks: 0 });
  const axis = (of: (point: GirthPoint) => number) =>
    form.profile === 'domed'
      ? curved(form.girths, of, place, dropTicks)
      : of(upper) +
        ((of(lower) - of(upper)) * (dropTicks - upper.dropTicks)) / (lower.dropTicks - upper.dropTicks);
  return { a: axis((point) => semiAxesOf(point).a), b: axis((point) => semiAxesOf(point).b) };
}

/** The semi-axes at a given girth, in ticks. */
export function semiAxesOf({ girthTicks, hoop }: GirthPoint): SemiAxes {
  if (hoop) return { a: hoop.widthTicks / 2, b: hoop.depthTicks / 2 };
  const radius = girthTicks / (2 * Math.PI);
  return { a: radius, b: radius };
}

/** A cubic between the girths at `place` − 1 and `place`, by the values and slopes at both. */
function curved(
  girths: readonly GirthPoint[],
  of: (point: GirthPoint) => number,
  place: number,
  dropTicks: number,
): number {
  const [upper, lower] = [girths[place - 1], girths[place]];
  if (!upper || !lower) return 0;
  const span = lower.dropTicks - upper.dropTicks;
  const t = (dropTicks - upper.dropTicks) / span;
  const [from, to] = [slopeAt(girths, of, place - 1) * span, slopeAt(girths, of, place) * span];
  const back = 1 - t;
  return (
    of(upper) * back * back * (1 + 2 * t) +
    of(lower) * t * t * (3 - 2 * t) +
    from * t * back * back -
    to * t * t * back
  );
}

/** The slope of an axis at a girth: never more than three times a secant beside it, so that the curve cannot overshoot. */
function slopeAt(girths: readonly GirthPoint[], of: (point: GirthPoint) => number, place: number): number {
  const before = secant(girths, of, place);
  const after = secant(girths, of, place + 1);
  if (after === null) return 0;
  if (before === null) {
    // The parabola that leaves the next girth with the slope that it has there.
    const first = 2 * after - slopeAt(girths, of, place + 1);
    return within(first, after);
  }
  return before * after <= 0
    ? 0
    : within((before + after) / 2, Math.abs(before) < Math.abs(after) ? before : after);
}

/** A slope brought to between none and three times a secant. */
function within(slope: number, along: number): number {
  if (slope * along <= 0) return 0;
  return Math.abs(slope) > 3 * Math.abs(along) ? 3 * along : slope;
}

/** How an axis grows for each tick between a girth and the one above it; null where there is none. */
function secant(
  girths: readonly GirthPoint[],
  of: (point: GirthPoint) => number,
  place: number,
): number | null {
  const [upper, lower] = [girths[place - 1], girths[place]];
  return upper && lower ? (of(lower) - of(upper)) / (lower.dropTicks - upper.dropTicks) : null;
}
