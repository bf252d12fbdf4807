import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { loadSolver } from '../../kit/solver.ts';

const MOST_SECONDS = 8;

/**
 * The solver of baskets. It goes on until nothing is cheaper, since a basket is money; the clock is only a guard, and an
 * answer that it cut off is not called proved.
 */
export async function loadBasketSolver(): Promise<(program: WholeProgram) => SolvedProgram | null> {
  const solve = await loadSolver();
  return (program) => {
    const solved = solve(program, { time_limit: MOST_SECONDS, mip_rel_gap: 0, mip_abs_gap: 0.25 });
    if (!solved || (solved.status !== 'Optimal' && solved.status !== 'Time limit reached')) return null;
    return { values: solved.values, proved: solved.status === 'Optimal' };
  };
}
