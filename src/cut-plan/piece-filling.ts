import type { LayValues } from './lay-values.ts';
import { chargedTicks, freeSpans, type Model, type Stock } from './model.ts';

/** A lay's place on a piece, before it is slit: `height` is a place in the family's heights. */
export interface Drop {
  readonly fromTicks: number;
  readonly height: number;
}

/** The best filling of a piece: what it is charged for less what its lays are worth; 0 and no drops where none pays. */
export interface PieceFilling {
  readonly score: number;
  readonly drops: readonly Drop[];
  readonly endTicks: number;
}

/** Lays placed one after the other from an origin: the piece's start or the end of a flaw. */
interface Frame {
  readonly originTicks: number;
  readonly entry: number;
  /** The frame and cell that `entry` comes from. */
  readonly from: { readonly frame: number; readonly cell: number } | null;
  readonly worth: Float64Array;
  readonly last: Int16Array;
  /** True where no flaw lies ahead: worth and last are those of the clear family. */
  readonly clear: boolean;
}

/**
 * The filling of one piece from `startTicks` on that leaves the least of (charged × width − value), exactly.
 *
 * Lays are pushed towards the start: each begins where the one before ends, or where a flaw ends. Past a flaw a lay
 * has only what is free beside it, filled by itself. Without `charging` the cloth itself costs nothing.
 */
export function fillPiece(
  model: Model,
  stock: Stock,
  values: LayValues,
  startTicks = 0,
  charging = true,
): PieceFilling {
  const frames = framesOf(model, stock, values, startTicks);
  const widthTicks = charging ? stock.family.widthTicks : 0;
  const before = chargedTicks(stock, startTicks);
  let best = { score: 0, frame: -1, cell: 0 };
  frames.forEach((frame, index) => {
    const cells = cellsFrom(model, stock, frame.originTicks);
    model.meter.work += frame.clear ? cells : 4 * cells * (values.lean.length + 10);
    for (let j = 1; j <= cells; j += 1) {
      if ((frame.last[j] as number) < 0) continue;
      const end = frame.originTicks + j * model.alongUnit;
      const worth = (frame.worth[j] as number) + (frame.clear ? frame.entry : 0);
      const score = (chargedTicks(stock, end) - before) * widthTicks - worth;
      if (score < best.score) best = { score, frame: index, cell: j };
    }
  });
  if (best.frame < 0) return { score: 0, drops: [], endTicks: startTicks };
  const drops = dropsTo(model, values, frames, best.frame, best.cell);
  const last = drops.at(-1);
  const endTicks = last ? last.fromTicks + (stock.family.heights[last.height] as number) : startTicks;
  return { score: best.score, drops, endTicks };
}

function cellsFrom(model: Model, stock: Stock, originTicks: number): number {
  return Math.floor((stock.lengthTicks - originTicks) / model.alongUnit);
}

function framesOf(model: Model, stock: Stock, values: LayValues, startTicks: number): Frame[] {
  const ends = stock.flaws.map(({ toTicks }) => toTicks);
  const later = ends.filter((ticks) => ticks > startTicks && ticks < stock.lengthTicks);
  const origins = [startTicks, ...new Set(later.sort((a, b) => a - b))];
  const beside = besideFlaws(stock, values);
  const frames: Frame[] = [];
  for (const originTicks of origins) {
    let entry = 0;
    let from: Frame['from'] = null;
    frames.forEach((earlier, frame) => {
      const cell = Math.floor((originTicks - earlier.originTicks) / model.alongUnit);
      const worth = earlier.worth[cell] as number;
      if (worth > entry) [entry, from] = [worth, { frame, cell }];
    });
    const ahead = stock.flaws.some(({ toTicks }) => toTicks > originTicks);
    frames.push(
      ahead
        ? frameWithFlaws(model, stock, values, beside, { originTicks, entry, from })
        : { originTicks, entry, from, worth: values.reach, last: values.lastHeight, clear: true },
    );
  }
  return frames;
}

