import { worthOf } from './fills.ts';
import { LayValues } from './lay-values.ts';
import type { Model, PieceStock } from './model.ts';
import { fillPiece, type PieceFilling } from './piece-filling.ts';
import { gcd } from './sums.ts';

/** What a set of prices proves, and the piece fillings that are best at these prices. */
export interface Priced {
  readonly bound: number;
  readonly values: readonly LayValues[];
  readonly fillings: readonly PieceFilling[];
}

/**
 * The least charged area of any plan of this style of cutting that leaves at most `mostMissing` strips uncut.
 *
 * For any prices π ≥ 0 of strips, no plan can use less than Σ wanted · π, plus for each piece the least of 0 and
 * (charged − value) over all its fillings, less the `mostMissing` dearest strips (Lagrangian relaxation; Gilmore and
 * Gomory 1961 for the prices). Fillings are maximised exactly, piece by piece with ends and flaws, so that a wrong
 * price weakens the bound and never falsifies it. Prices must be whole numbers: then all sums are exact.
 *
 * Without `charging` cloth costs nothing, and with prices from 0 to the count of one strip the bound is on strips that
 * cannot be cut.
 */
export function priceModel(model: Model, prices: Float64Array, mostMissing: number, charging = true): Priced {
  const wanted = Int32Array.from(model.counts);
  const values: LayValues[] = [];
  for (const family of model.families) {
    if (model.meter.isSpent) break;
    values.push(new LayValues(model, { family, prices, wanted }));
  }
  const fillings: PieceFilling[] = [];
  for (const stock of model.stocks) {
    if (model.meter.isSpent) break;
    fillings.push(fillPiece(model, stock, values[stock.family.index] as LayValues, 0, charging));
  }
  // Of prices that were not put to every piece nothing is proved.
  if (model.meter.isSpent) return { bound: Number.NEGATIVE_INFINITY, values, fillings: [] };
  let bound = worthOfWanted(model, prices, mostMissing);
  model.stocks.forEach((stock, i) => {
    const values1 = values[stock.family.index] as LayValues;
    const score = model.coarseAlong
      ? densestScore(stock, values1, charging)
      : (fillings[i] as PieceFilling).score;
    bound += stock.places.length * Math.min(0, score);
  });
  return { bound, values, fillings };
}

/** The area of one strip of each kind, in square ticks. */
export function areasOf({ job }: Model): Float64Array {
  return Float64Array.from(job.kinds, ({ lengthTicks, depthTicks }) => lengthTicks * depthTicks);
}

/** No plan is charged less than its strips cover, in square ticks. */
export function boundByArea(model: Model, mostMissing: number): number {
  return worthOfWanted(model, areasOf(model), mostMissing);
}

function worthOfWanted({ counts }: Model, prices: Float64Array, mostMissing: number): number {
  return worthOf(Int32Array.from(counts), prices) - dearest(counts, prices, mostMissing);
}

/** Where lengths are too fine to be walked: no filling is worth more than its length of the densest lay. */
function densestScore(stock: PieceStock, values: LayValues, charging: boolean): number {
  const { family } = stock;
  const widthTicks = charging ? family.widthTicks : 0;
  let least = 0;
  family.heights.forEach((height, k) => {
    least = Math.min(least, (widthTicks * height - (values.most[k] as number)) / height);
  });
  return Math.floor(least * stock.lengthTicks);
}

function dearest(counts: readonly number[], prices: Float64Array, most: number): number {
  const order = counts.map((_, i) => i).sort((a, b) => (prices[b] as number) - (prices[a] as number));
  let left = most;
  let sum = 0;
  for (const i of order) {
    const count = Math.min(left, counts[i] as number);
    sum += count * (prices[i] as number);
    left -= count;
  }
  return sum;
}

const MOST_PLACES = 12;

/**
 * A bound on charged area raised to the next area that any plan can be charged.
 *
 * Where no end is useful every piece is charged whole, so that all plans are charged a multiple of the pieces' common
 * divisor. Else, without flaws, every piece is charged whole or up to a sum of strip sizes: some whole pieces and a
 * multiple of the sizes' common divisor, where pieces have one width and are few.
 */
export function leastAttainableArea(model: Model, bound: number): number {
  const stocks = model.stocks.filter(({ places }) => places.length > 0);
  if (stocks.length === 0 || stocks.some(({ buying }) => buying !== undefined)) return bound;
  if (stocks.every(({ usefulTicks, lengthTicks }) => usefulTicks >= lengthTicks)) {
    const unit = stocks.map(({ lengthTicks, family }) => lengthTicks * family.widthTicks).reduce(gcd, 0);
    return Math.ceil(bound / unit) * unit;
  }
  const places = stocks.flatMap((stock) => stock.places.map(() => stock));
  const widthTicks = places[0]?.family.widthTicks ?? 1;
  const plain = stocks.every(({ flaws, family }) => flaws.length === 0 && family.widthTicks === widthTicks);
  if (!plain || model.coarseAlong || places.length > MOST_PLACES) return bound;
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
