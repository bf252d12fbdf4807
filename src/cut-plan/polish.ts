import { areasOf, boundByArea } from './bound.ts';
import { type Filled, filledOf } from './filler.ts';
import { type Fill, type FilledLay, fillKey, fillOf, laidOnEnd, worthOf } from './fills.ts';
import type { Model, PieceStock } from './model.ts';
import { nearLays } from './near-lays.ts';

/** A whole-number program: least cost over columns with finite bounds, each row between its bounds. */
export interface WholeProgram {
  readonly columns: readonly { readonly cost: number; readonly most: number; readonly whole: boolean }[];
  readonly rows: readonly {
    readonly terms: readonly (readonly [column: number, amount: number])[];
    readonly least?: number;
    readonly most?: number;
  }[];
}

/** Solves a program within so many nodes; null where it finds nothing or fails. Values by column. */
export type ProgramSolver = (program: WholeProgram, mostNodes: number) => readonly number[] | null;

/** Fillings and single lays to combine; at most so many of either are taken, those that lose least, on all long pieces together `mostLaid`. */
interface Pool {
  readonly fills: Iterable<Fill>;
  readonly lays: Iterable<Fill>;
  readonly most: number;
  readonly mostLaid: number;
}

interface Polish {
  readonly program: WholeProgram;
  read(values: readonly number[]): Filled;
}

const MOST_OPEN_PIECES = 8;

/**
 * The best whole-number combination of the fillings and lays found so far, as a program for a solver. Pieces without
 * flaws that were cut by lays take their lays in any number; others take whole fillings.
 */
export function polishProgram(
  model: Model,
  best: Filled,
  pool: Pool,
  prices: Float64Array,
  slack: number,
): Polish {
  const openPieces = longPieces(model, best);
  const fills = likeliest(pool, prices, best.fills);
  const longOf = new Map(openPieces.map((stock) => [stock.family, stock]));
  const guides = [prices, ...tighterPrices(model, prices, best.chargedArea - slack)];
  const near = [...longOf.values()].flatMap((stock) =>
    guides.flatMap((guide) => nearLays(model, stock, guide, slack)),
  );
  const lays =
    openPieces.length > 0
      ? laysOf(
          model,
          [...best.fills, ...pool.lays, ...fills, ...near],
          guides.at(-1) ?? prices,
          best.fills.length,
        ).slice(0, Math.min(pool.most, Math.ceil(pool.mostLaid / openPieces.length)))
      : [];
  const builder = new ProgramBuilder();
  const scale = Math.max(1, best.chargedArea / 1000);
  const given = model.counts.map((): (readonly [number, number])[] => []);
  const taken = model.stocks.map((): (readonly [number, number])[] => []);
  const give = (column: number, strips: Int32Array) => {
    strips.forEach((n, kind) => {
      if (n > 0) given[kind]?.push([column, n]);
    });
  };
  const fillColumns = fills.map((fill) => {
    const column = builder.column(fill.chargedArea / scale, fill.stock.places.length, true);
    give(column, fill.given);
    taken[fill.stock.index]?.push([column, 1]);
    return { column, fill };
  });
  const open = openPieces.map((stock) => {
    const { lengthTicks, usefulTicks, family } = stock;
    const used = builder.column((family.widthTicks * lengthTicks) / scale, 1, false);
    const whole = builder.column(0, 1, true);
    const any = builder.column(0, 1, true);
    const fitting = lays.filter(({ fill }) => fill.stock.family === family && fill.endTicks <= lengthTicks);
    const laid = fitting.map(({ fill, lay }) => {
      const column = builder.column(0, Math.floor(lengthTicks / lay.heightTicks), true);
      give(column, fill.given);
      return { column, lay };
    });
    const share = laid.map(({ column, lay }) => [column, lay.heightTicks / lengthTicks] as const);
    const useful = Math.min(1, usefulTicks / lengthTicks);
    builder.row({ terms: [[used, 1], ...share.map(([c, a]) => [c, -a] as const)], least: 0 });
    builder.row({
      terms: [
        [used, 1],
        [whole, -1],
      ],
      least: 0,
    });
    builder.row({ terms: [...share, [whole, -useful]], most: 1 - useful });
    builder.row({ terms: [...share, [any, -1]], most: 0 });
    taken[stock.index]?.push([any, 1]);
    return { stock, laid };
  });
  model.counts.forEach((count, kind) => {
    const possible = Math.min(count, count - (best.missing > 0 ? missingOf(model, best, kind) : 0));
    if (possible > 0) builder.row({ terms: given[kind] ?? [], least: possible });
  });
  model.stocks.forEach((stock) => {
    const terms = taken[stock.index] ?? [];
    if (terms.length > 0) builder.row({ terms, most: stock.places.length });
  });
  return {
    program: builder.program,
    read: (values) => {
      const times = (column: number) => Math.round(values[column] ?? 0);
      const chosen = fillColumns.flatMap(({ column, fill }) =>
        Array.from({ length: times(column) }, () => fill),
      );
      const opened = open.flatMap(({ stock, laid }) => {
        const lays = laidOnEnd(
          laid.flatMap(({ column, lay }) => Array.from({ length: times(column) }, () => lay)),
        );
        return lays.length > 0 ? [fillOf(model, stock, lays)] : [];
      });
      return filledOf(model, [...chosen, ...opened]);
    },
  };
}

