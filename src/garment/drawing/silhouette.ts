import { axesAt } from '../axes.ts';
import type { Form } from '../girth.ts';
import { verticalDropsOf } from '../vertical-drop.ts';

/** Seen from the side a form is as wide as it is deep from front to back; from the front as wide as it is. */
export type View = 'side' | 'front';

/** A point of a form as it is seen: half its width and how far it lies below the waist, in ticks. */
export interface SilhouettePoint {
  readonly dropTicks: number;
  readonly halfWidthTicks: number;
  readonly downTicks: number;
}

/** A form as it is seen, from its first girth to its last. A girth that is no hoop is taken as round. */
export function silhouetteOf(form: Form, view: View): SilhouettePoint[] {
  const curved = form.profile === 'domed' || form.girths.some(({ hoop }) => hoop);
  const given = new Set(form.girths.map(({ dropTicks }) => dropTicks));
  return verticalDropsOf(form)
    .filter(({ dropTicks }) => curved || given.has(dropTicks))
    .map(({ dropTicks, verticalTicks }) => {
      const { a, b } = axesAt(form, dropTicks);
      return { dropTicks, halfWidthTicks: view === 'side' ? b : a, downTicks: verticalTicks };
    });
}

/** True where a form looks another from the front than from the side. */
export function isOval(form: Form): boolean {
  return form.girths.some(({ hoop }) => hoop && hoop.widthTicks !== hoop.depthTicks);
}

/** The form at a drop: between two points on a straight line, straight up above the first, straight down below the last. */
export function silhouetteAt(side: readonly SilhouettePoint[], dropTicks: number): SilhouettePoint {
  const place = side.findIndex((point) => point.dropTicks >= dropTicks);
  const [upper, lower] = [side[place - 1], side[place]];
  if (upper && lower) return between(upper, lower, dropTicks);
  const end = lower ?? side.at(-1) ?? { dropTicks, halfWidthTicks: 0, downTicks: dropTicks };
  return { ...end, dropTicks, downTicks: end.downTicks + dropTicks - end.dropTicks };
}

function between(upper: SilhouettePoint, lower: SilhouettePoint, dropTicks: number): SilhouettePoint {
  const part = (dropTicks - upper.dropTicks) / (lower.dropTicks - upper.dropTicks);
  const along = (from: number, to: number) => from + (to - from) * part;
  return {
    dropTicks,
    halfWidthTicks: along(upper.halfWidthTicks, lower.halfWidthTicks),
    downTicks: along(upper.downTicks, lower.downTicks),
  };
}

/** The points of the side from one drop to another, its bends between them included. */
export function silhouetteBetween(
  side: readonly SilhouettePoint[],
  fromTicks: number,
  toTicks: number,
): readonly SilhouettePoint[] {
  const bends = side.filter(({ dropTicks }) => dropTicks > fromTicks && dropTicks < toTicks);
  return [silhouetteAt(side, fromTicks), ...bends, silhouetteAt(side, toTicks)];
}
