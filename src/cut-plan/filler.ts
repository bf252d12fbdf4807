import { addGiven, type Fill, type FilledLay, fillOf, laidOnEnd, slitFilling, worthOfLay } from './fills.ts';
import { LayValues } from './lay-values.ts';
import { chargedTicks, type Model, type PieceStock } from './model.ts';
import { fillPiece, type PieceFilling } from './piece-filling.ts';

export interface FillOptions {
  readonly prices: Float64Array;
  /** Fillings that stand already. */
  readonly fixed: readonly Fill[];
  /** How much each stock is liked, 1 for plainly; the densest filling is taken first. */
  readonly liking: (stock: PieceStock) => number;
  /** Whether to leave off, with strips missing. */
  readonly isOver: () => boolean;
}

/** Fills of single pieces that together make a plan; compared by what is missing, charged and used, then by pieces cut. */
export interface Filled {
  readonly fills: readonly Fill[];
  readonly missing: number;
  readonly chargedArea: number;
  readonly usedArea: number;
}

export function filledOf(model: Model, fills: readonly Fill[]): Filled {
  const left = stripsLeft(model, fills);
  return {
    fills,
    missing: left.reduce((sum, n) => sum + Math.max(0, n), 0),
    chargedArea: fills.reduce((sum, fill) => sum + fill.chargedArea, 0),
    usedArea: fills.reduce((sum, fill) => sum + fill.endTicks * fill.stock.family.widthTicks, 0),
  };
}

export function isLess(a: Filled, b: Filled): boolean {
  const less = a.missing - b.missing || a.chargedArea - b.chargedArea || a.usedArea - b.usedArea;
  return (less || a.fills.length - b.fills.length) < 0;
}

/** A piece that is being cut, up to where it is cut. */
interface Begun {
  readonly stock: PieceStock;
  lays: FilledLay[];
  endTicks: number;
  /** As it was valued last, above all others where it was not. */
  density: number;
}

interface Candidate {
  readonly stock: PieceStock;
  readonly begun: Begun | null;
  readonly density: number;
}

interface Choice extends Candidate {
  readonly filling: PieceFilling;
}

const MOST_RAISES = 24;
const UNKNOWN = Number.POSITIVE_INFINITY;

/**
 * Fills pieces one by one: always the one whose best filling is worth most for what it is charged, at prices that
 * column generation gave (a fill heuristic guided by dual prices; cf. Haessler 1971). A filling is taken as far as
 * its strips are wanted, then the rest is valued anew. Where nothing pays any more, prices rise.
 */
export class Filler {
  readonly #model: Model;
  readonly #liking: (stock: PieceStock) => number;
  readonly #isOver: () => boolean;
  readonly #free: number[];
  /** Made anew by every taking, so that values know of which it was that they are. */
  #wanted: Int32Array;
  readonly #begun: Begun[] = [];
  readonly #densities: Float64Array;
  #prices: Float64Array;
  #values = new Map<number, LayValues>();

  constructor(model: Model, options: FillOptions) {
    this.#model = model;
    this.#liking = options.liking;
    this.#isOver = options.isOver;
    this.#prices = options.prices;
    this.#free = model.stocks.map(({ places }) => places.length);
    this.#densities = Float64Array.from(model.stocks, () => UNKNOWN);
    this.#wanted = stripsLeft(model, options.fixed).map((n) => Math.max(0, n));
    for (const { stock, lays, endTicks } of options.fixed) {
      this.#free[stock.index] = (this.#free[stock.index] as number) - 1;
      this.#begun.push({ stock, lays: [...lays], endTicks, density: UNKNOWN });
    }
  }

