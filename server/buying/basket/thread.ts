import { parentPort } from 'node:worker_threads';
import type { SolvedProgram } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { loadBasketSolver } from './solver.ts';

export interface BasketQuestion {
  readonly id: number;
  readonly program: WholeProgram;
}

export interface BasketAnswer {
  readonly id: number;
  readonly solved: SolvedProgram | null;
}

const solve = await loadBasketSolver();

parentPort?.on('message', ({ id, program }: BasketQuestion) => {
  parentPort?.postMessage({ id, solved: solve(program) } satisfies BasketAnswer);
});
