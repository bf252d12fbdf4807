import type { LayValues } from './lay-values.ts';
import { type Family, freeSpans, type Model, type PieceStock } from './model.ts';

/** A frame that is being walked along the piece. */
interface Walked extends LayFrame {
  /** Flaws ahead of the origin that the walk has come to, and where the last of them ends, in cells. */
  seen: number;
  clearCell: number;
  /** Places of heights below this one lie wholly in the clear. */
  firstAcross: number;
}

const LEAST_STRETCH_CELLS = 48;

/**
 * Walks along a piece with flaws, all frames side by side: from the start, and from the end of every flaw.
 *
 * A frame is left where, over the length of the tallest lay, another has come as far with as much: whatever could
 * follow in the one can follow in the other, pushed towards the start, so that the walk stays exact.
 */
export class PieceWalk {
  readonly #model: Model;
  readonly #stock: PieceStock;
  readonly #values: LayValues;
  readonly #origins: readonly number[];
  readonly #tallestCells: number;
  readonly #spansOf: (fromTicks: number, toTicks: number) => readonly number[];

  constructor(model: Model, stock: PieceStock, values: LayValues, startTicks: number) {
    this.#model = model;
    this.#stock = stock;
    this.#values = values;
    const ends = stock.flaws.map(({ toTicks }) => toTicks);
    const later = ends.filter((ticks) => ticks > startTicks && ticks < stock.lengthTicks);
    this.#origins = [startTicks, ...new Set(later.sort((a, b) => a - b))];
    this.#tallestCells = values.family.heightCells.at(-1) ?? 0;
    this.#spansOf = spansBeside(stock, values.family);
  }

