/** Bias strips and bindings: √2, never "a third more". Lengths in ticks, rounded up to the whole tick. */

export interface BiasJob {
  /** cut width of the strip, square to its edges */
  readonly stripWidthTicks: number;
  readonly lengthTicks: number;
  readonly usableWidthTicks: number;
  /** of a join, which runs on the straight thread */
  readonly joinTicks: number;
  /** whether the two triangles at the ends of the cloth are pieced in */
  readonly endsPieced: boolean;
}

export interface CutBias {
  /** along the selvedge for one strip */
  readonly alongTicks: number;
  /** what one strip adds when it is joined */
  readonly addsTicks: number;
  readonly strips: number;
  readonly clothTicks: number;
}

/** Along the selvedge for a strip of this width: w·√2, rounded up (geometry; the table of Baldt, ch. XXII, rounds to nearest). */
export function alongSelvedge(widthTicks: number): number {
  return Math.ceil(widthTicks * Math.SQRT2);
}

/**
 * Strips and cloth for a length of bias: a strip adds (W − 2s)·√2; the cloth is N·w·√2, and the two end triangles of W
 * unless they are pieced in. Throws RangeError where the joins take the whole width.
 */
export function cutBias({
  stripWidthTicks,
  lengthTicks,
  usableWidthTicks,
  joinTicks,
  endsPieced,
}: BiasJob): CutBias {
  const adds = (usableWidthTicks - 2 * joinTicks) * Math.SQRT2;
  if (adds <= 0) throw new RangeError('the joins take the whole width of the cloth');
  const strips = Math.ceil(lengthTicks / adds);
  const along = stripWidthTicks * Math.SQRT2;
  return {
    alongTicks: alongSelvedge(stripWidthTicks),
    addsTicks: Math.floor(adds),
    strips,
    clothTicks: Math.ceil(strips * along + (endsPieced ? 0 : usableWidthTicks)),
  };
}

/**
 * The side of a square for one continuous strip with whole turns: n = ⌈√(L ÷ 2w)⌉, n·w·√2 and the seam twice
 * (thebuttonship.blogspot, 2014).
 */
export function squareOfWholeTurns(lengthTicks: number, widthTicks: number, seamTicks: number): number {
  const turns = Math.ceil(Math.sqrt(lengthTicks / (2 * widthTicks)));
  return Math.ceil(turns * widthTicks * Math.SQRT2 + 2 * seamTicks);
}