type Start = Pick<Frame, 'originTicks' | 'entry' | 'from'>;

function frameWithFlaws(
  model: Model,
  stock: Stock,
  values: LayValues,
  beside: (height: number, fromTicks: number, toTicks: number) => number,
  start: Start,
): Frame {
  const { family, clear, lean } = values;
  const { heights, heightCells } = family;
  const unit = model.alongUnit;
  const cells = cellsFrom(model, stock, start.originTicks);
  const worth = new Float64Array(cells + 1);
  const last = new Int16Array(cells + 1).fill(-1);
  worth[0] = start.entry;
  const ahead = stock.flaws.filter(({ toTicks }) => toTicks > start.originTicks);
  const tallest = heights.at(-1) ?? 0;
  let clearFrom = start.originTicks;
  let seen = 0;
  for (let j = 1; j <= cells; j += 1) {
    const end = start.originTicks + j * unit;
    for (let flaw = ahead[seen]; flaw && flaw.fromTicks < end; seen += 1, flaw = ahead[seen])
      clearFrom = Math.max(clearFrom, flaw.toTicks);
    let best = worth[j - 1] as number;
    let choice = -1;
    for (const k of lean) {
      const cell = j - (heightCells[k] as number);
      if (cell < 0 || end - (heightCells[k] as number) * unit < clearFrom) break;
      const value = (worth[cell] as number) + (clear[k] as number);
      if (value > best) [best, choice] = [value, k];
    }
    if (end - clearFrom < tallest && seen > 0) {
      for (let k = 0; k < heights.length; k += 1) {
        const cell = j - (heightCells[k] as number);
        if (cell < 0) break;
        const from = start.originTicks + cell * unit;
        if (from >= clearFrom) continue;
        // Beside a flaw a lay is never worth more than in the clear.
        if ((worth[cell] as number) + (clear[k] as number) <= best) continue;
        const value = (worth[cell] as number) + beside(k, from, from + (heights[k] as number));
        if (value > best) [best, choice] = [value, k];
      }
    }
    worth[j] = best;
    last[j] = choice;
  }
  return { ...start, worth, last, clear: false };
}

/** What a lay is worth beside the flaws that it runs past; remembered for flaws that are passed alike. */
function besideFlaws(stock: Stock, values: LayValues) {
  const { family, narrow } = values;
  const { flaws } = stock;
  const known = new Map<number, readonly number[]>();
  return (height: number, fromTicks: number, toTicks: number): number => {
    if (narrow === null) return 0;
    let mask = 0;
    for (let i = 0; i < flaws.length; i += 1) {
      const flaw = flaws[i] as (typeof flaws)[number];
      if (flaw.fromTicks >= toTicks) break;
      if (flaw.toTicks > fromTicks) mask |= 1 << i;
    }
    let spans = known.get(mask);
    if (!spans) {
      const free = freeSpans(stock.flaws, family.widthTicks, fromTicks, toTicks);
      spans = free.map(([left, right]) => Math.floor((right - left) / family.acrossUnit));
      known.set(mask, spans);
    }
    const best = narrow[height] as Float64Array;
    let worth = 0;
    for (const cells of spans) worth += best[cells] as number;
    return worth;
  };
}

function dropsTo(
  model: Model,
  values: LayValues,
  frames: readonly Frame[],
  frame: number,
  cell: number,
): Drop[] {
  const drops: Drop[] = [];
  let at: { readonly frame: number; readonly cell: number } | null = { frame, cell };
  while (at !== null) {
    const here: Frame | undefined = frames[at.frame];
    if (!here) break;
    let j: number = at.cell;
    while (j > 0) {
      const height = here.last[j] as number;
      if (height < 0) {
        j -= 1;
        continue;
      }
      j -= values.family.heightCells[height] as number;
      drops.push({ fromTicks: here.originTicks + j * model.alongUnit, height });
    }
    at = here.from;
  }
  return drops.reverse();
}
