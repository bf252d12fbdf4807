import { type Fill, type FilledLay, laidOnEnd } from './fills.ts';
import { chargedTicks, type Model, type PieceStock } from './model.ts';
import type { Columns, Cutting, Lay, PieceUse, PlanMethod } from './plan.ts';

/**
 * Makes a plan of fillings: surplus strips go, lays left empty go, what is left moves up where no flaw is in the way,
 * and every strip gets its place in ticks.
 */
export function planOfFills(model: Model, fills: readonly Fill[], how: PlanMethod): Cutting {
  const surplus = surplusOf(model, fills);
  const next = model.stocks.map(() => 0);
  const lays: Lay[] = [];
  const pieces: PieceUse[] = [];
  const made = model.counts.map(() => 0);
  // The last lays of a list are the least dense, so that surplus goes from the end.
  const trimmed = [...fills].reverse().map((fill) => ({
    fill,
    lays: [...fill.lays]
      .reverse()
      .map((lay) => trimLay(lay, surplus))
      .reverse(),
  }));
  for (const { fill, lays: kept } of trimmed.reverse()) {
    const { stock } = fill;
    const placed = moveUp(
      stock,
      kept.filter(({ slits }) => slits.length > 0),
    );
    if (placed.length === 0) continue;
    const place = stock.places[next[stock.index] as number];
    if (!place) throw new Error('more pieces are filled than there are');
    next[stock.index] = (next[stock.index] as number) + 1;
    const { pieceId, lotId } = place.piece;
    for (const { fromTicks, heightTicks, slits } of placed) {
      const columns = slits.map((slit) => columnsOf(model, slit, made));
      lays.push({ pieceId, copy: place.copy, fromTicks, heightTicks, columns });
    }
    const usedTicks = placed.reduce((end, lay) => Math.max(end, lay.fromTicks + lay.heightTicks), 0);
    const charged = chargedTicks(stock, usedTicks);
    const { lengthTicks } = stock;
    pieces.push({
      pieceId,
      copy: place.copy,
      lotId,
      widthTicks: stock.family.widthTicks,
      lengthTicks,
      usedTicks,
      chargedTicks: charged,
      leftTicks: lengthTicks - charged,
    });
  }
  return summed(model, lays, pieces, made, how);
}

/** Equal columns of a lay with the strips that are wanted of them. */
interface Cut {
  readonly kind: number;
  readonly turned: boolean;
  readonly leftTicks: number;
  readonly acrossTicks: number;
  readonly alongTicks: number;
  readonly columns: number;
  readonly stack: number;
  readonly strips: number;
}

interface TrimmedLay {
  readonly fromTicks: number;
  readonly heightTicks: number;
  readonly slits: readonly Cut[];
}

function surplusOf(model: Model, fills: readonly Fill[]): number[] {
  return model.counts.map((count, i) =>
    Math.max(0, fills.reduce((sum, { given }) => sum + (given[i] as number), 0) - count),
  );
}

function trimLay(lay: FilledLay, surplus: number[]): TrimmedLay {
  const slits: Cut[] = [];
  for (const span of lay.spans) {
    let leftTicks = span.leftTicks;
    const tallestFirst = [...span.slits].sort(
      (a, b) =>
        b.shape.alongTicks * b.stack - a.shape.alongTicks * a.stack ||
        a.shape.kind - b.shape.kind ||
        b.stack - a.stack,
    );
    for (const { shape, columns, stack } of tallestFirst) {
      const gone = Math.min(columns * stack, surplus[shape.kind] as number);
      surplus[shape.kind] = (surplus[shape.kind] as number) - gone;
      const strips = columns * stack - gone;
      if (strips === 0) continue;
      const { kind, turned, acrossTicks, alongTicks } = shape;
      const kept = Math.ceil(strips / stack);
      const height = kept === 1 ? strips : stack;
      slits.push({ kind, turned, leftTicks, acrossTicks, alongTicks, columns: kept, stack: height, strips });
      leftTicks += kept * acrossTicks;
    }
  }
  const heightTicks = slits.reduce((most, { alongTicks, stack }) => Math.max(most, alongTicks * stack), 0);
  return { fromTicks: lay.fromTicks, heightTicks, slits };
}

function moveUp(stock: PieceStock, lays: readonly TrimmedLay[]): TrimmedLay[] {
  if (stock.flaws.length > 0) return [...lays].sort((a, b) => a.fromTicks - b.fromTicks);
  return laidOnEnd(lays);
}

function columnsOf(model: Model, slit: Cut, made: number[]): Columns {
  made[slit.kind] = (made[slit.kind] as number) + slit.strips;
  const { kind, ...rest } = slit;
  return { kindId: model.job.kinds[kind]?.kindId ?? 0, ...rest };
}

function summed(model: Model, lays: Lay[], pieces: PieceUse[], made: number[], how: PlanMethod): Cutting {
  const missing = model.counts.map((count, i) => count - (made[i] as number));
  const sum = (of: (use: PieceUse) => number) => pieces.reduce((total, use) => total + of(use), 0);
  return {
    lays,
    pieces,
    made,
    missing,
    missingStrips: missing.reduce((total, n) => total + n, 0),
    lotIds: [...new Set(pieces.map(({ lotId }) => lotId))].sort((a, b) => a - b),
    usedTicks: sum(({ usedTicks }) => usedTicks),
    chargedTicks: sum((use) => use.chargedTicks),
    chargedArea: sum((use) => use.chargedTicks * use.widthTicks),
    usedArea: sum((use) => use.usedTicks * use.widthTicks),
    stripArea: model.job.kinds.reduce(
      (total, kind, i) => total + (made[i] as number) * kind.lengthTicks * kind.depthTicks,
      0,
    ),
    how,
  };
}
