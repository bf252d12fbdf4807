import type { WholeProgram } from '../../cut-plan/polish.ts';
import { byHand } from './by-hand.ts';
import { type Basket, type BasketJob, priceBasket } from './job.ts';
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
  const first = basketProgram(job);
  const answer = await solve(first.program);
  const mixes = answer && first.read(answer.values);
  if (mixes) found.push(priceBasket(job, mixes));
  const best = twoBest(job, () => found)?.best ?? hand.best;
  const other = basketProgram(job, best.mixes);
  const next = await solve(other.program);
  const otherMixes = next && other.read(next.values);
  if (otherMixes) found.push(priceBasket(job, otherMixes));
  const two = twoBest(job, () => found) ?? hand;
  return { ...two, proved: mixes !== null && (answer?.proved ?? false) };
}
