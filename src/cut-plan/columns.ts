import { type Priced, priceModel } from './bound.ts';
import { type Fill, type FilledLay, fillOf, slitFilling } from './fills.ts';
import { type LayValues, nearSlits, valueClearLays } from './lay-values.ts';
import type { Model, Stock } from './model.ts';
import type { PieceFilling } from './piece-filling.ts';
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
  /** Ends the search early, by the clock. */
  readonly isOver?: (() => boolean) | undefined;
}

/** Column generation: prices of strips, the bound that they prove, and patterns worth cutting. */
export function generateColumns(model: Model, options: ColumnOptions): Generated {
  const master = new Master(model, options);
  const isOver = options.isOver ?? (() => false);
  for (const pattern of options.known) master.addKnown(pattern);
  let prices = master.solve();
  let smooth = prices.strips;
  for (let round = 0; round < 2 * options.rounds && !isOver(); round += 1) {
    // Prices swing from round to round; lays that suit a running mean of them last longer (Wentges 1997).
    smooth = round === 0 ? prices.strips : between(smooth, prices.strips, 0.5);
    const everywhere = () => true;
    const added = master.addLays(prices, smooth, everywhere);
    if (added + (smooth === prices.strips ? 0 : master.addLays(prices, prices.strips, everywhere)) === 0)
      break;
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
      master.addFillings(priced, prices) + master.addLays(prices, prices.strips, (stock) => stock.isLong);
    idle = added === 0 ? idle + 1 : 0;
    if (added > 0) prices = master.solve();
    if (prices.cost - best.bound <= 1e-7 * prices.cost) break;
  }
  return { ...best, guide: prices.strips, patterns: master.used() };
}

function between(a: Float64Array, b: Float64Array, shareOfA: number): Float64Array {
  return a.map((price, i) => Math.round(shareOfA * price + (1 - shareOfA) * (b[i] as number)));
}

const LAYS_AT_ONCE = 6;

interface Prices {
  readonly strips: Float64Array;
  /** What one more piece of a stock would save, 0 or more. */
  readonly pieces: Float64Array;
  readonly cost: number;
}

type ClearValues = Pick<LayValues, 'family' | 'prices' | 'wanted' | 'clear'>;

class Master {
  readonly #model: Model;
  readonly #scale: number;
  readonly #charging: boolean;
  readonly #lp: GrowingLp;
  readonly #patterns = new Map<number, Pattern>();
  readonly #known = new Set<string>();
  readonly #gone = new Set<number>();
  #amounts: Float64Array = new Float64Array();

  constructor(model: Model, { mostMissing, strip }: ColumnOptions) {
    const { counts, stocks } = model;
    this.#model = model;
    const dearest = Math.max(1, ...stocks.map((s) => s.lengthTicks * s.family.widthTicks));
    const areas = model.job.kinds.map(({ lengthTicks, depthTicks }) => lengthTicks * depthTicks);
    this.#scale = strip ?? Math.max(1, ...areas);
    this.#charging = strip === undefined;
    const kinds = counts.length;
    const right = [...counts, ...stocks.map(({ places }) => places.length), mostMissing];
    const missing = this.#charging ? (4 * dearest) / this.#scale : 1;
    const start = right.map((_, i) => ({ cost: i < kinds ? missing : 0, rows: [i], amounts: [1] }));
    this.#lp = new GrowingLp(right, start);
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

  /** Adds the lays that promise most at these prices; gives how many are new. */
  addLays(prices: Prices, asked: Float64Array, wanted: (stock: Stock) => boolean): number {
    let added = 0;
    for (const family of this.#model.families) {
      const rent = (stock: Stock) => (prices.pieces[stock.index] as number) / stock.lengthTicks;
      const stocks = this.#model.stocks.filter((stock) => stock.family === family && wanted(stock));
      stocks.sort((a, b) => rent(a) - rent(b) || b.lengthTicks - a.lengthTicks);
      if (stocks.length === 0) continue;
      const counts = Int32Array.from(this.#model.counts);
      const clear = valueClearLays(this.#model, family, asked, counts);
      const values = { family, prices: asked, wanted: counts, clear };
      for (const stock of stocks.slice(0, 4)) added += this.#addLaysOf(stock, values, prices);
    }
    return added;
  }

  #addLaysOf(stock: Stock, values: ClearValues, prices: Prices): number {
    const { heights, widthTicks } = stock.family;
    const cloth = this.#charging ? widthTicks : 0;
    const rent = cloth + (prices.pieces[stock.index] as number) / stock.lengthTicks;
    const promising = heights
      .map((height, k) => ({ height, density: (values.clear[k] as number) / height }))
      .filter(({ height, density }) => height <= stock.lengthTicks && density > 0.98 * rent)
      .sort((a, b) => b.density - a.density)
      .slice(0, 3);
    // Where few heights give lays, each gives several.
    const most = Math.max(1, Math.floor(LAYS_AT_ONCE / Math.max(1, promising.length)));
    let added = 0;
    for (const { height } of promising) {
      for (const slits of nearSlits(this.#model, values, height, widthTicks, most, rent * height)) {
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
      const filling = priced.fillings[i] as PieceFilling;
      const values = priced.values[stock.family.index] as LayValues;
      if (filling.drops.length === 0) return;
      const fill = fillOf(this.#model, stock, slitFilling(this.#model, stock, values, filling));
      const worth = fill.given.reduce((sum, n, kind) => sum + n * (prices.strips[kind] as number), 0);
      const reduced =
        (this.#charging ? fill.chargedArea : 0) - worth + (prices.pieces[stock.index] as number);
      if (reduced < -1e-7 * worth && this.add({ fill, isLay: false })) added += 1;
    });
    return added;
  }

  /** Takes single lays out of the program: what they promise is too good to be true for short pieces. */
  dropLays(unwanted: (stock: Stock) => boolean): void {
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
