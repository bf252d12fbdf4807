import { areasOf, boundByArea, type Priced, priceModel } from './bound.ts';
import { type Fill, type FilledLay, fillOf, slitFilling, worthOf } from './fills.ts';
import {
  fillHeight,
  type LayPrices,
  type LayValues,
  mostOfHeights,
  nearSlits,
  type Slit,
} from './lay-values.ts';
import type { Family, Model, PieceStock } from './model.ts';
import { GrowingLp, type LpColumn } from './simplex.ts';

/** A column of the master program: a whole filling of one piece, or one lay that takes its share of a piece. */
export interface Pattern {
  readonly fill: Fill;
  readonly isLay: boolean;
}

export interface Generated {
  /** Prices that prove `bound`, whole numbers of square ticks a strip. */
  readonly prices: Float64Array;
  readonly bound: number;
  /** Prices of the last linear program; they guide the filling. */
  readonly guide: Float64Array;
  readonly patterns: readonly { readonly pattern: Pattern; readonly amount: number }[];
}

export interface ColumnOptions {
  /** Strips that may stay uncut. */
  readonly mostMissing: number;
  /** Fillings and lays known already: they are columns from the start. */
  readonly known: readonly Pattern[];
  readonly rounds: number;
  /** Stop when the bound comes to this, in square ticks. */
  readonly enough: number;
  /** What one strip left uncut counts where cloth costs nothing and only strips matter; else cloth is charged. */
  readonly strip?: number;
  /** Whether to leave off: the work or the time that was allowed is done. */
  readonly isOver: () => boolean;
}

/** Column generation: prices of strips, the bound that they prove, and patterns worth cutting. */
export function generateColumns(model: Model, options: ColumnOptions): Generated {
  const isOver = () => options.isOver() || model.meter.isSpent;
  if (isOver()) return { ...provedByArea(model, options), guide: areasOf(model), patterns: [] };
  const master = new Master(model, options);
  for (const pattern of options.known) master.addKnown(pattern);
  let prices = master.solve();
  let smooth = prices.strips;
  for (let round = 0; round < 2 * options.rounds && !isOver(); round += 1) {
    // Prices swing from round to round; lays that suit a running mean of them last longer (Wentges 1997).
    smooth = round === 0 ? prices.strips : between(smooth, prices.strips, 0.5);
    const everywhere = () => true;
    const isSame = smooth === prices.strips;
    const added = isSame ? 0 : master.addLays(prices, smooth, everywhere, false);
    if (added + master.addLays(prices, prices.strips, everywhere, added === 0) === 0) break;
    prices = master.solve();
  }
  const first = prices.strips;
  let best = { prices: first, bound: Number.NEGATIVE_INFINITY };
  master.dropLays((stock) => !stock.isLong);
  prices = master.solve();
  let idle = 0;
  for (let round = 0; round < options.rounds && idle < 2; round += 1) {
    const newest = idle > 0 ? prices.strips : between(best.prices, prices.strips, 0.6);
    const asked = round === 0 ? first : newest;
    const priced = priceModel(model, asked, options.mostMissing, options.strip === undefined);
    if (priced.bound > best.bound) best = { prices: asked, bound: priced.bound };
    if (best.bound >= options.enough || isOver()) break;
    const added =
      master.addFillings(priced, prices) +
      master.addLays(prices, prices.strips, (stock) => stock.isLong, true);
    idle = added === 0 ? idle + 1 : 0;
    if (added > 0) prices = master.solve();
    if (prices.cost - best.bound <= 1e-7 * prices.cost) break;
  }
  const proved = provedByArea(model, options);
  return {
    ...(proved.bound > best.bound ? proved : best),
    guide: prices.strips,
    patterns: master.used(),
  };
}

/** What is known without any search: nothing where only strips matter. */
function provedByArea(
  model: Model,
  { strip, mostMissing }: ColumnOptions,
): Pick<Generated, 'prices' | 'bound'> {
  if (strip !== undefined) return { prices: new Float64Array(model.counts.length), bound: 0 };
  const prices = areasOf(model);
  return { prices, bound: boundByArea(model, mostMissing) };
}

function between(a: Float64Array, b: Float64Array, shareOfA: number): Float64Array {
  return a.map((price, i) => Math.round(shareOfA * price + (1 - shareOfA) * (b[i] as number)));
}

const LAYS_AT_ONCE = 6;
const MOST_PROMISING = 24;

