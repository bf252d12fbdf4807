import type { Model } from './model.ts';

const MOST_PIECES = 12;

/**
 * A bound on charged area raised to the next area that any plan can be charged.
 *
 * Without flaws every piece is charged whole or up to a sum of strip sizes, so that all plans are charged some whole
 * pieces and a multiple of the sizes' common divisor. Only where all pieces have one width and are few.
 */
export function attainable(model: Model, bound: number): number {
  const places = model.stocks.flatMap((stock) => stock.places.map(() => stock));
  const widths = new Set(places.map(({ family }) => family.widthTicks));
  const [widthTicks] = widths;
  const plain = places.every(({ flaws, buying }) => flaws.length === 0 && buying === undefined);
  if (
    !plain ||
    widths.size !== 1 ||
    widthTicks === undefined ||
    model.coarseAlong ||
    places.length > MOST_PIECES
  )
    return bound;
  const leastTicks = Math.ceil(bound / widthTicks);
  const unit = model.alongUnit;
  let best = Number.POSITIVE_INFINITY;
  for (let whole = 0; whole < 2 ** places.length; whole += 1) {
    let ticks = 0;
    places.forEach(({ lengthTicks }, i) => {
      if (whole & (1 << i)) ticks += lengthTicks;
    });
    if (ticks < leastTicks) ticks += Math.ceil((leastTicks - ticks) / unit) * unit;
    best = Math.min(best, ticks);
  }
  return Math.max(bound, best * widthTicks);
}
