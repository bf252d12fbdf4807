import { addItems, bestFillings, fillValues, type Item } from './knapsack.ts';
import { type Family, type Model, type Shape, stackIn } from './model.ts';

/** Prices of strips, and how many are wanted of each kind, for lays of one family. */
export interface LayPrices {
  readonly family: Family;
  readonly prices: Float64Array;
  readonly wanted: Int32Array;
}

/** Columns of one shape in a lay; the last column holds fewer than `stack` where fewer are wanted. */
export interface Slit {
  readonly shape: Shape;
  readonly columns: number;
  readonly stack: number;
}

interface StackItem extends Item {
  readonly shape: Shape;
  readonly stack: number;
}

/**
 * What lays of a family are worth: every height by filling the width, then every length by lays, both exactly.
 *
 * A height that cannot be worth more than lesser ones in its place is not filled by itself: it is known what it is worth
 * at most, or what it was worth when more was wanted at the same prices (`before`).
 */
export class LayValues implements LayPrices {
  readonly family: Family;
  readonly prices: Float64Array;
  readonly wanted: Int32Array;
  /** No lay of a height over the full width is worth more. */
  readonly most: Float64Array;
  /** The same in every narrower width, by the sums across; only where pieces have flaws. `before` lends its own. */
  readonly mostNarrow: readonly Float64Array[];
  /** Places of the heights that are worth more than any lays of lesser heights that take their place. */
  readonly lean: number[] = [];
  /** Of these heights, the cells along and the values, side by side. */
  readonly leanCells: Int32Array;
  readonly leanValues: Float64Array;
  /** The most that lays are worth in so many cells along, and the height that ends there, or −1. */
  readonly reach: Float64Array;
  readonly lastHeight: Int16Array;
  readonly #model: Model;
  readonly #isFilled: Uint8Array;
  readonly #isNarrowKnown: Uint8Array;
  readonly #scratch: Float64Array;
  readonly #slits = new Map<string, readonly Slit[]>();

  constructor(model: Model, asked: LayPrices, before?: LayValues) {
    const { family, prices, wanted } = asked;
    const { heights, lengthCells, lastSum } = family;
    this.#model = model;
    this.family = family;
    this.prices = prices;
    this.wanted = wanted;
    this.mostNarrow =
      before?.mostNarrow ?? heights.map(() => new Float64Array(family.hasFlaws ? lastSum + 1 : 0));
    this.most = before
      ? Float64Array.from(before.most)
      : mostOfHeights(model, asked, family.hasFlaws ? this.mostNarrow : []);
    this.#isFilled = new Uint8Array(heights.length);
    this.#isNarrowKnown = new Uint8Array(heights.length);
    this.#scratch = new Float64Array(lastSum + 1);
    this.leanCells = new Int32Array(heights.length);
    this.leanValues = new Float64Array(heights.length);
    this.reach = new Float64Array(lengthCells + 1);
    this.lastHeight = new Int16Array(lengthCells + 1).fill(-1);
    if (family.hasFlaws && !before) model.meter.lesser += heights.length * (lastSum + 1);
    this.#reachOut();
    model.meter.work += lengthCells * (this.lean.length + 1);
  }

