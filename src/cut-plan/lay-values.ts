import { bestFillings, fillValues, type Item } from './knapsack.ts';
import type { Family, Model, Shape } from './model.ts';

/** What lays of a family are worth at given prices of strips, while so many of each kind are wanted. */
export interface LayValues {
  readonly family: Family;
  readonly prices: Float64Array;
  readonly wanted: Int32Array;
  /** Value of the best lay of each height over the full width. */
  readonly clear: Float64Array;
  /** Per height, the best value of every narrower width, by the sums across; only where pieces have flaws. */
  readonly narrow: readonly Float64Array[] | null;
  /** Places of the heights that are worth more than any lays of lesser heights that take their place. */
  readonly lean: readonly number[];
  /** Of these heights, the cells along and the values, side by side. */
  readonly leanCells: Int32Array;
  readonly leanValues: Float64Array;
  /** The most that lays are worth in so many cells along, and the height that ends there, or −1. */
  readonly reach: Float64Array;
  readonly lastHeight: Int16Array;
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

/** Values every height of lay by filling the width, then every length by lays, both exactly. */
export function valueLays(model: Model, family: Family, prices: Float64Array, wanted: Int32Array): LayValues {
  const narrow = family.hasFlaws ? family.heights.map(() => new Float64Array(family.lastSum + 1)) : null;
  const clear = valueClearLays(model, family, prices, wanted, narrow);
  const reached = reachOf(family, clear);
  model.meter.work += family.lengthCells * (reached.lean.length + 1);
  return { family, prices, wanted, clear, narrow, ...reached };
}

/** Values every height of lay over the full width; in `narrow` every narrower width too, where it is asked for. */
export function valueClearLays(
  model: Model,
  family: Family,
  prices: Float64Array,
  wanted: Int32Array,
  narrow: readonly Float64Array[] | null = null,
): Float64Array {
  const { heights, sums, lastSum } = family;
  const clear = new Float64Array(heights.length);
  const scratch = new Float64Array(lastSum + 1);
  heights.forEach((height, k) => {
    const best = narrow?.[k] ?? scratch;
    fillValues(itemsOf(model, family, prices, wanted, height), sums.ticks, lastSum, best);
    clear[k] = best[lastSum] as number;
  });
  model.meter.work += Math.ceil((heights.length * family.shapes.length * (lastSum + 40)) / 3);
  return clear;
}

/** How the best lay of a height fills one free stretch across, in ticks. */
export function slitsOf(
  model: Model,
  values: Pick<LayValues, 'family' | 'prices' | 'wanted'>,
  heightTicks: number,
  spanTicks: number,
): Slit[] {
  return nearSlits(model, values, heightTicks, spanTicks, 1, 0)[0] ?? [];
}

/** The best lay of a height and others that are worth nearly as much: `most` at most, worth `leastValue` or more. */
export function nearSlits(
  model: Model,
  values: Pick<LayValues, 'family' | 'prices' | 'wanted'>,
  heightTicks: number,
  spanTicks: number,
  most: number,
  leastValue: number,
): Slit[][] {
  const { family, prices, wanted } = values;
  const items = itemsOf(model, family, prices, wanted, heightTicks);
  const fillings = bestFillings(items, family.sums.ticks, family.sums.placeOf(spanTicks), most, leastValue);
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
function itemsOf(
  model: Model,
  family: Family,
  prices: Float64Array,
  wanted: Int32Array,
  heightTicks: number,
): StackItem[] {
  const items: StackItem[] = [];
  for (const shape of family.shapes) {
    const price = prices[shape.kind] as number;
    const left = wanted[shape.kind] as number;
    if (shape.alongTicks > heightTicks || price <= 0 || left <= 0) continue;
    const fitting = model.job.stacks ? Math.floor(heightTicks / shape.alongTicks) : 1;
    const stack = Math.min(fitting, left);
    const { step } = shape;
    items.push({ shape, stack, step, most: Math.floor(left / stack), value: stack * price });
    const rest = left % stack;
    if (rest > 0) items.push({ shape, stack: rest, step, most: 1, value: rest * price });
  }
  return items;
}

type Reach = Pick<LayValues, 'lean' | 'leanCells' | 'leanValues' | 'reach' | 'lastHeight'>;

function reachOf(family: Family, clear: Float64Array): Reach {
  const { heightCells, lengthCells } = family;
  const reach = new Float64Array(lengthCells + 1);
  const lastHeight = new Int16Array(lengthCells + 1).fill(-1);
  const lean: number[] = [];
  const leanCells = new Int32Array(heightCells.length);
  const leanValues = new Float64Array(heightCells.length);
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
      const value = clear[next] as number;
      if ((heightCells[next] as number) === j && value > best) {
        best = value;
        last = next;
        lean.push(next);
        leanCells[count] = j;
        leanValues[count] = value;
        count += 1;
      }
    }
    reach[j] = best;
    lastHeight[j] = last;
  }
  return { lean, leanCells, leanValues, reach, lastHeight };
}
