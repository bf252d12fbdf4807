/**
 * Circular flounces: rings or sectors whose inner edge is sewn on and whose outer edge flares. All lengths in ticks, worked
 * out by plane geometry; what is cut is rounded up to the whole tick, a radius to the nearest.
 */

/** A circular flounce as it is asked for. */
export interface Flounce {
  /** the finished length that it is sewn to */
  readonly seamTicks: number;
  readonly depthTicks: number;
  /** full circles in all, a quarter at the least; a ring that is slit once is one circle */
  readonly circles: number;
  /** of a circle: 1 for whole rings, 2 for halves, 4 for quarters and so on */
  readonly sectors: number;
  /** taken off each side of a join */
  readonly joinTicks: number;
  /** what the seam it hangs by takes inside the inner edge */
  readonly upperTicks: number;
  /** hem, and what the circle is to drop before it is levelled */
  readonly hemTicks: number;
  readonly usableWidthTicks: number;
}

export interface CutFlounce {
  /** sections to cut */
  readonly count: number;
  /** the angle of a section in degrees */
  readonly degrees: number;
  /** of the line it is sewn by, from the middle of the circle */
  readonly radiusTicks: number;
  readonly innerTicks: number;
  readonly outerTicks: number;
  /** of the finished lower edge */
  readonly hemLengthTicks: number;
  /** the lower edge by the upper */
  readonly flare: number;
  /** the rectangle that a section lies in, its join allowances counted */
  readonly blockWidthTicks: number;
  readonly blockHeightTicks: number;
  /** along the cloth from one section of a column to the next, which nests into it */
  readonly pitchTicks: number;
  readonly columns: number;
  readonly rows: number;
  readonly clothTicks: number;
}

export type FlounceWorkedOut =
  | { readonly ok: true; readonly cut: CutFlounce }
  | { readonly ok: false; readonly field: 'circles' | 'usableWidth' | 'upper'; readonly message: string };

/**
 * The circles of a flounce that is to flare by a ratio of lower to upper edge: n = (X − 1)·L ÷ (2π·d), the rule of Baldt,
 * Clothing for Women, 1916, fig. 56. Throws RangeError for a flare of 1 or less.
 */
export function circlesFor(flare: number, seamTicks: number, depthTicks: number): number {
  if (!(flare > 1)) throw new RangeError('a flounce flares by more than 1');
  return ((flare - 1) * seamTicks) / (2 * Math.PI * depthTicks);
}

/** The radius of a flounce that flares by a ratio over a depth: d ÷ (X − 1), in ticks. */
export function radiusFor(flare: number, depthTicks: number): number {
  if (!(flare > 1)) throw new RangeError('a flounce flares by more than 1');
  return depthTicks / (flare - 1);
}

/**
 * Works out a flounce: joins first, since they make the circle larger (r = (L + 2·s·j) ÷ 2πn, each section being joined to
 * the next), then the block of a section and how the sections of a column nest. Sections lie all one way, so that the cloth
 * may have a nap. Refused where a section is wider than the cloth, or the seam it hangs by is wider than the radius.
 */
export function cutFlounce(flounce: Flounce): FlounceWorkedOut {
  const { seamTicks, depthTicks, circles, sectors, joinTicks, upperTicks, hemTicks, usableWidthTicks } =
    flounce;
  const count = Math.max(1, Math.round(circles * sectors));
  // A flounce is whole sections: what was asked for is rounded to them.
  const full = count / sectors;
  const radius = (seamTicks + 2 * joinTicks * count) / (2 * Math.PI * full);
  const inner = radius - upperTicks;
  const outer = radius + depthTicks + hemTicks;
  if (inner <= 0) {
    return {
      ok: false,
      field: 'upper',
      message: 'The circle is too small for its gathering seam: take fewer circles.',
    };
  }
  const angle = (2 * Math.PI) / sectors;
  const { width, height, pitch } =
    sectors === 1
      ? { width: 2 * outer, height: 2 * outer, pitch: 2 * outer }
      : sectionBlock(angle, inner, outer, joinTicks);
  const columns = Math.floor(usableWidthTicks / width);
  if (columns === 0) {
    return {
      ok: false,
      field: 'usableWidth',
      message: 'A section is wider than the cloth: take smaller sections, or more circles.',
    };
  }
  const rows = Math.ceil(count / columns);
  const hemLength = seamTicks + 2 * Math.PI * full * depthTicks;
  return {
    ok: true,
    cut: {
      count,
      degrees: 360 / sectors,
      radiusTicks: Math.round(radius),
      innerTicks: Math.round(inner),
      outerTicks: Math.round(outer),
      hemLengthTicks: Math.ceil(hemLength),
      flare: hemLength / seamTicks,
      blockWidthTicks: Math.ceil(width),
      blockHeightTicks: Math.ceil(height),
      pitchTicks: Math.ceil(pitch),
      columns,
      rows,
      clothTicks: Math.ceil(height + (rows - 1) * pitch),
    },
  };
}

/** A section of at most half a circle, its chord across the cloth; allowances of its joins are added to the width. */
function sectionBlock(angle: number, inner: number, outer: number, joinTicks: number) {
  const half = angle / 2;
  const rise = inner * Math.cos(half);
  return {
    width: 2 * outer * Math.sin(half) + 2 * joinTicks * Math.cos(half),
    height: outer - rise,
    pitch: Math.sqrt(outer ** 2 - (inner * Math.sin(half)) ** 2) - rise,
  };
}
