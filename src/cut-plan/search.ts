import { areasOf, boundByArea, leastAttainableArea } from './bound.ts';
import { type Generated, generateColumns } from './columns.ts';
import { type Filled, Filler, filledOf, isLess } from './filler.ts';
import { type Fill, fillKey, isAllWanted, worthOf, worthOfLay } from './fills.ts';
import type { Model, PieceStock } from './model.ts';
import type { Cutting, PlanMethod } from './plan.ts';
import { planOfFills } from './plan-of-fills.ts';
import type { Random } from './random.ts';
import { partsOf, Rounded } from './rounded.ts';

/** Limits of a search, as solve.ts has them. */
interface SearchEffort {
  readonly work: number;
  readonly onBetter?: (plan: Cutting) => void;
  readonly onTried?: (plan: Cutting) => void;
  readonly timeGone?: () => number;
}

const MOST_POOL = 1500;
/** Parts of a plan that are filled anew at a time: lays of long pieces, or whole pieces. */
const MOST_LAYS_GONE = 12;
const MOST_FILLS_GONE = 5;

/** Keeps the best plan, and every filling of good plans for the polish to combine. */
export class Search {
  best: Filled;
  /** Of the plans that are as good as the best, the one that loses in the fewest places: others are sought around it. */
  here: Filled;
  how: PlanMethod = 'naive';
  /** A plan that is charged no more than this, with as few strips uncut as can be, is good enough. */
  enough = Number.NEGATIVE_INFINITY;
  fewest = 0;
  readonly pool = new Map<string, Fill>();
  /** Single lays that column generation found. */
  readonly lays = new Map<string, Fill>();
  readonly #model: Model;
  readonly #effort: SearchEffort;
  readonly #mostWork: number;
  readonly #areas: Float64Array;
  #concentration = 0;

  constructor(model: Model, effort: SearchEffort) {
    this.#areas = areasOf(model);
    this.#model = model;
    this.#effort = effort;
    this.#mostWork = model.meter.work + effort.work;
    this.best = filledOf(model, []);
    this.here = this.best;
  }