  /** What the best lay of a height over the full width is worth. */
  clearAt(place: number): number {
    if (this.#isFilled[place] === 0 && this.family.hasFlaws) this.narrowAt(place);
    else if (this.#isFilled[place] === 0) this.#fill(place, this.#scratch);
    return this.most[place] as number;
  }

  /** Whether what narrower widths are worth is known exactly for a height. */
  isNarrowKnown(place: number): boolean {
    return this.#isNarrowKnown[place] === 1;
  }

  /** Makes what narrower widths are worth exact for a height. */
  narrowAt(place: number): Float64Array {
    const best = this.mostNarrow[place] as Float64Array;
    if (!this.isNarrowKnown(place)) this.#fill(place, best);
    this.#isNarrowKnown[place] = 1;
    return best;
  }

  /** How the best lay of a height fills one free stretch across, in ticks; worked out once. */
  slitsIn(place: number, spanTicks: number): readonly Slit[] {
    const key = `${place} ${spanTicks}`;
    const known = this.#slits.get(key);
    if (known) return known;
    const [slits = []] = nearSlits(this.#model, this, this.family.heights[place] as number, spanTicks, 1);
    this.#slits.set(key, slits);
    return slits;
  }

  #fill(place: number, best: Float64Array): void {
    const { family } = this;
    this.most[place] = fillHeight(this.#model, this, family.heights[place] as number, best);
    this.#isFilled[place] = 1;
  }

  #reachOut(): void {
    const { heightCells, lengthCells } = this.family;
    const { reach, lastHeight, lean, leanCells, leanValues } = this;
    let next = 0;
    let count = 0;
    for (let j = 1; j <= lengthCells; j += 1) {
      let best = reach[j - 1] as number;
      let last = -1;
      for (let i = 0; i < count; i += 1) {
        const value = (reach[j - (leanCells[i] as number)] as number) + (leanValues[i] as number);
        if (value > best) {
          best = value;
          last = lean[i] as number;
        }
      }
      for (; next < heightCells.length && (heightCells[next] as number) <= j; next += 1) {
        if (heightCells[next] !== j || (this.most[next] as number) <= best) continue;
        // A height that is not tried any more is worth nothing: its lays are left out, and no wrong one comes in.
        if (this.#model.meter.isSpent) continue;
        const value = this.clearAt(next);
        if (value <= best) continue;
        best = value;
        last = next;
        lean.push(next);
        leanCells[count] = j;
        leanValues[count] = value;
        count += 1;
      }
      reach[j] = best;
      lastHeight[j] = last;
    }
  }
}

/** What the best lay of a height over the full width is worth; what narrower ones are goes into `best`. */
export function fillHeight(model: Model, asked: LayPrices, heightTicks: number, best: Float64Array): number {
  const { sums, lastSum, shapes } = asked.family;
  model.meter.work += Math.ceil((shapes.length * (lastSum + 40)) / 3);
  fillValues(itemsOf(model, asked, heightTicks), sums.ticks, lastSum, best, model.meter);
  return best[lastSum] as number;
}

/**
 * What lays of every height are worth at most, in one filling: from height to height only what can be stacked more is
 * added to what fitted before. Where strips are few, some are counted more often than they are wanted. What narrower
 * widths are worth at most goes into `narrow`.
 */
export function mostOfHeights(
  model: Model,
  asked: LayPrices,
  narrow: readonly Float64Array[] = [],
): Float64Array {
  const { family, prices, wanted } = asked;
  const { heights, shapes, sums, lastSum } = family;
  const best = new Float64Array(lastSum + 1);
  const stacks = shapes.map(() => 0);
  let added = 0;
  const most = Float64Array.from(heights, (height, place) => {
    const items: Item[] = [];
    shapes.forEach((shape, i) => {
      const [price, left] = [prices[shape.kind] as number, wanted[shape.kind] as number];
      const stack = stackIn(model, shape, height, left);
      if (price <= 0 || stack <= (stacks[i] as number)) return;
      stacks[i] = stack;
      items.push({ step: shape.step, most: Math.ceil(left / stack), value: stack * price });
    });
    added += items.length;
    model.meter.lesser += shapes.length;
    addItems(items, sums.ticks, lastSum, best, model.meter);
    narrow[place]?.set(best);
    return best[lastSum] as number;
  });
  model.meter.work += Math.ceil((added * (lastSum + 40)) / 3);
  return most;
}

/** The best lay of a height and others that are worth nearly as much, `most` at most. */
export function nearSlits(
  model: Model,
  asked: LayPrices,
  heightTicks: number,
  spanTicks: number,
  most: number,
): Slit[][] {
  const { sums } = asked.family;
  const items = itemsOf(model, asked, heightTicks);
  const fillings = bestFillings(items, sums.ticks, sums.placeOf(spanTicks), most, model.meter);
  return fillings.map((counts) => {
    const slits = items.map(({ shape, stack }, i) => ({ shape, stack, columns: counts[i] as number }));
    return narrowed(slits, spanTicks);
  });
}

/** By coarse sums a filling may come out too wide: columns go, the narrowest that suffices first. */
function narrowed(
  slits: readonly { shape: Shape; stack: number; columns: number }[],
  spanTicks: number,
): Slit[] {
  let wide = slits.reduce((sum, { shape, columns }) => sum + shape.acrossTicks * columns, 0);
  while (wide > spanTicks) {
    const over = wide - spanTicks;
    const some = slits.filter(({ columns }) => columns > 0);
    some.sort((a, b) => a.shape.acrossTicks - b.shape.acrossTicks);
    const gone = some.find(({ shape }) => shape.acrossTicks >= over) ?? some.at(-1);
    if (!gone) break;
    gone.columns -= 1;
    wide -= gone.shape.acrossTicks;
  }
  return slits.filter(({ columns }) => columns > 0);
}

/** Stacks that fit a height: whole ones as often as strips are wanted, and one of the rest. */
function itemsOf(model: Model, { family, prices, wanted }: LayPrices, heightTicks: number): StackItem[] {
  const items: StackItem[] = [];
  for (const shape of family.shapes) {
    const price = prices[shape.kind] as number;
    const left = wanted[shape.kind] as number;
    const stack = stackIn(model, shape, heightTicks, left);
    if (price <= 0 || stack < 1) continue;
    const { step } = shape;
    items.push({ shape, stack, step, most: Math.floor(left / stack), value: stack * price });
    const rest = left % stack;
    if (rest > 0) items.push({ shape, stack: rest, step, most: 1, value: rest * price });
  }
  return items;
}