  run(): Filled {
    let raises = 0;
    while (this.#wanted.some((n) => n > 0) && raises <= MOST_RAISES && !this.#isOver()) {
      const choice = this.#choose();
      if (choice && this.#take(choice)) continue;
      raises += 1;
      this.#prices = this.#prices.map((price, i) =>
        (this.#wanted[i] as number) > 0 ? Math.ceil(price * 1.3) : price,
      );
      this.#values.clear();
      this.#densities.fill(UNKNOWN);
      for (const begun of this.#begun) begun.density = UNKNOWN;
    }
    const fills = this.#begun.map(({ stock, lays }) => fillOf(this.#model, stock, lays));
    return filledOf(
      this.#model,
      fills.filter(({ lays }) => lays.length > 0),
    );
  }

  /**
   * What was valued before strips were taken is worth no more now, or little: only what may still be the densest is
   * valued again (lazy evaluation of a greedy choice; Minoux 1978).
   */
  #choose(): Choice | null {
    const candidates: Candidate[] = [];
    for (const begun of this.#begun) {
      const least = begun.stock.family.heights[0] ?? 0;
      if (begun.stock.lengthTicks - begun.endTicks < least) continue;
      candidates.push({ stock: begun.stock, begun, density: begun.density });
    }
    this.#model.stocks.forEach((stock, i) => {
      if ((this.#free[i] as number) > 0)
        candidates.push({ stock, begun: null, density: this.#densities[i] as number });
    });
    candidates.sort((a, b) => b.density - a.density);
    const { meter } = this.#model;
    meter.lesser += candidates.length * Math.ceil(Math.log2(candidates.length + 2)) + this.#wanted.length;
    let best: Choice | null = null;
    for (const { stock, begun, density } of candidates) {
      if ((best !== null && best.density >= density) || meter.isSpent) break;
      const choice = this.#valued(stock, begun);
      if (begun) begun.density = choice.density;
      else this.#densities[stock.index] = choice.density;
      if (choice.filling.cutLengths.length > 0 && (best === null || choice.density > best.density))
        best = choice;
    }
    return best;
  }

  #valued(stock: PieceStock, begun: Begun | null): Choice {
    const start = begun?.endTicks ?? 0;
    const filling = fillPiece(this.#model, stock, this.#valuesOf(stock), start);
    if (filling.cutLengths.length === 0) return { stock, begun, filling, density: Number.NEGATIVE_INFINITY };
    const before = chargedTicks(stock, start);
    const charged = (chargedTicks(stock, filling.endTicks) - before) * stock.family.widthTicks;
    const worth = charged - filling.score;
    // What costs nothing more goes first; else the densest.
    const density = charged <= 0 ? Number.MAX_VALUE : (worth / charged) * this.#liking(stock);
    return { stock, begun, filling, density };
  }

  #take({ stock, begun, filling }: Choice): boolean {
    const lays = slitFilling(stock, this.#valuesOf(stock), filling);
    const piece = begun ?? { stock, lays: [], endTicks: 0, density: UNKNOWN };
    piece.density = UNKNOWN;
    const ordered = stock.flaws.length === 0 ? this.#densestFirst(lays, piece.endTicks) : lays;
    const wanted = Int32Array.from(this.#wanted);
    let taken = 0;
    for (const lay of ordered) {
      this.#model.meter.lesser += 2 * wanted.length;
      const given = new Int32Array(wanted.length);
      addGiven(lay, given);
      const fits = given.every((n, i) => n <= (wanted[i] as number));
      // The first lay is taken even where its stretches beside a flaw give a strip too many between them.
      if (!fits && (taken > 0 || given.every((n, i) => n === 0 || (wanted[i] as number) === 0))) break;
      given.forEach((n, i) => {
        wanted[i] = Math.max(0, (wanted[i] as number) - n);
      });
      piece.lays.push(lay);
      piece.endTicks = lay.fromTicks + lay.heightTicks;
      taken += 1;
    }
    if (taken === 0) return false;
    this.#wanted = wanted;
    if (!begun) {
      this.#begun.push(piece);
      this.#free[stock.index] = (this.#free[stock.index] as number) - 1;
    }
    return true;
  }

  /** On a piece without flaws the order of lays is free; the best go first, as the rest may not be wanted. */
  #densestFirst(lays: readonly FilledLay[], startTicks: number): FilledLay[] {
    const worth = (lay: FilledLay) => worthOfLay(lay, this.#prices) / lay.heightTicks;
    const sorted = lays
      .map((lay, i) => ({ lay, i, worth: worth(lay) }))
      .sort((a, b) => b.worth - a.worth || b.lay.heightTicks - a.lay.heightTicks || a.i - b.i);
    return laidOnEnd(
      sorted.map(({ lay }) => lay),
      startTicks,
    );
  }

  #valuesOf({ family }: PieceStock): LayValues {
    const known = this.#values.get(family.index);
    if (known?.wanted === this.#wanted) return known;
    const asked = { family, prices: this.#prices, wanted: this.#wanted };
    const values = new LayValues(this.#model, asked, known);
    this.#values.set(family.index, values);
    return values;
  }
}

/** Strips still wanted of each kind; below 0 where more are given. */
export function stripsLeft(model: Model, fills: readonly Fill[]): Int32Array {
  const left = Int32Array.from(model.counts);
  for (const { given } of fills)
    given.forEach((n, i) => {
      left[i] = (left[i] as number) - n;
    });
  return left;
}
