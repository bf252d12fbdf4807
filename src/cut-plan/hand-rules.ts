import { type Filled, filledOf } from './filler.ts';
import { addGiven, type Fill, type FilledLay, fillOf } from './fills.ts';
import type { Slit } from './lay-values.ts';
import { type Family, freeSpans, type Model, type PieceStock, type Shape } from './model.ts';

export type HandRule = 'naive' | 'careful' | 'through flaws';

/**
 * What a cutter does with pencil and paper (common practice).
 *
 * Naive: kind by kind in the order given, first piece first, one kind a lay, flaws skipped. Careful: shortest piece
 * first and in it the deepest strips that fit, the way round that wastes least width; the side is filled with other
 * strips, stacked where they are shallow, and what is left before a flaw with strips that fit there. Through flaws: as
 * careful, but a lay runs past a flaw, strips beside it, where that gives more than skipping it.
 */
export function cutByHand(model: Model, rule: HandRule): Filled {
  const hand = new Hand(model, rule);
  if (rule === 'naive') hand.cutKindByKind();
  else hand.cutPieceByPiece();
  return filledOf(model, hand.fills());
}

interface Piece {
  readonly stock: PieceStock;
  readonly lays: FilledLay[];
  atTicks: number;
}

/** The shapes of a family in the orders in which a cutter takes them. */
interface Orders {
  /** Deepest first, each kind the way round that wastes least width. */
  readonly upright: readonly Shape[];
  /** What goes beside: deepest first, then widest. */
  readonly beside: readonly Shape[];
}

class Hand {
  readonly #model: Model;
  readonly #rule: HandRule;
  readonly #orders: readonly Orders[];
  readonly #wanted: Int32Array;
  readonly #pieces: Piece[] = [];

  constructor(model: Model, rule: HandRule) {
    this.#model = model;
    this.#rule = rule;
    this.#orders = model.families.map(ordersOf);
    this.#wanted = Int32Array.from(model.counts);
    const wantedArea = model.job.kinds.reduce((sum, k) => sum + k.count * k.lengthTicks * k.depthTicks, 0);
    for (const stock of model.stocks) {
      // Of thousands of alike pieces no rule opens more than there are strips.
      const strips = model.counts.reduce((sum, n) => sum + n, 0);
      const count = wantedArea === 0 ? 0 : Math.min(stock.places.length, strips);
      for (let i = 0; i < count; i += 1) this.#pieces.push({ stock, lays: [], atTicks: 0 });
    }
    const bought = ({ stock }: Piece) => (stock.buying ? 1 : 0);
    const tightest = (a: Piece, b: Piece) => a.stock.lengthTicks - b.stock.lengthTicks;
    this.#pieces.sort((a, b) => bought(a) - bought(b) || (rule === 'naive' ? 0 : tightest(a, b)));
  }

  cutKindByKind(): void {
    this.#model.counts.forEach((_, kind) => {
      for (const piece of this.#pieces) {
        if ((this.#wanted[kind] as number) <= 0) return;
        const shape = piece.stock.family.shapes.find((one) => one.kind === kind);
        if (shape) while (this.#cutAlike(piece, shape));
      }
    });
  }

  #cutAlike(piece: Piece, shape: Shape): boolean {
    const { stock } = piece;
    const wanted = this.#wanted[shape.kind] as number;
    const at = clearPlace(stock, piece.atTicks, shape.alongTicks);
    if (wanted <= 0 || at === null) return false;
    const columns = Math.min(wanted, Math.floor(stock.family.widthTicks / shape.acrossTicks));
    this.#cut(piece, at, shape.alongTicks, [{ leftTicks: 0, slits: [{ shape, columns, stack: 1 }] }]);
    return true;
  }

