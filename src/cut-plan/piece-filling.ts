import type { LayValues } from './lay-values.ts';
import { chargedTicks, type Model, type PieceStock } from './model.ts';
import { type LayFrame, PieceWalk } from './piece-walk.ts';

/** A lay's place on a piece, before it is slit: `height` is a place in the family's heights. */
export interface CutLength {
  readonly fromTicks: number;
  readonly height: number;
}

/** The best filling of a piece: what it is charged for less what its lays are worth; 0 and no cut lengths where none pays. */
export interface PieceFilling {
  readonly score: number;
  readonly cutLengths: readonly CutLength[];
  readonly endTicks: number;
}

/**
 * The filling of one piece from `startTicks` on that leaves the least of (charged × width − value), exactly.
 *
 * Lays are pushed towards the start: each begins where the one before ends, or where a flaw ends. Past a flaw a lay
 * has only what is free beside it, filled by itself. Without `charging` the cloth itself costs nothing.
 */
export function fillPiece(
  model: Model,
  stock: PieceStock,
  values: LayValues,
  startTicks = 0,
  charging = true,
): PieceFilling {
  const frames = framesOf(model, stock, values, startTicks);
  const widthTicks = charging ? stock.family.widthTicks : 0;
  const before = chargedTicks(stock, startTicks);
  let score = 0;
  let best: LayFrame | null = null;
  let cell = 0;
  for (const frame of frames) {
    const { originTicks, worth, last, cells, added } = frame;
    model.meter.work += cells;
    for (let j = 1; j <= cells; j += 1) {
      if ((last[j] as number) < 0) continue;
      const end = originTicks + j * model.alongUnit;
      const here = (chargedTicks(stock, end) - before) * widthTicks - (worth[j] as number) - added;
      if (here < score) [score, best, cell] = [here, frame, j];
    }
  }
  if (best === null) return { score: 0, cutLengths: [], endTicks: startTicks };
  const cutLengths = cutLengthsTo(model, values, best, cell);
  const last = cutLengths.at(-1);
  const endTicks = last ? last.fromTicks + (stock.family.heights[last.height] as number) : startTicks;
  return { score, cutLengths, endTicks };
}

function framesOf(
  model: Model,
  stock: PieceStock,
  values: LayValues,
  startTicks: number,
): readonly LayFrame[] {
  if (stock.flaws.some(({ toTicks }) => toTicks > startTicks))
    return new PieceWalk(model, stock, values, startTicks).frames();
  const cells = Math.max(0, Math.floor((stock.lengthTicks - startTicks) / model.alongUnit));
  const { reach, lastHeight } = values;
  return [{ originTicks: startTicks, entry: 0, from: null, worth: reach, last: lastHeight, cells, added: 0 }];
}

function cutLengthsTo(model: Model, values: LayValues, frame: LayFrame, cell: number): CutLength[] {
  const cutLengths: CutLength[] = [];
  let at: { readonly frame: LayFrame; readonly cell: number } | null = { frame, cell };
  while (at !== null) {
    const here: LayFrame = at.frame;
    let j: number = at.cell;
    while (j > 0) {
      const height = here.last[j] as number;
      if (height < 0) {
        j -= 1;
        continue;
      }
      j -= values.family.heightCells[height] as number;
      cutLengths.push({ fromTicks: here.originTicks + j * model.alongUnit, height });
    }
    at = here.from;
  }
  return cutLengths.reverse();
}
