import { parentPort } from 'node:worker_threads';
import { type Bolt, type Cure, curesOf } from '../../../src/cut-plan/cures.ts';
import { timedEffort, usualEffort } from '../../../src/cut-plan/effort.ts';
import type { PlanJob } from '../../../src/cut-plan/job.ts';
import { type Otherwise, planOtherwise, type Wish } from '../../../src/cut-plan/otherwise.ts';
import type { Cutting } from '../../../src/cut-plan/plan.ts';
import { type CutPlan, planCuts } from '../../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../../src/cut-plan/polish.ts';
import type { Effort } from '../../../src/cut-plan/solve.ts';
import { loadProgramSolver } from './solver.ts';

/** A plan, or what else may be wanted of a job whose plan is known. */
export type Task =
  | { readonly kind: 'plan' }
  | {
      readonly kind: 'otherwise';
      readonly wish: Wish;
      readonly least: CutPlan;
      readonly mostMoreBp: number;
    }
  | { readonly kind: 'cures'; readonly short: CutPlan; readonly bolt: Bolt | null };

/** What the thread is asked: a job, what of it, and the seconds where a person set them. */
export interface Asked {
  readonly id: number;
  readonly job: PlanJob;
  readonly seconds: number | null;
  readonly task: Task;
}

/** What it tells: every better plan on the way, then what was asked for, or why there is none. */
export type Told =
  | { readonly id: number; readonly kind: 'better'; readonly plan: Cutting }
  | { readonly id: number; readonly kind: 'done'; readonly plan: CutPlan }
  | { readonly id: number; readonly kind: 'otherwise'; readonly otherwise: Otherwise }
  | { readonly id: number; readonly kind: 'cures'; readonly cures: readonly Cure[] }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string };

const solver = await loadProgramSolver();

parentPort?.on('message', ({ id, job, seconds, task }: Asked) => {
  const tell = (told: Told) => parentPort?.postMessage(told);
  try {
    const endMs = performance.now() + (seconds ?? 0) * 1000;
    const leftMs = () => endMs - performance.now();
    const timed: ProgramSolver = (program, nodes) => solver(program, nodes, Math.max(0.2, leftMs() / 1000));
    const effort =
      seconds === null
        ? usualEffort(job, solver)
        : timedEffort(seconds, timed, () => 1 - leftMs() / (seconds * 1000));
    if (task.kind === 'otherwise') {
      const otherwise = planOtherwise(job, task.least, task.wish, task.mostMoreBp, quickEffort(effort));
      return tell({ id, kind: 'otherwise', otherwise });
    }
    if (task.kind === 'cures') {
      return tell({ id, kind: 'cures', cures: curesOf(job, task.short, task.bolt, quickEffort(effort)) });
    }
    const plan = planCuts(job, {
      ...effort,
      onBetter: (better) => tell({ id, kind: 'better', plan: better }),
    });
    tell({ id, kind: 'done', plan });
  } catch (error) {
    tell({ id, kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
});

/** Cures and other wishes plan a job many times over, so that each of these plans gets a part of the effort. */
function quickEffort(effort: Effort): Effort {
  return { ...effort, work: Math.ceil(effort.work / 12), restarts: 1, dives: 1, repairs: 4, solver: null };
}
