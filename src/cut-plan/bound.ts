import { type LayValues, valueLays } from './lay-values.ts';
import type { Model, Stock } from './model.ts';
import { fillPiece, type PieceFilling } from './piece-filling.ts';

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
 */
export function priceModel(model: Model, prices: Float64Array, mostMissing: number): Priced {
  const wanted = Int32Array.from(model.counts);
  const values = model.families.map((family) => valueLays(model, family, prices, wanted));
  const fillings = model.stocks.map((stock) =>
    fillPiece(model, stock, values[stock.family.index] as LayValues),
  );
  let bound = 0;
  model.counts.forEach((count, i) => {
    bound += count * (prices[i] as number);
  });
  model.stocks.forEach((stock, i) => {
    const values1 = values[stock.family.index] as LayValues;
    const score = model.coarseAlong ? densestScore(stock, values1) : (fillings[i] as PieceFilling).score;
    bound += stock.places.length * Math.min(0, score);
  });
  return { bound: bound - dearest(model.counts, prices, mostMissing), values, fillings };
}

/** Where lengths are too fine to be walked: no filling is worth more than its length of the densest lay. */
function densestScore(stock: Stock, values: LayValues): number {
  const { family } = stock;
  let least = 0;
  family.heights.forEach((height, k) => {
    least = Math.min(least, (family.widthTicks * height - (values.clear[k] as number)) / height);
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

/**
 * The least number of strips that any plan leaves uncut, for prices π between 0 and `one` (what one strip counts).
 * Rounded up, as strips are whole.
 */
export function missingBound(model: Model, prices: Float64Array, one: number): number {
  const capped = prices.map((price) => Math.min(price, one));
  const wanted = Int32Array.from(model.counts);
  const values = model.families.map((family) => valueLays(model, family, capped, wanted));
  let bound = 0;
  model.counts.forEach((count, i) => {
    bound += count * (capped[i] as number);
  });
  for (const stock of model.stocks) {
    const most = mostWorth(model, stock, values[stock.family.index] as LayValues);
    bound -= stock.places.length * most;
  }
  return Math.max(0, Math.ceil(bound / one - 1e-9));
}

/** The most that a whole piece can be worth, whatever it is charged. */
function mostWorth(model: Model, stock: Stock, values: LayValues): number {
  if (model.coarseAlong) {
    const { heights } = stock.family;
    const densest = heights.reduce((most, h, k) => Math.max(most, (values.clear[k] as number) / h), 0);
    return Math.ceil(densest * stock.lengthTicks);
  }
  return -fillPiece(model, stock, values, 0, false).score;
}
