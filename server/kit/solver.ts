import loader from 'highs';
import type { WholeProgram } from '../../src/cut-plan/polish.ts';

// The package's types are written for require, which finds the loader one name deeper than import does.
const loadHighs = loader as unknown as typeof loader.default;

/** How long a solver goes on, and how near to the best it must come. Only nodes give the same answer each time. */
export interface SolverLimits {
  readonly mip_max_nodes?: number;
  /** in seconds */
  readonly time_limit: number;
  /** how far from the best the answer may be, as a share of it and as it is */
  readonly mip_rel_gap: number;
  readonly mip_abs_gap?: number;
}

/** A value for each column, and how the solver ended: 'Optimal' and 'Time limit reached' are two ways. */
export interface SolverAnswer {
  readonly values: readonly number[];
  readonly status: string;
}

/** Null where there is no answer, or anything goes wrong inside the solver. */
export type Solver = (program: WholeProgram, limits: SolverLimits) => SolverAnswer | null;

/** The mixed-integer solver as a plain function. It blocks its thread, so it belongs into a process of its own. */
export async function loadSolver(): Promise<Solver> {
  const solver = await loadHighs();
  return (program, limits) => {
    try {
      const { Columns, Status } = solver.solve(programText(program), { output_flag: false, ...limits });
      if (Status === 'Infeasible' || Status === 'Unbounded') return null;
      const values = program.columns.map((_, i) => {
        const column = Columns[`x${i}`];
        return column && 'Primal' in column ? column.Primal : 0;
      });
      return values.every(Number.isFinite) ? { values, status: Status } : null;
    } catch {
      // Whatever was found without the solver stands.
      return null;
    }
  };
}

/** The program as text in the LP format, which the solver reads. Every whole column has finite bounds. */
function programText({ columns, rows }: WholeProgram): string {
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
