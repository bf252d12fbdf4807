import type { ProgramSolver, WholeProgram } from '../../src/cut-plan/polish.ts';
import { loadSolver } from '../kit/solver.ts';

const MOST_SECONDS = 1.2;

/** A solver that may be given other seconds than the usual few. */
export type TimedSolver = (
  program: WholeProgram,
  mostNodes: number,
  mostSeconds?: number,
) => ReturnType<ProgramSolver>;

/** The solver of the planner. The clock is only a guard. What it answers is checked by the planner. */
export async function loadProgramSolver(): Promise<TimedSolver> {
  const solve = await loadSolver();
  return (program, mostNodes, mostSeconds = MOST_SECONDS) => {
    const limits = { mip_max_nodes: mostNodes, time_limit: mostSeconds, mip_rel_gap: 0.0002 };
    const solved = solve(program, limits);
    // What the clock cut off depends on the machine: it is taken only where a person set a time.
    if (!solved || (solved.status === 'Time limit reached' && mostSeconds === MOST_SECONDS)) return null;
    return solved.values.some((value) => value !== 0) ? solved.values : null;
  };
}
