import type { PlanJob } from './job.ts';
import type { ProgramSolver } from './polish.ts';
import type { Effort } from './solve.ts';

const WORK_A_SECOND = 350_000_000;
const MANY_KINDS = 12;

/** A plan for the page that is being drawn: the hand rules, prices and a few fillings. */
export function firstEffort(): Effort {
  return {
    work: 12_000_000,
    choices: 3,
    rounds: 6,
    stageRounds: 2,
    restarts: 0,
    dives: 0,
    repairs: 0,
    regions: 0,
    nodes: 0,
    turns: 1,
    solver: null,
  };
}

/** What every plan gets. Larger jobs and those of many kinds get more, as each filling of them takes longer. */
export function usualEffort(job: PlanJob, solver: ProgramSolver | null): Effort {
  const strips = job.kinds.reduce((sum, { count }) => sum + count, 0);
  const pieces = job.pieces.reduce((sum, { count }) => sum + Math.min(count, 5), 0);
  const isLarge = strips > 400 || pieces > 30;
  const hasManyKinds = job.kinds.length > MANY_KINDS;
  return {
    work: WORK_A_SECOND * (isLarge ? 2 : 1) * (hasManyKinds ? 2 : 1),
    choices: 5,
    rounds: 40,
    stageRounds: 24,
    restarts: 6,
    dives: 3,
    repairs: 30,
    regions: 0,
    nodes: 60,
    turns: 1,
    solver,
  };
}

/**
 * So much work as about fills the seconds given. `timeGone` tells how much of them is gone, from 0 to 1, and ends the
 * search where the machine is slower.
 */
export function timedEffort(seconds: number, solver: ProgramSolver | null, timeGone: () => number): Effort {
  const work = WORK_A_SECOND * seconds;
  const repairs = Math.ceil(60 * seconds);
  const dives = Math.ceil(5 * seconds);
  return {
    work,
    choices: 5,
    rounds: 40,
    stageRounds: 24,
    restarts: 10,
    dives,
    repairs,
    regions: Math.ceil(10 * seconds),
    nodes: Math.ceil(100 * seconds),
    turns: 1 + Math.ceil(2 * seconds),
    solver,
    timeGone,
  };
}
