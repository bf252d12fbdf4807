import type { WholeProgram } from '../../cut-plan/polish.ts';
import { hasMinimum } from '../minimum.ts';
import { byHand } from './by-hand.ts';
import { type Basket, type BasketJob, type Mix, priceBasket } from './job.ts';
import { bestOfAll, type TwoBest, twoBest } from './mixes.ts';
import { basketProgram } from './program.ts';

/** Combinations that are tried one by one; more go to the solver. */
const MOST_TRIED = 4000;

/** An answer of a solver by column, and whether it proved that none is better. */
export interface SolvedProgram {
  readonly values: readonly number[];
  readonly proved: boolean;
}

/** Solves a program for the least cost; null where it finds nothing or fails. */
export type BasketSolver = (program: WholeProgram) => Promise<SolvedProgram | null>;

export interface BasketPlan extends TwoBest {
  /** true where no basket within the bounds of `boundsOf` is cheaper, but for the rounding of its lines */
  readonly proved: boolean;
}

/**
 * The cheapest basket and the cheapest of another kind. Small jobs are tried in full; for others a solver is asked,
 * whose answer is priced anew in whole minor units and kept only where it beats what a pencil finds. Throws
 * RangeError where a need has no offer.
 */
export async function planBasket(job: BasketJob, solve: BasketSolver): Promise<BasketPlan> {
  const all = bestOfAll(job, MOST_TRIED);
  if (all) return { ...all, proved: true };
  return solvedBasket(job, solve);
}

/** The same by the solver alone, whatever the size. */
export async function solvedBasket(job: BasketJob, solve: BasketSolver): Promise<BasketPlan> {
  const hand = byHand(job);
  const found: Basket[] = hand.second ? [hand.best, hand.second] : [hand.best];
  const first = await solveBasket(job, solve, null);
  if (first) found.push(first.basket);
  const best = twoBest(job, () => found)?.best ?? hand.best;
  const other = await solveBasket(job, solve, best.mixes);
  if (other) found.push(other.basket);
  const two = twoBest(job, () => found) ?? hand;
  return { ...two, proved: first?.proved ?? false };
}

/** The cheapest that everybody sells; where nothing reaches the minimums, the cheapest that misses one. */
async function solveBasket(
  job: BasketJob,
  solve: BasketSolver,
  unlike: readonly Mix[] | null,
): Promise<{ readonly basket: Basket; readonly proved: boolean } | null> {
  for (const minimums of job.suppliers.some(hasMinimum) ? [true, false] : [false]) {
    const { program, read } = basketProgram(job, { unlike, minimums });
    const answer = await solve(program);
    const mixes = answer && read(answer.values);
    if (mixes) return { basket: priceBasket(job, mixes), proved: answer.proved };
  }
  return null;
}