/**
 * Where strips cover all but a little of what must be charged, prices by area prove almost as much, and halfway between
 * the two only lays that are full lose nothing.
 */
function tighterPrices(model: Model, prices: Float64Array, bound: number): Float64Array[] {
  const areas = areasOf(model);
  return boundByArea(model, 0) < 0.99 * bound
    ? []
    : [prices.map((price, i) => Math.floor((price + (areas[i] ?? 0)) / 2))];
}

class ProgramBuilder {
  readonly #columns: { cost: number; most: number; whole: boolean }[] = [];
  readonly #rows: WholeProgram['rows'][number][] = [];

  column(cost: number, most: number, whole: boolean): number {
    this.#columns.push({ cost, most, whole });
    return this.#columns.length - 1;
  }

  row(row: WholeProgram['rows'][number]): void {
    if (row.terms.length > 0) this.#rows.push(row);
  }

  get program(): WholeProgram {
    return { columns: this.#columns, rows: this.#rows };
  }
}

/** Pieces without flaws that hold many lays: those in use, then the longest others. */
function longPieces(model: Model, best: Filled): PieceStock[] {
  const inUse = new Set(best.fills.map(({ stock }) => stock.index));
  return model.stocks
    .filter(({ flaws, buying, lengthTicks, family, places }) => {
      const tallest = Math.max(...family.shapes.map(({ alongTicks }) => alongTicks));
      return flaws.length === 0 && !buying && places.length === 1 && lengthTicks >= 6 * tallest;
    })
    .sort((a, b) => Number(inUse.has(b.index)) - Number(inUse.has(a.index)) || b.lengthTicks - a.lengthTicks)
    .slice(0, MOST_OPEN_PIECES);
}

/** The fillings of the best plan, so that it can be built, and of the others those that lose least. */
function likeliest(pool: Pool, prices: Float64Array, known: readonly Fill[]): Fill[] {
  const kept = new Map(known.map((fill) => [fillKey(fill), fill]));
  const scored = [...pool.fills]
    .filter((fill) => !kept.has(fillKey(fill)))
    .map((fill) => {
      const worth = worthOf(fill.given, prices);
      return { fill, loss: (fill.chargedArea - worth) / Math.max(1, fill.chargedArea) };
    });
  scored.sort((a, b) => a.loss - b.loss);
  return [...kept.values(), ...scored.map(({ fill }) => fill)].slice(0, Math.max(pool.most, kept.size));
}

function laysOf(
  model: Model,
  fills: readonly Fill[],
  prices: Float64Array,
  ofBest: number,
): { fill: Fill; lay: FilledLay; loss: number }[] {
  const found = new Map<string, { fill: Fill; lay: FilledLay; loss: number }>();
  fills.forEach((whole, order) => {
    if (whole.stock.flaws.length > 0) return;
    const { index, widthTicks } = whole.stock.family;
    for (const lay of whole.lays) {
      const fill = fillOf(model, whole.stock, [{ ...lay, fromTicks: 0 }]);
      const key = `${index} ${lay.heightTicks} ${fill.given.join()}`;
      if (found.has(key)) continue;
      const worth = worthOf(fill.given, prices);
      // Lays of the best plan stay whatever they lose, so that the plan itself can be built.
      const isOfBest = order < ofBest;
      const loss = (widthTicks * lay.heightTicks - worth) / (widthTicks * lay.heightTicks);
      found.set(key, { fill, lay, loss: isOfBest ? loss - 1 : loss });
    }
  });
  return [...found.values()].sort((a, b) => a.loss - b.loss);
}

function missingOf(model: Model, best: Filled, kind: number): number {
  const made = best.fills.reduce((sum, { given }) => sum + (given[kind] as number), 0);
  return Math.max(0, (model.counts[kind] as number) - made);
}
