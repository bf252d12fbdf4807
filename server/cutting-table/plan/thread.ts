import { parentPort } from 'node:worker_threads';
import { timedEffort, usualEffort } from '../../../src/cut-plan/effort.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import type { Cutting } from '../../../src/cut-plan/plan.ts';
import { type CutPlan, planCuts } from '../../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../../src/cut-plan/polish.ts';
import { loadProgramSolver } from './solver.ts';

/** What the thread is asked: a job, and the seconds where a person set them. */
export interface Asked {
  readonly id: number;
  readonly job: PlanJob;
  readonly seconds: number | null;
}

/** What it tells: every better plan on the way, then the plan with its proof, or why there is none. */
export type Told =
  | { readonly id: number; readonly kind: 'better'; readonly plan: Cutting }
  | { readonly id: number; readonly kind: 'done'; readonly plan: CutPlan }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };

const solver = await loadProgramSolver();

parentPort?.on('message', ({ id, job, seconds }: Asked) => {
  const tell = (told: Told) => parentPort?.postMessage(told);
  try {
    const endMs = performance.now() + (seconds ?? 0) * 1000;
    const leftMs = () => endMs - performance.now();
    const timed: ProgramSolver = (program, nodes) => solver(program, nodes, Math.max(0.2, leftMs() / 1000));
    const effort =
      seconds === null ? usualEffort(job, solver) : timedEffort(seconds, timed, () => leftMs() <= 0);
    const plan = planCuts(job, {
      ...effort,
      onBetter: (better) => tell({ id, kind: 'better', plan: better }),
    });
    tell({ id, kind: 'done', plan });
  } catch (error) {
    tell({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});
