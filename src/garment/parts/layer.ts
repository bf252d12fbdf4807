/** Net, linings, underskirts and facings: layers of plain rectangles. Lengths in ticks. */

/** A layer by the flat length that its edge is to have. */
export interface FlatLayer {
  readonly flatTicks: number;
  readonly usableWidthTicks: number;
  /** what a join takes: two seam allowances, or the lap of net whose edges lie over each other */
  readonly joinTicks: number;
  readonly closing: 'ring' | 'open';
}

/**
 * Widths of cloth that join to a flat length: each gives w − join, and an open layer has one join less, so
 * N·w − (N − 1)·join ≥ L; 1 at the least (geometry). Throws RangeError where a join takes the whole width.
 */
export function widthsOfLayer({ flatTicks, usableWidthTicks, joinTicks, closing }: FlatLayer): number {
  const adds = usableWidthTicks - joinTicks;
  if (adds <= 0) throw new RangeError('a join takes the whole width of the cloth');
  const toJoin = closing === 'ring' ? flatTicks : flatTicks - joinTicks;
  return Math.max(1, Math.ceil(toJoin / adds));
}