  frames(): readonly LayFrame[] {
    const { alongUnit } = this.#model;
    const { lengthTicks } = this.#stock;
    const stretchTicks = Math.max(this.#tallestCells, LEAST_STRETCH_CELLS) * alongUnit;
    const all: Walked[] = [];
    let active: Walked[] = [];
    const { meter } = this.#model;
    this.#origins.forEach((originTicks, i) => {
      // What was walked so far stands.
      if (i > 0 && meter.isSpent) return;
      const frame = this.#begin(originTicks, active);
      all.push(frame);
      active.push(frame);
      const next = this.#origins[i + 1] ?? lengthTicks;
      for (let at = originTicks; at < next && !meter.isSpent; ) {
        at = Math.min(next, at + stretchTicks);
        for (const one of active) this.#walk(one, Math.floor((at - one.originTicks) / alongUnit));
        active = this.#undominated(active);
      }
    });
    return all;
  }

  #begin(originTicks: number, active: readonly Walked[]): Walked {
    const { alongUnit } = this.#model;
    let entry = 0;
    let from: LayFrame['from'] = null;
    for (const frame of active) {
      const cell = Math.floor((originTicks - frame.originTicks) / alongUnit);
      const worth = (frame.worth[cell] as number) + frame.added;
      if (worth > entry) [entry, from] = [worth, { frame, cell }];
    }
    const start = { originTicks, entry, from, seen: 0, clearCell: 0, firstAcross: 0 };
    const length = Math.max(0, Math.floor((this.#stock.lengthTicks - originTicks) / alongUnit));
    const { reach, lastHeight } = this.#values;
    const ahead = this.#stock.flaws.filter(({ toTicks }) => toTicks > originTicks);
    if (ahead.length === 0) return { ...start, worth: reach, last: lastHeight, cells: length, added: entry };
    // As far as the first flaw nothing is in the way.
    const nearest = Math.min(...ahead.map(({ fromTicks }) => fromTicks));
    const cells = Math.min(length, Math.max(0, Math.floor((nearest - originTicks) / alongUnit)));
    const worth = new Float64Array(length + 1);
    const last = new Int16Array(length + 1).fill(-1);
    last.set(lastHeight.subarray(0, cells + 1));
    for (let j = 0; j <= cells; j += 1) worth[j] = (reach[j] as number) + entry;
    this.#model.meter.work += cells;
    return { ...start, worth, last, cells, added: 0 };
  }

  #walk(frame: Walked, toCell: number): void {
    const { originTicks, worth, last } = frame;
    if (frame.cells >= toCell || worth === this.#values.reach) return;
    const { family, most, mostNarrow, lean, leanCells, leanValues } = this.#values;
    const { heights, heightCells } = family;
    const unit = this.#model.alongUnit;
    const ahead = this.#stock.flaws.filter(({ toTicks }) => toTicks > originTicks);
    const leanCount = lean.length;
    let { seen, clearCell, firstAcross } = frame;
    let across = 0;
    let beside = 0;
    for (let j = frame.cells + 1; j <= toCell; j += 1) {
      const end = originTicks + j * unit;
      for (let flaw = ahead[seen]; flaw && flaw.fromTicks < end; seen += 1, flaw = ahead[seen]) {
        clearCell = Math.max(clearCell, Math.ceil((flaw.toTicks - originTicks) / unit));
        firstAcross = 0;
      }
      let best = worth[j - 1] as number;
      let choice = -1;
      for (let i = 0; i < leanCount; i += 1) {
        const cell = j - (leanCells[i] as number);
        if (cell < clearCell) break;
        const value = (worth[cell] as number) + (leanValues[i] as number);
        if (value > best) {
          best = value;
          choice = lean[i] as number;
        }
      }
      while (firstAcross < heights.length && j - (heightCells[firstAcross] as number) >= clearCell)
        firstAcross += 1;
      for (let k = firstAcross; k < heights.length; k += 1) {
        const cell = j - (heightCells[k] as number);
        if (cell < 0) break;
        across += 1;
        // Beside a flaw a lay is never worth more than in the clear.
        if ((worth[cell] as number) + (most[k] as number) <= best) continue;
        const from = originTicks + cell * unit;
        const spans = this.#spansOf(from, from + (heights[k] as number));
        beside += this.#stock.flaws.length + 2 * spans.length;
        let value = (worth[cell] as number) + sumOver(mostNarrow[k] as Float64Array, spans);
        if (value <= best) continue;
        if (!this.#values.isNarrowKnown(k))
          value = (worth[cell] as number) + sumOver(this.#values.narrowAt(k), spans);
        if (value > best) [best, choice] = [value, k];
      }
      worth[j] = best;
      last[j] = choice;
    }
    this.#model.meter.work += 2 * (toCell - frame.cells) * (leanCount + 4) + 4 * across;
    this.#model.meter.lesser += beside;
    Object.assign(frame, { seen, clearCell, firstAcross, cells: toCell });
  }

  #undominated(active: readonly Walked[]): Walked[] {
    const kept = [...active];
    for (const frame of active) {
      if (kept.length < 2) break;
      if (kept.some((other) => other !== frame && this.#dominates(other, frame)))
        kept.splice(kept.indexOf(frame), 1);
    }
    return kept;
  }

  /** Whether from each of the last cells, as many as the tallest lay takes, `other` has come as far with as much. */
  #dominates(other: Walked, frame: Walked): boolean {
    const unit = this.#model.alongUnit;
    const until = this.#values.reach === frame.worth ? this.#reachedOf(other, frame) : frame.cells;
    const first = Math.max(0, until - this.#tallestCells);
    const ahead = Math.floor((frame.originTicks - other.originTicks) / unit);
    const gapTicks = frame.originTicks - other.originTicks - ahead * unit;
    for (const { toTicks } of this.#stock.flaws) {
      // What follows could not begin earlier where a flaw ends between the two places.
      const j = Math.ceil((toTicks - frame.originTicks) / unit);
      if (j >= first && j <= until && frame.originTicks + j * unit - toTicks < gapTicks) return false;
    }
    let j = until;
    for (; j >= first; j -= 1) {
      const cell = ahead + j;
      if (cell < 0 || cell > other.cells) break;
      if ((other.worth[cell] as number) + other.added < (frame.worth[j] as number) + frame.added) break;
    }
    this.#model.meter.lesser += this.#stock.flaws.length + until - j + 1;
    return j < first;
  }

  /** How far a frame whose worth is known to the end may be compared with one that is still walked, in cells. */
  #reachedOf(other: Walked, frame: Walked): number {
    const unit = this.#model.alongUnit;
    const reached = Math.floor((other.originTicks + other.cells * unit - frame.originTicks) / unit);
    return Math.min(frame.cells, reached);
  }
}

function sumOver(best: Float64Array, places: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < places.length; i += 1) sum += best[places[i] as number] as number;
  return sum;
}

/** The widths beside the flaws that a lay runs past, as places of sums; remembered for flaws that are passed alike. */
function spansBeside({ flaws }: PieceStock, { widthTicks, sums }: Family) {
  const known = new Map<number, readonly number[]>();
  let lastMask = 0;
  let spans: readonly number[] = [];
  return (fromTicks: number, toTicks: number): readonly number[] => {
    let mask = 0;
    for (let i = 0; i < flaws.length; i += 1) {
      const flaw = flaws[i] as (typeof flaws)[number];
      if (flaw.fromTicks >= toTicks) break;
      if (flaw.toTicks > fromTicks) mask |= 1 << i;
    }
    if (mask === lastMask && mask !== 0) return spans;
    lastMask = mask;
    spans =
      known.get(mask) ??
      freeSpans(flaws, widthTicks, fromTicks, toTicks).map(([left, right]) => sums.placeOf(right - left));
    known.set(mask, spans);
    return spans;
  };
}

/** Lays placed one after the other from an origin: the piece's start or the end of a flaw. */
export interface LayFrame {
  readonly originTicks: number;
  readonly entry: number;
  /** The frame and cell that `entry` comes from. */
  readonly from: { readonly frame: LayFrame; readonly cell: number } | null;
  /** By the cells from the origin; beyond `cells` nothing is known, as other frames do as well there. */
  readonly worth: Float64Array;
  readonly last: Int16Array;
  cells: number;
  /** What is added to `worth`: 0, or `entry` where worth and last are those of the clear family. */
  readonly added: number;
}
