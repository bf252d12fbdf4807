import type { Model, PieceStock } from './model.ts';
import { gcd } from './sums.ts';

const MOST_PIECES = 12;

/**
 * A bound on charged area raised to the next area that any plan can be charged.
 *
 * Where no end is useful every piece is charged whole, so that all plans are charged a multiple of the pieces' common
 * divisor. Else, without flaws, every piece is charged whole or up to a sum of strip sizes: some whole pieces and a
 * multiple of the sizes' common divisor, where pieces have one width and are few.
 */
export function attainable(model: Model, bound: number): number {
  const stocks = model.stocks.filter(({ places }) => places.length > 0);
  if (stocks.length === 0 || stocks.some(({ buying }) => buying !== undefined)) return bound;
  if (stocks.every(({ usefulTicks, lengthTicks }) => usefulTicks >= lengthTicks)) {
    const unit = stocks.map(({ lengthTicks, family }) => lengthTicks * family.widthTicks).reduce(gcd, 0);
    return Math.ceil(bound / unit) * unit;
  }
  const places = stocks.flatMap((stock) => stock.places.map(() => stock));
  const widthTicks = places[0]?.family.widthTicks ?? 1;
  const plain = stocks.every(({ flaws, family }) => flaws.length === 0 && family.widthTicks === widthTicks);
  if (!plain || model.coarseAlong || places.length > MOST_PIECES) return bound;
  return Math.max(bound, widthTicks * leastSum(places, Math.ceil(bound / widthTicks), model.alongUnit));
}

/** The least sum of some whole pieces and a multiple of `unit` that is `leastTicks` or more. */
function leastSum(places: readonly PieceStock[], leastTicks: number, unit: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let whole = 0; whole < 2 ** places.length; whole += 1) {
    let ticks = 0;
    places.forEach(({ lengthTicks }, i) => {
      if (whole & (1 << i)) ticks += lengthTicks;
    });
    if (ticks < leastTicks) ticks += Math.ceil((leastTicks - ticks) / unit) * unit;
    best = Math.min(best, ticks);
  }
  return best;
}
