import type { Generated, Pattern } from './columns.ts';
import { stripsLeft } from './filler.ts';
import { type Fill, type FilledLay, fillOf, isAllWanted, laidOnEnd } from './fills.ts';
import type { Model, PieceStock } from './model.ts';

const NEARLY = 1e-4;

/** A plan that grows out of fractional ones: whole fillings, and single lays stacked on long pieces. */
export class Rounded {
  readonly #model: Model;
  readonly #fills: Fill[] = [];
  readonly #stacks = new Map<number, FilledLay[]>();

  constructor(model: Model) {
    this.#model = model;
  }

  /** Takes a filling, or a lay on its long piece, that is known to fit. */
  add({ fill, isLay }: Pattern): void {
    const { index } = fill.stock;
    if (isLay) this.#stack(index, fill.lays);
    else this.#fills.push({ ...fill, stock: this.#model.stocks[index] ?? fill.stock });
  }

  fills(): Fill[] {
    const stacked = [...this.#stacks].flatMap(([index, lays]) => {
      const stock = this.#model.stocks[index];
      return stock ? [fillOf(this.#model, stock, lays)] : [];
    });
    return [...this.#fills, ...stacked];
  }

  /** What is left: strips still wanted, pieces untouched, and the rest of pieces that lays are stacked on. */
  left(): Model {
    const counts = [...stripsLeft(this.#model, this.fills())].map((n) => Math.max(0, n));
    const stocks = this.#model.stocks.map((stock) => {
      const used = this.#fills.filter((fill) => fill.stock.index === stock.index).length;
      const lengthTicks = stock.lengthTicks - this.#heightOn(stock.index);
      return { ...stock, lengthTicks, places: stock.places.slice(used) };
    });
    return { ...this.#model, counts, stocks };
  }

  /**
   * Takes every pattern as often as it is wholly in a fractional plan and its strips are wanted. Where that is
   * nothing, the one nearest to a whole is taken once; `shake` is added to how near. False where nothing is left to take.
   */
  take(generated: Generated, shake: () => number): boolean {
    const left = this.left();
    const wanted = Int32Array.from(left.counts);
    const free = left.stocks.map(({ places }) => places.length);
    const room = left.stocks.map(({ lengthTicks }) => lengthTicks);
    const possible = generated.patterns.flatMap(({ pattern, amount }) => {
      const { fill, isLay } = pattern;
      const stock = left.stocks[fill.stock.index];
      if (!stock || amount <= NEARLY) return [];
      if (isLay && !isStacked(stock)) return [];
      const times = isLay ? (amount * stock.lengthTicks) / fill.endTicks : amount;
      return [{ fill, isLay, times, rank: (times % 1) + shake() }];
    });
    possible.sort((a, b) => b.rank - a.rank);
    let taken = 0;
    const take = (fill: Fill, isLay: boolean, exactly: boolean): boolean => {
      const { index } = fill.stock;
      const useful = fill.given.some((n, i) => n > 0 && (wanted[i] as number) > 0);
      if (!useful || (exactly && !isAllWanted(fill.given, wanted)) || (free[index] as number) < 1)
        return false;
      if (isLay && (room[index] as number) < fill.endTicks) return false;
      this.add({ fill, isLay });
      if (isLay) room[index] = (room[index] as number) - fill.endTicks;
      else free[index] = (free[index] as number) - 1;
      fill.given.forEach((n, i) => {
        wanted[i] = (wanted[i] as number) - n;
      });
      taken += 1;
      return true;
    };
    for (const { fill, isLay, times } of possible) {
      // On another way down some whole patterns are passed over, for the strips may go together better otherwise.
      if (shake() > 0.25 && taken > 0) continue;
      for (let n = Math.floor(times + NEARLY); n > 0 && take(fill, isLay, true); n -= 1);
    }
    if (taken > 0) return true;
    return (
      possible.some(({ fill, isLay }) => take(fill, isLay, true)) ||
      possible.some(({ fill, isLay }) => take(fill, isLay, false))
    );
  }

  /** Area charged for whole fillings and taken by stacked lays. */
  usedArea(): number {
    const stacked = [...this.#stacks].reduce((sum, [index]) => {
      const width = this.#model.stocks[index]?.family.widthTicks ?? 0;
      return sum + this.#heightOn(index) * width;
    }, 0);
    return this.#fills.reduce((sum, { chargedArea }) => sum + chargedArea, stacked);
  }

  #heightOn(index: number): number {
    return (this.#stacks.get(index) ?? []).reduce((sum, { heightTicks }) => sum + heightTicks, 0);
  }

  #stack(index: number, lays: readonly FilledLay[]): void {
    const before = this.#stacks.get(index) ?? [];
    this.#stacks.set(index, [...before, ...laidOnEnd(lays, this.#heightOn(index))]);
  }
}

/** What a plan is made of: the lays of long pieces one by one, whole fillings of others. */
export function partsOf(model: Model, fills: readonly Fill[]): Pattern[] {
  return fills.flatMap((fill): Pattern[] => {
    if (!isStacked(fill.stock)) return [{ fill, isLay: false }];
    return fill.lays.map((lay) => ({
      fill: fillOf(model, fill.stock, [{ ...lay, fromTicks: 0 }]),
      isLay: true,
    }));
  });
}

/** Whether lays may be taken one by one: on a long piece of which there is no other. */
function isStacked({ isLong, places }: PieceStock): boolean {
  return isLong && places.length === 1;
}
