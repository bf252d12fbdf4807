import type { LayValues, Slit } from './lay-values.ts';
import { chargedTicks, freeSpans, type Model, type PieceStock } from './model.ts';
import type { PieceFilling } from './piece-filling.ts';

/** A lay on a piece: per free stretch across, from its left edge, how it is slit. */
export interface FilledLay {
  readonly fromTicks: number;
  readonly heightTicks: number;
  readonly spans: readonly { readonly leftTicks: number; readonly slits: readonly Slit[] }[];
}

/** How one piece of a stock is cut, and what that gives and takes. */
export interface Fill {
  readonly stock: PieceStock;
  readonly lays: readonly FilledLay[];
  readonly endTicks: number;
  /** Charged length × width, in square ticks. */
  readonly chargedArea: number;
  /** Strips given, by kind. */
  readonly given: Int32Array;
}

export function fillOf(model: Model, stock: PieceStock, lays: readonly FilledLay[]): Fill {
  const given = new Int32Array(model.counts.length);
  for (const lay of lays) addGiven(lay, given);
  const endTicks = lays.reduce((end, lay) => Math.max(end, lay.fromTicks + lay.heightTicks), 0);
  const chargedArea = chargedTicks(stock, endTicks) * stock.family.widthTicks;
  return { stock, lays, endTicks, chargedArea, given };
}

/** What strips are worth at prices, in square ticks. */
export function worthOf(given: Int32Array, prices: Float64Array): number {
  return given.reduce((sum, n, kind) => sum + n * (prices[kind] as number), 0);
}

/** What the strips of a lay are worth at prices, in square ticks. */
export function worthOfLay({ spans }: FilledLay, prices: Float64Array): number {
  let worth = 0;
  for (const { slits } of spans)
    for (const { shape, columns, stack } of slits) worth += columns * stack * (prices[shape.kind] as number);
  return worth;
}

/** Lays one behind the other from a line on. */
export function laidOnEnd<L extends { readonly heightTicks: number }>(
  lays: readonly L[],
  startTicks = 0,
): (L & { readonly fromTicks: number })[] {
  let next = startTicks;
  return lays.map((lay) => {
    const fromTicks = next;
    next += lay.heightTicks;
    return { ...lay, fromTicks };
  });
}

/** Fillings that cost and give the same are one. */
export function fillKey({ stock, chargedArea, given }: Fill): string {
  return `${stock.index} ${chargedArea} ${given.join()}`;
}

export function addGiven({ spans }: FilledLay, given: Int32Array): void {
  for (const { slits } of spans)
    for (const { shape, columns, stack } of slits)
      given[shape.kind] = (given[shape.kind] as number) + columns * stack;
}

/** Whether strips are all still wanted. */
export function isAllWanted(given: Int32Array, wanted: ArrayLike<number>): boolean {
  return given.every((n, i) => n <= (wanted[i] as number));
}

/** Slits the lays of a filling. */
export function slitFilling(stock: PieceStock, values: LayValues, filling: PieceFilling): FilledLay[] {
  const { family, flaws } = stock;
  const spansOf = (fromTicks: number, height: number) =>
    freeSpans(flaws, family.widthTicks, fromTicks, fromTicks + (family.heights[height] as number)).map(
      ([leftTicks, rightTicks]) => ({ leftTicks, slits: values.slitsIn(height, rightTicks - leftTicks) }),
    );
  // Without flaws all lays of a height are slit alike; a long piece has hundreds of them.
  const alike = new Map<number, FilledLay['spans']>();
  return filling.cutLengths.map(({ fromTicks, height }) => {
    const spans = alike.get(height) ?? spansOf(fromTicks, height);
    if (flaws.length === 0) alike.set(height, spans);
    return { fromTicks, heightTicks: family.heights[height] as number, spans };
  });
}
