import { Meter } from './meter.ts';

/** A column of a linear program: what it costs, and what it puts into which rows. */
export interface LpColumn {
  readonly cost: number;
  readonly rows: readonly number[];
  readonly amounts: readonly number[];
}

export interface LpSolution {
  /** A price for every row. */
  readonly prices: Float64Array;
  /** How much of each column, by its place. */
  readonly amounts: Float64Array;
  readonly cost: number;
}

const TINY = 1e-9;
const REFACTOR_EVERY = 120;
const MOST_CANDIDATES = 40;

/**
 * A linear program that grows by columns: least cost such that every row comes to exactly its right-hand side.
 *
 * Revised primal simplex with an explicit inverse (Dantzig and Orchard-Hays 1954). The first columns, one for each
 * row, must hold a 1 in their row alone: they are the basis to start from. Right-hand sides are shifted by tiny,
 * fixed amounts, so that ties do not make it go in circles; prices do not depend on them.
 */
export class GrowingLp {
  readonly columns: LpColumn[] = [];
  readonly #rows: number;
  readonly #right: Float64Array;
  readonly #basis: Int32Array;
  readonly #inBasis: boolean[] = [];
  readonly #inverse: Float64Array;
  readonly #values: Float64Array;
  readonly #meter: Meter;
  #prices: Float64Array;
  #pivots = 0;