interface Prices {
  readonly strips: Float64Array;
  /** What one more piece of a stock would save, 0 or more. */
  readonly pieces: Float64Array;
  readonly cost: number;
}

class Master {
  readonly #model: Model;
  readonly #scale: number;
  readonly #charging: boolean;
  readonly #lp: GrowingLp;
  readonly #patterns = new Map<number, Pattern>();
  readonly #known = new Set<string>();
  readonly #gone = new Set<number>();
  readonly #promising = new Map<Family, readonly number[]>();
  #amounts: Float64Array = new Float64Array();

  constructor(model: Model, { mostMissing, strip }: ColumnOptions) {
    const { counts, stocks } = model;
    this.#model = model;
    const dearest = Math.max(1, ...stocks.map((s) => s.lengthTicks * s.family.widthTicks));
    const areas = areasOf(model);
    this.#scale = strip ?? Math.max(1, ...areas);
    this.#charging = strip === undefined;
    const kinds = counts.length;
    const right = [...counts, ...stocks.map(({ places }) => places.length), mostMissing];
    const missing = this.#charging ? (4 * dearest) / this.#scale : 1;
    const start = right.map((_, i) => ({ cost: i < kinds ? missing : 0, rows: [i], amounts: [1] }));
    this.#lp = new GrowingLp(right, start, model.meter);
    counts.forEach((_, i) => {
      this.#lp.add({ cost: 0, rows: [i], amounts: [-1] });
      if (mostMissing > 0) this.#lp.add({ cost: 0, rows: [i, right.length - 1], amounts: [1, 1] });
    });
  }

  /** Takes a pattern of a like model, as long as its piece is there and long enough. */
  addKnown({ fill, isLay }: Pattern): void {
    const stock = this.#model.stocks[fill.stock.index];
    if (!stock || stock.places.length === 0 || fill.endTicks > stock.lengthTicks) return;
    if (isLay ? stock.isLong : stock.lengthTicks === fill.stock.lengthTicks)
      this.add({ fill: { ...fill, stock }, isLay });
  }

