/** A size laid across, by the sums of sizes: where it can end, and where it then begins. */
export interface SumStep {
  /** Ticks that it counts for; less than it has where sums are coarse. */
  readonly ticks: number;
  /** For each sum, the place of the greatest sum that is less by `ticks` or more; −1 where none is. */
  readonly before: Int32Array;
  /** Two of these side by side. */
  twice(): SumStep;
}

/**
 * All widths that columns side by side can come to, rising from 0, in ticks. Nothing lies between two of them, so that
 * values need to be known only there (the normal patterns of Herz, IBM J. Res. Dev. 16, 1972). Where there would be too
 * many, multiples of `unit` take their place, and sizes count for a little less than they have.
 */
export class WidthSums {
  readonly ticks: Float64Array;
  /** 1 where sums are exact. */
  readonly unit: number;
  readonly #steps = new Map<number, SumStep>();

  /** Sums of `sizes` (whole ticks above 0) up to `mostTicks`; at most `most` of them, or some thousand coarse ones. */
  constructor(sizes: readonly number[], mostTicks: number, most: number) {
    const fitting = [...new Set(sizes)].filter((size) => size <= mostTicks);
    const exact = sumsOf(fitting, mostTicks, Math.min(most, MOST_ENTRIES / Math.max(1, fitting.length)));
    this.unit = exact ? 1 : Math.ceil(mostTicks / COARSE_SUMS);
    this.ticks =
      exact ?? Float64Array.from({ length: Math.floor(mostTicks / this.unit) + 1 }, (_, i) => i * this.unit);
  }

  /** The place of the greatest sum that fits into a width. */
  placeOf(widthTicks: number): number {
    let low = 0;
    let high = this.ticks.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((this.ticks[middle] as number) <= widthTicks) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  stepOf(sizeTicks: number): SumStep {
    const ticks = Math.max(1, Math.floor(sizeTicks / this.unit)) * this.unit;
    const known = this.#steps.get(ticks) ?? stepOver(this.ticks, ticks);
    this.#steps.set(ticks, known);
    return known;
  }
}

const MOST_ENTRIES = 20_000_000;
const MOST_CELLS = 4_000_000;
const COARSE_SUMS = 12_000;

/** Null where there are more than `most`, or where they are too fine to be found. */
function sumsOf(sizes: readonly number[], mostTicks: number, most: number): Float64Array | null {
  const unit = sizes.reduce(gcd, 0) || mostTicks;
  const cells = Math.floor(mostTicks / unit);
  if (cells > MOST_CELLS) return null;
  const isSum = new Uint8Array(cells + 1);
  isSum[0] = 1;
  let count = 1;
  for (const size of sizes) {
    const step = size / unit;
    for (let c = step; c <= cells; c += 1) {
      if (isSum[c] === 1 || isSum[c - step] === 0) continue;
      isSum[c] = 1;
      count += 1;
    }
    if (count > most) return null;
  }
  const sums = new Float64Array(count);
  let next = 0;
  for (let c = 0; c <= cells; c += 1) {
    if (isSum[c] === 0) continue;
    sums[next] = c * unit;
    next += 1;
  }
  return sums;
}

function stepOver(sums: Float64Array, ticks: number): SumStep {
  const before = new Int32Array(sums.length).fill(-1);
  let place = 0;
  for (let i = 0; i < sums.length; i += 1) {
    const left = (sums[i] as number) - ticks;
    if (left < 0) continue;
    while ((sums[place + 1] as number) <= left) place += 1;
    before[i] = place;
  }
  return stepWith(before, ticks);
}

/** All sums are closed under adding a size, so that two steps back are where twice the size leads. */
function stepWith(before: Int32Array, ticks: number): SumStep {
  let double: SumStep | null = null;
  return {
    ticks,
    before,
    twice() {
      double ??= stepWith(
        before.map((place) => (place < 0 ? -1 : (before[place] as number))),
        2 * ticks,
      );
      return double;
    },
  };
}

export function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}
