import { describe, expect, it } from 'vitest';
import { eliminate, solveFor, takeApart } from '../../../src/colour/linear.ts';
import { seededRandom } from '../../../src/cut-plan/random.ts';

function times(matrix: Float64Array, x: Float64Array): number[] {
  const n = x.length;
  return Array.from(x, (_, row) =>
    x.reduce((sum, each, column) => sum + (matrix[row * n + column] ?? 0) * each, 0),
  );
}

function someMatrix(n: number, seed: number): Float64Array {
  const random = seededRandom(seed);
  return Float64Array.from({ length: n * n }, () => random() - 0.5);
}

/** A matrix times itself turned over, and a little more on the diagonal: symmetric and positive. */
function positive(n: number, seed: number): Float64Array {
  const half = someMatrix(n, seed);
  return Float64Array.from({ length: n * n }, (_, at) => {
    const [row, column] = [Math.floor(at / n), at % n];
    let sum = row === column ? 0.1 : 0;
    for (let k = 0; k < n; k++) sum += (half[row * n + k] ?? 0) * (half[column * n + k] ?? 0);
    return sum;
  });
}

describe.each([1, 2, 5, 30])('a system of %d equations', (n) => {
  const b = Float64Array.from({ length: n }, (_, at) => Math.sin(at + 1));

  it('is solved by elimination', () => {
    const matrix = someMatrix(n, 7 + n);
    const x = eliminate(matrix.slice(), b.slice());
    if (!x) throw new Error('no solution');
    for (const [at, value] of times(matrix, x).entries()) expect(value).toBeCloseTo(b[at] ?? 0, 8);
  });

  it('is solved by Cholesky where it is positive', () => {
    const matrix = positive(n, 70 + n);
    const apart = matrix.slice();
    expect(takeApart(apart)).toBe(true);
    for (const [at, value] of times(matrix, solveFor(apart, b)).entries())
      expect(value).toBeCloseTo(b[at] ?? 0, 8);
  });
});

describe('what cannot be solved', () => {
  it('is told by elimination', () => {
    expect(eliminate(Float64Array.of(1, 2, 2, 4), Float64Array.of(1, 1))).toBeNull();
  });

  it('swaps rows where the first pivot is 0', () => {
    expect(eliminate(Float64Array.of(0, 1, 1, 0), Float64Array.of(3, 4))).toEqual(Float64Array.of(4, 3));
  });

  it('is told by Cholesky where a matrix is not positive', () => {
    expect(takeApart(Float64Array.of(1, 2, 2, 1))).toBe(false);
  });
});
