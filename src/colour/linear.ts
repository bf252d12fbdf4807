/** Systems of linear equations. A matrix is square and kept by rows. */

/** x of A x = b by elimination with pivots; null where A has no inverse. Both are used up. */
export function eliminate(matrix: Float64Array, b: Float64Array): Float64Array | null {
  const n = b.length;
  const at = (row: number, column: number) => matrix[row * n + column] as number;
  for (let step = 0; step < n; step++) {
    let pivot = step;
    for (let row = step + 1; row < n; row++)
      if (Math.abs(at(row, step)) > Math.abs(at(pivot, step))) pivot = row;
    if (at(pivot, step) === 0) return null;
    if (pivot !== step) swapRows(matrix, b, step, pivot);
    for (let row = step + 1; row < n; row++) {
      const times = at(row, step) / at(step, step);
      if (times === 0) continue;
      for (let column = step; column < n; column++)
        matrix[row * n + column] = at(row, column) - times * at(step, column);
      b[row] = (b[row] as number) - times * (b[step] as number);
    }
  }
  for (let row = n - 1; row >= 0; row--) {
    let rest = b[row] as number;
    for (let column = row + 1; column < n; column++) rest -= at(row, column) * (b[column] as number);
    b[row] = rest / at(row, row);
  }
  return b;
}

function swapRows(matrix: Float64Array, b: Float64Array, one: number, other: number): void {
  const n = b.length;
  const row = matrix.slice(one * n, one * n + n);
  matrix.copyWithin(one * n, other * n, other * n + n);
  matrix.set(row, other * n);
  [b[one], b[other]] = [b[other] as number, b[one] as number];
}

/**
 * Takes a symmetric matrix apart by Cholesky, in its own place: its lower triangle is for `solveFor`. False where the matrix is
 * not positive definite.
 */
export function takeApart(matrix: Float64Array): boolean {
  const n = Math.sqrt(matrix.length);
  for (let row = 0; row < n; row++) {
    const at = row * n;
    for (let column = 0; column <= row; column++) {
      const other = column * n;
      let sum = matrix[at + column] as number;
      for (let k = 0; k < column; k++) sum -= (matrix[at + k] as number) * (matrix[other + k] as number);
      if (column < row) matrix[at + column] = sum / (matrix[other + column] as number);
      else if (sum > 0) matrix[at + row] = Math.sqrt(sum);
      else return false;
    }
  }
  return true;
}

/** x of A x = b, where A was taken apart. */
export function solveFor(apart: Float64Array, b: Float64Array): Float64Array {
  const n = b.length;
  const x = b.slice();
  for (let row = 0; row < n; row++) {
    let rest = x[row] as number;
    for (let k = 0; k < row; k++) rest -= (apart[row * n + k] as number) * (x[k] as number);
    x[row] = rest / (apart[row * n + row] as number);
  }
  for (let row = n - 1; row >= 0; row--) {
    const value = (x[row] as number) / (apart[row * n + row] as number);
    x[row] = value;
    for (let k = 0; k < row; k++) x[k] = (x[k] as number) - (apart[row * n + k] as number) * value;
  }
  return x;
}
