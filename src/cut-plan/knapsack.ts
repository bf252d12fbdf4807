import { Meter } from './meter.ts';
import type { SumStep } from './sums.ts';

/** Something to fill a width with: up to `most` of them, each worth so much. */
export interface Item {
  readonly step: SumStep;
  readonly most: number;
  readonly value: number;
}

/** Up to `most` of an item at once, as often as they fit or once. */
interface Part {
  readonly item: number;
  readonly count: number;
  readonly before: Int32Array;
  readonly value: number;
  readonly isRepeated: boolean;
}

/**
 * The best value that fits into each of the sums up to the one at `last`, into `best` (of last + 1 places).
 *
 * Dynamic programming over the sums of sizes (Gilmore and Gomory, Operations Research 13, 1965): exact where values are
 * whole numbers. An item that fits no more often than it may be taken is filled in without counting.
 */
export function fillValues(
  items: readonly Item[],
  sums: Float64Array,
  last: number,
  best: Float64Array,
  meter = new Meter(),
): void {
  best.fill(0, 0, last + 1);
  addItems(items, sums, last, best, meter);
}

/** Makes the best values so far those with further items. */
export function addItems(
  items: readonly Item[],
  sums: Float64Array,
  last: number,
  best: Float64Array,
  meter = new Meter(),
): void {
  for (const { before, value, isRepeated } of partsOf(items, sums[last] as number)) {
    meter.lesser += last;
    if (isRepeated) {
      for (let p = 1; p <= last; p += 1) {
        const from = before[p] as number;
        if (from < 0) continue;
        const with1 = (best[from] as number) + value;
        if (with1 > (best[p] as number)) best[p] = with1;
      }
    } else {
      for (let p = last; p > 0; p -= 1) {
        const from = before[p] as number;
        if (from < 0) break;
        const with1 = (best[from] as number) + value;
        if (with1 > (best[p] as number)) best[p] = with1;
      }
    }
  }
}

/**
 * How many of each item make the best filling of the sum at `last`, in the order of the items; then the best fillings of
 * lesser sums, each worth less than the one before: at most `most` in all.
 */
export function bestFillings(
  items: readonly Item[],
  sums: Float64Array,
  last: number,
  most = 1,
  meter = new Meter(),
): number[][] {
  const best = new Float64Array(last + 1);
  const parts = partsOf(items, sums[last] as number);
  meter.lesser += 2 * parts.length * (last + 1);
  const taken = parts.map(({ before, value, isRepeated }) => {
    const times = new Uint16Array(last + 1);
    for (let n = 1; n <= last; n += 1) {
      const p = isRepeated ? n : last + 1 - n;
      const from = before[p] as number;
      if (from < 0) continue;
      const with1 = (best[from] as number) + value;
      if (with1 <= (best[p] as number)) continue;
      best[p] = with1;
      times[p] = isRepeated ? (times[from] as number) + 1 : 1;
    }
    return times;
  });
  const found: number[][] = [];
  let place = last;
  do {
    found.push(countsAt(place, items.length, parts, taken));
    const value = best[place] as number;
    while (place > 0 && best[place] === value) place -= 1;
  } while (found.length < most && place > 0);
  return found;
}

function countsAt(
  start: number,
  items: number,
  parts: readonly Part[],
  taken: readonly Uint16Array[],
): number[] {
  const counts = Array.from({ length: items }, () => 0);
  let place = start;
  for (let i = parts.length - 1; i >= 0; i -= 1) {
    const { item, count, before } = parts[i] as Part;
    for (let n = (taken[i] as Uint16Array)[place] as number; n > 0; n -= 1) {
      counts[item] = (counts[item] as number) + count;
      place = before[place] as number;
    }
  }
  return counts;
}

function partsOf(items: readonly Item[], widthTicks: number): Part[] {
  const parts: Part[] = [];
  items.forEach(({ step, most, value }, item) => {
    if (most >= Math.floor(widthTicks / step.ticks)) {
      parts.push({ item, count: 1, before: step.before, value, isRepeated: true });
      return;
    }
    // 1, 2, 4, … and a rest in such powers: any number up to `most` is a sum of some of them.
    const whole = Math.floor(Math.log2(most + 1));
    const rest = most + 1 - 2 ** whole;
    let power = step;
    for (let n = 0, count = 1; n < whole; n += 1, count *= 2) {
      if (n > 0) power = power.twice();
      const part = { item, count, before: power.before, value: count * value, isRepeated: false };
      parts.push(part);
      if (Math.floor(rest / count) % 2 === 1) parts.push(part);
    }
  });
  return parts;
}