  add(pattern: Pattern): boolean {
    const { fill, isLay } = pattern;
    const share = isLay ? fill.endTicks / fill.stock.lengthTicks : 1;
    const kinds = this.#model.counts.length;
    const key = `${fill.stock.index} ${isLay} ${fill.endTicks} ${fill.chargedArea} ${fill.given.join()}`;
    if (this.#known.has(key)) return false;
    this.#known.add(key);
    const rows: number[] = [];
    const amounts: number[] = [];
    fill.given.forEach((given, i) => {
      if (given > 0) [rows[rows.length], amounts[amounts.length]] = [i, given];
    });
    const area = isLay ? fill.endTicks * fill.stock.family.widthTicks : fill.chargedArea;
    const cost = this.#charging ? area : 0;
    const column: LpColumn = {
      cost: cost / this.#scale,
      rows: [...rows, kinds + fill.stock.index],
      amounts: [...amounts, share],
    };
    this.#patterns.set(this.#lp.add(column), pattern);
    return true;
  }

  solve(): Prices {
    const { prices, amounts, cost } = this.#lp.solve();
    const kinds = this.#model.counts.length;
    this.#amounts = amounts;
    return {
      strips: prices.slice(0, kinds).map((price) => {
        const whole = Math.max(0, Math.round(price * this.#scale));
        return this.#charging ? whole : Math.min(whole, this.#scale);
      }),
      pieces: prices.slice(kinds, -1).map((price) => Math.max(0, -price * this.#scale)),
      cost: cost * this.#scale,
    };
  }

  /**
   * Adds the lays that promise most at these prices; gives how many are new. Of many heights those are tried that were
   * worth most when all were tried last, and all again only where these give nothing and `thoroughly` is asked.
   */
  addLays(
    prices: Prices,
    strips: Float64Array,
    wanted: (stock: PieceStock) => boolean,
    thoroughly: boolean,
  ): number {
    let added = 0;
    for (const family of this.#model.families) {
      if (this.#model.meter.isSpent) break;
      const rent = (stock: PieceStock) => (prices.pieces[stock.index] as number) / stock.lengthTicks;
      const stocks = this.#model.stocks.filter((stock) => stock.family === family && wanted(stock));
      stocks.sort((a, b) => rent(a) - rent(b) || b.lengthTicks - a.lengthTicks);
      if (stocks.length === 0) continue;
      const asked = { family, prices: strips, wanted: Int32Array.from(this.#model.counts) };
      const few = this.#promising.get(family);
      const found = few ? this.#addLaysOf(stocks, asked, prices, few) : 0;
      const isTried = found > 0 || (few !== undefined && !thoroughly);
      added += isTried ? found : this.#addLaysOf(stocks, asked, prices, this.#worthMost(asked));
    }
    return added;
  }

  /** The heights whose best lays are worth most for their length, by their places. */
  #worthMost(asked: LayPrices): number[] {
    const { heights } = asked.family;
    const most = mostOfHeights(this.#model, asked);
    const density = heights.map((height, k) => (most[k] as number) / height);
    const places = heights.map((_, k) => k).sort((a, b) => (density[b] as number) - (density[a] as number));
    const promising = places.slice(0, MOST_PROMISING);
    this.#promising.set(asked.family, promising);
    return promising;
  }

  #addLaysOf(
    stocks: readonly PieceStock[],
    asked: LayPrices,
    prices: Prices,
    places: readonly number[],
  ): number {
    const { heights, lastSum } = asked.family;
    const scratch = new Float64Array(lastSum + 1);
    const tried = this.#model.meter.isSpent ? [] : places;
    const dense = tried.map((k) => {
      const height = heights[k] as number;
      return { height, density: fillHeight(this.#model, asked, height, scratch) / height };
    });
    dense.sort((a, b) => b.density - a.density);
    const known = new Map<number, readonly Slit[][]>();
    const laysOf = (height: number) => {
      const lays =
        known.get(height) ?? nearSlits(this.#model, asked, height, asked.family.widthTicks, LAYS_AT_ONCE);
      known.set(height, lays);
      return lays;
    };
    return stocks.slice(0, 4).reduce((sum, stock) => sum + this.#addLaysTo(stock, prices, dense, laysOf), 0);
  }

  #addLaysTo(
    stock: PieceStock,
    prices: Prices,
    dense: readonly { readonly height: number; readonly density: number }[],
    laysOf: (height: number) => readonly Slit[][],
  ): number {
    const { widthTicks } = stock.family;
    const cloth = this.#charging ? widthTicks : 0;
    const rent = cloth + (prices.pieces[stock.index] as number) / stock.lengthTicks;
    const best = dense
      .filter(({ height, density }) => height <= stock.lengthTicks && density > 0.98 * rent)
      .slice(0, 3);
    // Where few heights give lays, each gives several.
    const most = Math.max(1, Math.floor(LAYS_AT_ONCE / Math.max(1, best.length)));
    let added = 0;
    for (const { height } of best) {
      for (const slits of laysOf(height).slice(0, most)) {
        const worth = slits.reduce(
          (sum, s) => sum + s.columns * s.stack * (prices.strips[s.shape.kind] as number),
          0,
        );
        if (worth * (1 - 1e-7) <= rent * height) continue;
        const lay: FilledLay = { fromTicks: 0, heightTicks: height, spans: [{ leftTicks: 0, slits }] };
        if (this.add({ fill: fillOf(this.#model, stock, [lay]), isLay: true })) added += 1;
      }
    }
    return added;
  }

  addFillings(priced: Priced, prices: Prices): number {
    let added = 0;
    this.#model.stocks.forEach((stock, i) => {
      if (stock.isLong) return;
      const filling = priced.fillings[i];
      const values = priced.values[stock.family.index] as LayValues;
      if (!filling || filling.cutLengths.length === 0 || this.#model.meter.isSpent) return;
      const fill = fillOf(this.#model, stock, slitFilling(stock, values, filling));
      const worth = worthOf(fill.given, prices.strips);
      const reduced =
        (this.#charging ? fill.chargedArea : 0) - worth + (prices.pieces[stock.index] as number);
      if (reduced < -1e-7 * worth && this.add({ fill, isLay: false })) added += 1;
    });
    return added;
  }

  /** Takes single lays out of the program: what they promise is too good to be true for short pieces. */
  dropLays(unwanted: (stock: PieceStock) => boolean): void {
    for (const [index, { fill, isLay }] of this.#patterns) {
      if (!isLay || !unwanted(fill.stock)) continue;
      const column = this.#lp.columns[index] as LpColumn;
      this.#lp.columns[index] = { ...column, cost: column.cost + 1e6 };
      this.#gone.add(index);
      this.#known.clear();
    }
  }

  used(): { pattern: Pattern; amount: number }[] {
    return [...this.#patterns].flatMap(([index, pattern]) => {
      const amount = this.#amounts[index] ?? 0;
      return this.#gone.has(index) ? [] : [{ pattern, amount }];
    });
  }
}
