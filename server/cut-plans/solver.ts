import loader from 'highs';
import type { ProgramSolver, WholeProgram } from '../../src/cut-plan/polish.ts';

// The package's types are written for require, which finds the loader one name deeper than import does.
const loadSolver = loader as unknown as typeof loader.default;
const MOST_SECONDS = 1.2;

/** A solver that may be given other seconds than the usual few. */
export type TimedSolver = (
  program: WholeProgram,
  mostNodes: number,
  mostSeconds?: number,
) => ReturnType<ProgramSolver>;

/**
 * The mixed-integer solver as a plain function. It blocks its thread, so it belongs into a worker. Limits are nodes,
 * which give the same answer each time; the clock is only a guard. What it answers is checked by the planner.
 */
export async function loadProgramSolver(): Promise<TimedSolver> {
  const solver = await loadSolver();
  return (program, mostNodes, mostSeconds = MOST_SECONDS) => {
    try {
      const { Columns, Status } = solver.solve(textOf(program), {
        output_flag: false,
        mip_max_nodes: mostNodes,
        time_limit: mostSeconds,
        mip_rel_gap: 0.0002,
      });
      if (Status === 'Infeasible' || Status === 'Unbounded') return null;
      // What the clock cut off depends on the machine: it is taken only where a person set a time.
      if (Status === 'Time limit reached' && mostSeconds === MOST_SECONDS) return null;
      const values = program.columns.map((_, i) => {
        const column = Columns[`x${i}`];
        return column && 'Primal' in column ? column.Primal : 0;
      });
      return values.every(Number.isFinite) && values.some((value) => value !== 0) ? values : null;
    } catch {
      // Whatever goes wrong inside the solver, the plan found without it stands.
      return null;
    }
  };
}

/** The program as text in the LP format, which the solver reads. Every whole column has finite bounds. */
export function textOf({ columns, rows }: WholeProgram): string {
  const terms = (list: readonly (readonly [number, number])[]) =>
    list
      .map(([column, amount]) => `${amount < 0 ? '-' : '+'} ${number(Math.abs(amount))} x${column}`)
      .join(' ');
  const lines = [
    'Minimize',
    ` cost: ${terms(columns.map(({ cost }, i) => [i, cost] as const))}`,
    'Subject To',
  ];
  rows.forEach((row, i) => {
    if (row.least !== undefined) lines.push(` l${i}: ${terms(row.terms)} >= ${number(row.least)}`);
    if (row.most !== undefined) lines.push(` m${i}: ${terms(row.terms)} <= ${number(row.most)}`);
  });
  lines.push('Bounds', ...columns.map(({ most }, i) => ` 0 <= x${i} <= ${number(most)}`));
  const whole = columns.flatMap((column, i) => (column.whole ? [`x${i}`] : []));
  if (whole.length > 0) lines.push('General', ` ${whole.join(' ')}`);
  return [...lines, 'End'].join('\n');
}

function number(value: number): string {
  return Number.isInteger(value) ? String(value) : value.toPrecision(15);
}
