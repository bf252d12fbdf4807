import type { GirthPoint } from '../../src/form.ts';

/** A point of a form seen from the side: half its width and how far it lies below the waist, in ticks. */
export interface SidePoint {
  readonly dropTicks: number;
  readonly halfWidthTicks: number;
  readonly downTicks: number;
}

/**
 * A form seen from the side. A girth is taken as a circle, so that half its width is girth ÷ 2π; a drop runs down the
 * slant, so that between two girths the form falls by √(slant² − growth²). Where the girth grows by more than the
 * slant allows the form is drawn level.
 */
export function sideOf(girths: readonly GirthPoint[]): SidePoint[] {
  let downTicks = girths[0]?.dropTicks ?? 0;
  return girths.map(({ dropTicks, girthTicks }, place) => {
    const halfWidthTicks = girthTicks / (2 * Math.PI);
    const above = girths[place - 1];
    if (above) {
      const slant = dropTicks - above.dropTicks;
      const growth = halfWidthTicks - above.girthTicks / (2 * Math.PI);
      downTicks += Math.sqrt(Math.max(0, slant * slant - growth * growth));
    }
    return { dropTicks, halfWidthTicks, downTicks };
  });
}

/** The side at a drop: between two girths on a straight line, above and below them along the nearest slant. */
export function sideAt(side: readonly SidePoint[], dropTicks: number): SidePoint {
  const place = side.findIndex((point) => point.dropTicks >= dropTicks);
  const lower = place < 0 ? side.length - 1 : Math.max(1, place);
  const [from, to] = [side[lower - 1], side[lower]];
  if (!from || !to) return { dropTicks, halfWidthTicks: 0, downTicks: dropTicks };
  const part = (dropTicks - from.dropTicks) / (to.dropTicks - from.dropTicks);
  const along = (a: number, b: number) => a + (b - a) * part;
  return {
    dropTicks,
    halfWidthTicks: Math.max(0, along(from.halfWidthTicks, to.halfWidthTicks)),
    downTicks: along(from.downTicks, to.downTicks),
  };
}

/** The points of the side from one drop to another, its bends between them included. */
export function sideBetween(
  side: readonly SidePoint[],
  fromTicks: number,
  toTicks: number,
): readonly SidePoint[] {
  const bends = side.filter(({ dropTicks }) => dropTicks > fromTicks && dropTicks < toTicks);
  return [sideAt(side, fromTicks), ...bends, sideAt(side, toTicks)];
}