  cutPieceByPiece(): void {
    for (const piece of this.#pieces) {
      while (this.#wanted.some((n) => n > 0) && this.#cutBest(piece));
    }
  }

  #cutBest(piece: Piece): boolean {
    const { stock } = piece;
    const { upright: all } = this.#orders[stock.family.index] as Orders;
    const upright = all.filter(({ kind }) => (this.#wanted[kind] as number) > 0);
    this.#model.meter.lesser += this.#wanted.length + all.length;
    // It is the same for every shape.
    let fitsBefore: boolean | null = null;
    for (const shape of upright) {
      this.#model.meter.lesser += 1 + stock.flaws.length;
      const skipping = clearPlace(stock, piece.atTicks, shape.alongTicks);
      const here = piece.atTicks;
      if (here + shape.alongTicks > stock.lengthTicks) continue;
      const clear = skipping === null ? null : this.#lay(stock, shape, skipping);
      const through =
        this.#rule === 'through flaws' && skipping !== here ? this.#lay(stock, shape, here) : null;
      const gap = skipping === null ? 0 : skipping - here;
      if (
        through &&
        this.#areaOf(through) > 0 &&
        (!clear || this.#areaOf(through) / shape.alongTicks > this.#areaOf(clear) / (shape.alongTicks + gap))
      ) {
        this.#cut(piece, here, shape.alongTicks, through);
        return true;
      }
      // Before a flaw is skipped, strips that fit in front of it are cut.
      if (skipping === null) continue;
      fitsBefore ??= upright.some(({ alongTicks }) => clearPlace(stock, here, alongTicks) === here);
      if (gap > 0 && fitsBefore) continue;
      if (clear) this.#cut(piece, skipping, shape.alongTicks, clear);
      return clear !== null;
    }
    return false;
  }

  /** One lay at a place: the shape itself as often as it fits and is wanted, then others beside it. */
  #lay(stock: PieceStock, shape: Shape, fromTicks: number): FilledLay['spans'] {
    const heightTicks = shape.alongTicks;
    const left = Int32Array.from(this.#wanted);
    const { beside } = this.#orders[stock.family.index] as Orders;
    const others = beside.filter((other) => other !== shape && other.alongTicks <= heightTicks);
    const free = freeSpans(stock.flaws, stock.family.widthTicks, fromTicks, fromTicks + heightTicks);
    this.#model.meter.lesser += beside.length * (1 + free.length);
    return free.map(([leftTicks, rightTicks]) => {
      let room = rightTicks - leftTicks;
      const slits: Slit[] = [];
      for (const one of [shape, ...others]) {
        const wanted = left[one.kind] as number;
        const fitting = this.#model.job.stacks ? Math.floor(heightTicks / one.alongTicks) : 1;
        const stack = Math.min(fitting, wanted);
        if (stack < 1) continue;
        const columns = Math.min(Math.floor(room / one.acrossTicks), Math.floor(wanted / stack));
        if (columns < 1) continue;
        slits.push({ shape: one, columns, stack });
        left[one.kind] = wanted - columns * stack;
        room -= columns * one.acrossTicks;
      }
      return { leftTicks, slits };
    });
  }

  #areaOf(spans: FilledLay['spans']): number {
    const slits = spans.flatMap((span) => span.slits);
    return slits.reduce((sum, s) => sum + s.columns * s.stack * s.shape.acrossTicks * s.shape.alongTicks, 0);
  }

  #cut(piece: Piece, fromTicks: number, heightTicks: number, spans: FilledLay['spans']): void {
    const lay = { fromTicks, heightTicks, spans };
    this.#model.meter.lesser += this.#wanted.length;
    const given = new Int32Array(this.#wanted.length);
    addGiven(lay, given);
    given.forEach((n, i) => {
      this.#wanted[i] = (this.#wanted[i] as number) - n;
    });
    piece.lays.push(lay);
    piece.atTicks = fromTicks + heightTicks;
  }

  fills(): Fill[] {
    return this.#pieces
      .filter(({ lays }) => lays.length > 0)
      .map(({ stock, lays }) => fillOf(this.#model, stock, lays));
  }
}

function ordersOf({ shapes, widthTicks }: Family): Orders {
  const wasted = ({ acrossTicks }: Shape) => (widthTicks % acrossTicks) / widthTicks;
  return {
    upright: shapes
      .filter((shape) => !shapes.some((o) => o.kind === shape.kind && wasted(o) < wasted(shape)))
      .sort((a, b) => b.alongTicks - a.alongTicks || wasted(a) - wasted(b) || a.kind - b.kind),
    beside: [...shapes].sort((a, b) => b.alongTicks - a.alongTicks || b.acrossTicks - a.acrossTicks),
  };
}

/** The first place from `fromTicks` on with so much length before the next flaw; null where there is none. */
function clearPlace(stock: PieceStock, fromTicks: number, heightTicks: number): number | null {
  let at = fromTicks;
  for (const flaw of stock.flaws)
    if (flaw.fromTicks < at + heightTicks && flaw.toTicks > at) at = flaw.toTicks;
  return at + heightTicks <= stock.lengthTicks ? at : null;
}