  constructor(right: readonly number[], start: readonly LpColumn[], meter = new Meter()) {
    this.#meter = meter;
    meter.lesser += right.length ** 2;
    this.#rows = right.length;
    this.#right = Float64Array.from(right, (b, i) => b + (1 + ((i * 7919) % 97) / 97) * 1e-7);
    this.#basis = Int32Array.from(right, (_, i) => i);
    this.#inverse = new Float64Array(this.#rows * this.#rows);
    for (let i = 0; i < this.#rows; i += 1) this.#inverse[i * this.#rows + i] = 1;
    this.#values = Float64Array.from(this.#right);
    this.#prices = new Float64Array(this.#rows);
    for (const column of start) this.add(column);
    for (let i = 0; i < this.#rows; i += 1) this.#inBasis[i] = true;
  }

  add(column: LpColumn): number {
    this.columns.push(column);
    this.#inBasis.push(false);
    return this.columns.length - 1;
  }

  /** Goes on from the last solution to the cheapest one with the columns there are now. */
  solve(mostPivots = 4000): LpSolution {
    this.#prices = this.#pricesOfBasis();
    let candidates: number[] = [];
    for (let n = 0; n < mostPivots && !this.#meter.isSpent; n += 1) {
      // Columns that were cheap a moment ago are looked at before all others (multiple pricing; Orchard-Hays 1968).
      let entering = this.#cheapestOf(candidates);
      if (entering < 0) {
        candidates = this.#cheap();
        entering = this.#cheapestOf(candidates);
      }
      if (entering < 0 || !this.#enter(entering)) break;
    }
    this.#prices = this.#pricesOfBasis();
    const amounts = new Float64Array(this.columns.length);
    let cost = 0;
    for (let i = 0; i < this.#rows; i += 1) {
      const column = this.#basis[i] as number;
      const amount = Math.max(0, this.#values[i] as number);
      amounts[column] = amount;
      cost += amount * (this.columns[column] as LpColumn).cost;
    }
    return { prices: this.#prices, amounts, cost };
  }

  #pricesOfBasis(): Float64Array {
    this.#meter.lesser += this.#rows ** 2;
    const prices = new Float64Array(this.#rows);
    for (let i = 0; i < this.#rows; i += 1) {
      const { cost } = this.columns[this.#basis[i] as number] as LpColumn;
      if (cost === 0) continue;
      const row = i * this.#rows;
      for (let j = 0; j < this.#rows; j += 1)
        prices[j] = (prices[j] as number) + cost * (this.#inverse[row + j] as number);
    }
    return prices;
  }

  /** What a column costs beyond the prices: below 0 where it is worth taking. */
  #reduced({ cost, rows, amounts }: LpColumn): number {
    let reduced = cost;
    for (let k = 0; k < rows.length; k += 1)
      reduced -= (this.#prices[rows[k] as number] as number) * (amounts[k] as number);
    return reduced;
  }

  /** The same as a share of the cost, by which columns are compared; 0 for one that is taken already. */
  #reducedShare(c: number): number {
    const column = this.columns[c] as LpColumn;
    return this.#inBasis[c] ? 0 : this.#reduced(column) / (1 + Math.abs(column.cost));
  }

  #cheapestOf(columns: readonly number[]): number {
    let best = -TINY;
    let entering = -1;
    for (const c of columns) {
      const share = this.#reducedShare(c);
      if (share >= best) continue;
      best = share;
      entering = c;
    }
    return entering;
  }

  /** The columns that are worth most of all, some dozens at most. */
  #cheap(): number[] {
    const found: { readonly c: number; readonly share: number }[] = [];
    this.#meter.lesser += this.columns.length;
    for (let c = 0; c < this.columns.length; c += 1) {
      const share = this.#reducedShare(c);
      if (share < -TINY) found.push({ c, share });
    }
    found.sort((a, b) => a.share - b.share || a.c - b.c);
    return found.slice(0, MOST_CANDIDATES).map(({ c }) => c);
  }

  #enter(entering: number): boolean {
    const column = this.columns[entering] as LpColumn;
    const step = this.#times(column);
    let leaving = -1;
    let ratio = Number.POSITIVE_INFINITY;
    for (let i = 0; i < this.#rows; i += 1) {
      const pivot = step[i] as number;
      if (pivot <= TINY) continue;
      const here = Math.max(0, this.#values[i] as number) / pivot;
      const tie = here <= ratio + 1e-12 && leaving >= 0 && pivot > (step[leaving] as number);
      if (here < ratio - 1e-12 || tie) {
        ratio = Math.min(ratio, here);
        leaving = i;
      }
    }
    if (leaving < 0) return false;
    const change = this.#reduced(column) / (step[leaving] as number);
    const row = leaving * this.#rows;
    for (let j = 0; j < this.#rows; j += 1)
      this.#prices[j] = (this.#prices[j] as number) + change * (this.#inverse[row + j] as number);
    this.#pivot(leaving, entering, step);
    return true;
  }

  #times(column: LpColumn): Float64Array {
    const result = new Float64Array(this.#rows);
    for (let i = 0; i < this.#rows; i += 1) {
      const row = i * this.#rows;
      let sum = 0;
      for (let k = 0; k < column.rows.length; k += 1)
        sum += (this.#inverse[row + (column.rows[k] as number)] as number) * (column.amounts[k] as number);
      result[i] = sum;
    }
    return result;
  }

  #pivot(leaving: number, entering: number, step: Float64Array): void {
    const m = this.#rows;
    this.#meter.lesser += m * m;
    const pivot = step[leaving] as number;
    const from = leaving * m;
    for (let j = 0; j < m; j += 1) this.#inverse[from + j] = (this.#inverse[from + j] as number) / pivot;
    const amount = (this.#values[leaving] as number) / pivot;
    this.#values[leaving] = amount;
    for (let i = 0; i < m; i += 1) {
      const factor = step[i] as number;
      if (i === leaving || factor === 0) continue;
      const row = i * m;
      for (let j = 0; j < m; j += 1)
        this.#inverse[row + j] =
          (this.#inverse[row + j] as number) - factor * (this.#inverse[from + j] as number);
      this.#values[i] = (this.#values[i] as number) - factor * amount;
    }
    this.#inBasis[this.#basis[leaving] as number] = false;
    this.#inBasis[entering] = true;
    this.#basis[leaving] = entering;
    this.#pivots += 1;
    if (this.#pivots % Math.max(REFACTOR_EVERY, m) !== 0) return;
    this.#refactor();
    this.#prices = this.#pricesOfBasis();
  }

  /** Rebuilds the inverse from the basis itself, so that rounding does not pile up. */
  #refactor(): void {
    const m = this.#rows;
    this.#meter.lesser += m ** 3;
    const work = new Float64Array(m * m);
    const inverse = new Float64Array(m * m);
    for (let i = 0; i < m; i += 1) {
      inverse[i * m + i] = 1;
      const { rows, amounts } = this.columns[this.#basis[i] as number] as LpColumn;
      rows.forEach((row, k) => {
        work[row * m + i] = amounts[k] as number;
      });
    }
    for (let c = 0; c < m; c += 1) {
      let at = c;
      for (let r = c + 1; r < m; r += 1)
        if (Math.abs(work[r * m + c] as number) > Math.abs(work[at * m + c] as number)) at = r;
      const pivot = work[at * m + c] as number;
      if (Math.abs(pivot) < 1e-12) return;
      for (const [matrix, first] of [
        [work, c],
        [inverse, 0],
      ] as const) {
        if (at !== c) swapRows(matrix, m, at, c);
        for (let j = first; j < m; j += 1) matrix[c * m + j] = (matrix[c * m + j] as number) / pivot;
      }
      for (let r = 0; r < m; r += 1) {
        const factor = r === c ? 0 : (work[r * m + c] as number);
        if (factor === 0) continue;
        for (let j = c; j < m; j += 1)
          work[r * m + j] = (work[r * m + j] as number) - factor * (work[c * m + j] as number);
        for (let j = 0; j < m; j += 1)
          inverse[r * m + j] = (inverse[r * m + j] as number) - factor * (inverse[c * m + j] as number);
      }
    }
    this.#inverse.set(inverse);
    for (let i = 0; i < m; i += 1) {
      let sum = 0;
      for (let j = 0; j < m; j += 1) sum += (inverse[i * m + j] as number) * (this.#right[j] as number);
      this.#values[i] = sum;
    }
  }
}

function swapRows(matrix: Float64Array, m: number, a: number, b: number): void {
  for (let j = 0; j < m; j += 1) {
    const kept = matrix[a * m + j] as number;
    matrix[a * m + j] = matrix[b * m + j] as number;
    matrix[b * m + j] = kept;
  }
}
