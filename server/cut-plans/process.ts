import { serialize } from 'node:v8';
import { type AlternativePlan, planAlternative, type Wish } from '../../src/cut-plan/alternative.ts';
import { type ClothToBuy, type Cure, curesOf } from '../../src/cut-plan/cures.ts';
import { firstEffort, timedEffort, usualEffort } from '../../src/cut-plan/effort.ts';
import type { PlanJob } from '../../src/cut-plan/job.ts';
import { type Cutting, comparePlans } from '../../src/cut-plan/plan.ts';
import type { Proved } from '../../src/cut-plan/plan-bound.ts';
import { type CutPlan, planCuts } from '../../src/cut-plan/planner.ts';
import type { ProgramSolver } from '../../src/cut-plan/polish.ts';
import { onShorterPieces } from '../../src/cut-plan/shorter-pieces.ts';
import type { Effort } from '../../src/cut-plan/solve.ts';
import { verifyPlan } from '../../src/cut-plan/verify.ts';
import { answerQuestions } from '../process.ts';
import { loadProgramSolver } from './solver.ts';

/** A plan, or what else may be wanted of a job whose plan is known. */
export type Task =
  /** in short: only the hand rules and what little makes a first plan; on shorter: pieces are finished before others are begun */
  | { readonly kind: 'plan'; readonly inShort?: boolean; readonly onShorter?: boolean }
  | {
      readonly kind: 'alternative';
      readonly wish: Wish;
      readonly least: CutPlan;
      readonly mostMoreBp: number;
    }
  | { readonly kind: 'cures'; readonly short: CutPlan; readonly bolt: ClothToBuy | null };

/** What the process is asked: a job, what of it, and the seconds where a person set them. */
export interface PlanQuestion {
  readonly job: PlanJob;
  readonly seconds: number | null;
  readonly task: Task;
}

/** What it answers, by the kind of task. */
export interface PlanAnswers {
  readonly plan: CutPlan;
  readonly alternative: AlternativePlan;
  readonly cures: readonly Cure[];
}

/**
 * What it tells on the way to a plan: every better one, and what is proved. Better plans are bytes, as that of the
 * pages reads only the last of them, and only where it must.
 */
export type PlanPart =
  | { readonly kind: 'better'; readonly bytes: Uint8Array }
  | { readonly kind: 'proved'; readonly proved: Proved };

const solver = await loadProgramSolver();

answerQuestions(
  ({ job, seconds, task }: PlanQuestion, tell: (part: PlanPart) => void): PlanAnswers[Task['kind']] => {
    const endMs = performance.now() + (seconds ?? 0) * 1000;
    const leftMs = () => endMs - performance.now();
    const timed: ProgramSolver = (program, nodes) => solver(program, nodes, Math.max(0.2, leftMs() / 1000));
    const usual = task.kind === 'plan' && task.inShort ? firstEffort() : usualEffort(job, solver);
    const effort =
      seconds === null ? usual : timedEffort(seconds, timed, () => 1 - leftMs() / (seconds * 1000));
    if (task.kind === 'alternative')
      return planAlternative(job, task.least, task.wish, task.mostMoreBp, quickEffort(effort));
    if (task.kind === 'cures') return curesOf(job, task.short, task.bolt, quickEffort(effort));
    const plan = planCuts(job, {
      ...effort,
      onBetter: betterTeller(job, (better) => tell({ kind: 'better', bytes: serialize(better) })),
      onProved: (proved) => tell({ kind: 'proved', proved }),
    });
    return task.onShorter ? onShorterPieces(job, plan) : plan;
  },
);

/** Passes on plans that are better than all before, and right. */
function betterTeller(job: PlanJob, pass: (plan: Cutting) => void): (plan: Cutting) => void {
  let best: Cutting | null = null;
  return (plan) => {
    if (best && comparePlans(plan, best) >= 0) return;
    if (verifyPlan(job, plan).length > 0) return;
    best = plan;
    pass(plan);
  };
}

/** Cures and other wishes plan a job many times over, so that each of these plans gets a part of the effort. */
function quickEffort(effort: Effort): Effort {
  return { ...effort, work: Math.ceil(effort.work / 12), restarts: 1, dives: 1, repairs: 4, solver: null };
}
