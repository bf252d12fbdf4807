import loader from 'highs';
import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { textOf } from '../../cut-plans/solver.ts';

// The package's types are written for require, which finds the loader one name deeper than import does.
const loadSolver = loader as unknown as typeof loader.default;
const MOST_SECONDS = 8;

/**
 * The mixed-integer solver for baskets as a plain function, which blocks its thread. It goes on until nothing is
 * cheaper, since a basket is money; the clock is only a guard, and an answer that it cut off is not called proved.
 */
export async function loadBasketSolver(): Promise<(program: WholeProgram) => SolvedProgram | null> {
  const solver = await loadSolver();
  return (program) => {
    try {
      const { Columns, Status } = solver.solve(textOf(program), {
        output_flag: false,
        time_limit: MOST_SECONDS,
        mip_rel_gap: 0,
        mip_abs_gap: 0.25,
      });
      if (Status !== 'Optimal' && Status !== 'Time limit reached') return null;
      const values = program.columns.map((_, i) => {
        const column = Columns[`x${i}`];
        return column && 'Primal' in column ? column.Primal : 0;
      });
      return values.every(Number.isFinite) ? { values, proved: Status === 'Optimal' } : null;
    } catch {
      // Whatever goes wrong inside the solver, the basket found without it stands.
      return null;
    }
  };
}