  offer(filled: Filled, how: PlanMethod): void {
    const near = filled.chargedArea <= this.best.chargedArea * 1.03 || this.best.fills.length === 0;
    if (near && this.pool.size < MOST_POOL)
      for (const fill of filled.fills) this.pool.set(fillKey(fill), fill);
    this.#effort.onTried?.(planOfFills(this.#model, filled.fills, how));
    const isBetter = isLess(filled, this.best);
    const isAsGood = !isBetter && !isLess(this.best, filled);
    if (isBetter || (isAsGood && concentrationOf(filled, this.#areas) > this.#concentration)) {
      this.here = filled;
      this.#concentration = concentrationOf(filled, this.#areas);
    }
    if (!isBetter) return;
    this.best = filled;
    this.how = how;
    this.#effort.onBetter?.(planOfFills(this.#model, filled.fills, how));
  }

  /** Keeps what column generation found for the polish, also for what a part of the plan leaves. */
  note({ patterns }: Generated): void {
    for (const { pattern } of patterns) {
      const { fill, isLay } = pattern;
      const stock = this.#model.stocks[fill.stock.index];
      // What fills the rest of a piece that is cut already fills no whole one.
      if (!stock || (!isLay && stock.lengthTicks !== fill.stock.lengthTicks)) continue;
      const kept = isLay ? this.lays : this.pool;
      if (kept.size < MOST_POOL) kept.set(fillKey(fill), { ...fill, stock });
    }
  }

  /** True where the best plan is good enough, or all that was allowed is done. */
  get isDone(): boolean {
    if (this.isCut || this.#timeGone() >= 1) return true;
    return !this.#effort.onTried && this.isGoodEnough;
  }

  /** Tells from when on a share of the work, or of the time, that is left now is done. */
  after(share: number): () => boolean {
    const work = this.#model.meter.work + share * (this.#mostWork - this.#model.meter.work);
    const gone = this.#timeGone() + share * (1 - this.#timeGone());
    const { meter } = this.#model;
    return () => meter.work > work || meter.isSpent || this.#timeGone() >= gone;
  }

  get isCut(): boolean {
    const { meter } = this.#model;
    return meter.work > this.#mostWork || meter.isSpent;
  }

  /** A filling that is begun is finished, unless it takes as long as all that was allowed. */
  get #isFarOver(): boolean {
    const { meter } = this.#model;
    return meter.work > this.#mostWork + this.#effort.work || meter.isSpent || this.#timeGone() >= 1;
  }

  #timeGone(): number {
    return this.#effort.timeGone?.() ?? 0;
  }

  get isGoodEnough(): boolean {
    return this.best.missing <= this.fewest && this.best.chargedArea <= this.enough;
  }

  fill(
    prices: Float64Array,
    fixed: readonly Fill[],
    liking: (stock: PieceStock) => number,
    how: PlanMethod = 'fill',
  ): void {
    this.offer(new Filler(this.#model, { prices, fixed, liking, isOver: () => this.#isFarOver }).run(), how);
  }
}

/**
 * How far strips are together in some lays, and what is lost in others, so that another strip or lay less is near
 * (Falkenauer's measure of a packing, 1996): the mean fullness of lays squared, by area.
 */
function concentrationOf({ fills }: Filled, areas: Float64Array): number {
  let sum = 0;
  for (const { stock, lays } of fills)
    for (const lay of lays) sum += worthOfLay(lay, areas) ** 2 / (lay.heightTicks * stock.family.widthTicks);
  return sum;
}

/**
 * Fillings at prices that rise with the size of a strip, a little more than its area does: large strips go first, and
 * small ones beside them. They need no linear program and are a good start for it.
 */
export function fillBySize(model: Model, search: Search): void {
  const areas = areasOf(model);
  const wanted = model.counts.reduce((sum, count) => sum + count, 0);
  const mean = boundByArea(model, 0) / Math.max(1, wanted);
  for (const more of [0.15, 0.04]) {
    if (search.isDone) return;
    const prices = Float64Array.from(areas, (area) => Math.ceil(1.08 * area * (area / mean) ** more));
    search.fill(prices, [], () => 1);
  }
}

/** Fresh fillings guided by prices, then as many more at prices shaken by 5 to 30 %. */
export function fillAfresh(
  model: Model,
  search: Search,
  prices: Float64Array,
  restarts: number,
  chance: Random,
): void {
  const plain = withFloor(model, prices);
  for (const liking of likings(model, chance)) {
    if (search.isDone) return;
    search.fill(raised(plain, 1.03), [], liking);
  }
  for (let n = 0; n < restarts && !search.isDone; n += 1) {
    const shake = 0.05 + 0.25 * chance();
    const like = noise(chance, 0.3 * chance());
    search.fill(shaken(plain, chance, shake), [], like);
  }
}

/** Empties a few pieces of the best plan and fills them anew, so many times. */
export function repairBest(
  model: Model,
  search: Search,
  prices: Float64Array,
  repairs: number,
  chance: Random,
): void {
  const plain = withFloor(model, prices);
  for (let n = 0; n < repairs && !search.isDone; n += 1) {
    const kept = keptOf(model, search.here.fills, plain, chance);
    model.meter.lesser += (kept.length + search.here.fills.length) * model.counts.length;
    search.fill(shaken(plain, chance, 0.02 + 0.2 * chance()), kept, noise(chance, 0.3 * chance()));
  }
}

/**
 * Rounds the fractional plan of column generation to a whole one, a few fillings and lays at a time, with fresh columns
 * for what is left after each (diving), and completes the stages by filling. Once more with `shake` above 0, it takes
 * another way down; a way that cannot lead to a better plan is left.
 */
export function roundPlan(model: Model, search: Search, generated: Generated, options: RoundOptions): void {
  const { rounds, shake, chance } = options;
  const rounded = new Rounded(model);
  let here = generated;
  for (let stage = 0; !search.isDone; stage += 1) {
    model.meter.lesser += here.patterns.length * model.counts.length;
    if (!rounded.take(here, () => shake * chance())) return;
    const left = rounded.left();
    const isLast = left.counts.every((n) => n <= 0);
    // Every stage is worth completing at first; of hundreds of single steps some are enough.
    if ((stage < 8 && shake === 0) || stage % 8 === 0 || isLast) {
      const prices = raised(withFloor(model, here.guide), 1.03);
      search.fill(prices, rounded.fills(), () => 1, 'rounding');
    }
    if (isLast) return;
    const known = here.patterns
      .map(({ pattern }) => pattern)
      .filter(({ fill }) => isAllWanted(fill.given, left.counts));
    const isOver = () => search.isDone;
    here = generateColumns(left, { mostMissing: 0, known, rounds, enough: Number.POSITIVE_INFINITY, isOver });
    search.note(here);
    const least = leastAttainableArea(model, rounded.usedArea() + here.bound);
    if (search.best.missing === 0 && least > search.best.chargedArea) return;
  }
}

export interface RoundOptions {
  /** Rounds of column generation at every stage. */
  readonly rounds: number;
  /** How far the order in which fractions are rounded is shaken, 0 for not at all. */
  readonly shake: number;
  readonly chance: Random;
}

/** No strip goes for nothing, or no piece would be filled with it: at least its own area, and half as much again. */
function withFloor(model: Model, prices: Float64Array): Float64Array {
  const areas = areasOf(model);
  return prices.map((price, i) => Math.max(price, Math.ceil((areas[i] as number) * 0.5)));
}

function raised(prices: Float64Array, by: number): Float64Array {
  return prices.map((price) => Math.ceil(price * by));
}

function shaken(prices: Float64Array, chance: Random, by: number): Float64Array {
  return prices.map((price) => Math.ceil(price * (1.03 + by * (2 * chance() - 1))));
}

function noise(chance: Random, by: number): (stock: PieceStock) => number {
  const known = new Map<number, number>();
  return ({ index }) => {
    const like = known.get(index) ?? 1 + by * (2 * chance() - 1);
    known.set(index, like);
    return like;
  };
}

function likings(model: Model, chance: Random): ((stock: PieceStock) => number)[] {
  const longest = Math.max(1, ...model.stocks.map(({ lengthTicks }) => lengthTicks));
  return [
    () => 1,
    (stock) => 1 + 0.2 * (1 - stock.lengthTicks / longest),
    (stock) => 1 + 0.2 * (stock.lengthTicks / longest),
    noise(chance, 0.1),
  ];
}

/** All parts of a plan but a few: a bad one rather than a good one goes, and some by chance. */
function keptOf(model: Model, fills: readonly Fill[], prices: Float64Array, chance: Random): Fill[] {
  const parts = partsOf(model, fills);
  const mostGone = parts.some(({ isLay }) => isLay) ? MOST_LAYS_GONE : MOST_FILLS_GONE;
  const count = 1 + Math.floor(chance() * Math.min(mostGone, 1 + parts.length / 4));
  const scored = parts.map((part) => {
    const { given, chargedArea, endTicks, stock } = part.fill;
    const area = part.isLay ? endTicks * stock.family.widthTicks : chargedArea;
    return { part, score: worthOf(given, prices) / Math.max(1, area) + 0.5 * chance() };
  });
  scored.sort((a, b) => a.score - b.score);
  const gone = new Set(scored.slice(0, count).map(({ part }) => part));
  const kept = new Rounded(model);
  for (const part of parts) if (!gone.has(part)) kept.add(part);
  return kept.fills();
}
