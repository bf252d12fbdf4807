/** A smooth departure from a curve by few figures: cubic B-splines over the bands, with knots at equal distances. */

import { BANDS } from '../spectrum.ts';

/** A knot for each 29 nm. */
export const KNOTS = 15;

const WEIGHTS = Array.from({ length: BANDS }, (_, band) => {
  const weights = new Float64Array(KNOTS);
  const along = (band / (BANDS - 1)) * (KNOTS - 3);
  const first = Math.min(KNOTS - 4, Math.floor(along));
  const t = along - first;
  weights.set(
    [(1 - t) ** 3, 3 * t ** 3 - 6 * t * t + 4, -3 * t ** 3 + 3 * t * t + 3 * t + 1, t ** 3].map(
      (each) => each / 6,
    ),
    first,
  );
  return weights;
});

/** What each knot counts for in a band; together they are 1. */
export function knotWeights(band: number): Float64Array {
  return WEIGHTS[band] as Float64Array;
}
