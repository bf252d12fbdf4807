import type { LayValues, Slit } from './lay-values.ts';
import { chargedTicks, freeSpans, type Model, type Stock } from './model.ts';
import type { PieceFilling } from './piece-filling.ts';

/** A lay on a piece: per free stretch across, from its left edge, how it is slit. */
export interface FilledLay {
  readonly fromTicks: number;
  readonly heightTicks: number;
  readonly spans: readonly { readonly leftTicks: number; readonly slits: readonly Slit[] }[];
}

/** How one piece of a stock is cut, and what that gives and takes. */
export interface Fill {
  readonly stock: Stock;
  readonly lays: readonly FilledLay[];
  readonly endTicks: number;
  /** Charged length × width, in square ticks. */
  readonly chargedArea: number;
  /** Strips given, by kind. */
  readonly given: Int32Array;
}

export function fillOf(model: Model, stock: Stock, lays: readonly FilledLay[]): Fill {
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
export function keyOf({ stock, chargedArea, given }: Fill): string {
  return `${stock.index} ${chargedArea} ${given.join()}`;
}

export function addGiven({ spans }: FilledLay, given: Int32Array): void {
  for (const { slits } of spans)
    for (const { shape, columns, stack } of slits)
      given[shape.kind] = (given[shape.kind] as number) + columns * stack;
}

/** Whether strips are all still wanted. */
export function fits(given: Int32Array, wanted: ArrayLike<number>): boolean {
  return given.every((n, i) => n <= (wanted[i] as number));
}

/** Slits the lays of a filling. */
export function slitFilling(stock: Stock, values: LayValues, filling: PieceFilling): FilledLay[] {
  const { family } = stock;
  return filling.drops.map(({ fromTicks, height }) => {
    const heightTicks = family.heights[height] as number;
    const free = freeSpans(stock.flaws, family.widthTicks, fromTicks, fromTicks + heightTicks);
    const spans = free.map(([leftTicks, rightTicks]) => ({
      leftTicks,
      slits: values.slitsIn(height, rightTicks - leftTicks),
    }));
    return { fromTicks, heightTicks, spans };
  });
}
