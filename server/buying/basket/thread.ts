import { parentPort } from 'node:worker_threads';
import type { Solved } from '../../../src/buying/basket/plan.ts';
import type { WholeProgram } from '../../../src/cut-plan/polish.ts';
import { loadBasketSolver } from './solver.ts';

export interface Asked {
  readonly id: number;
  readonly program: WholeProgram;
}

export interface Told {
  readonly id: number;
  readonly solved: Solved | null;
}

const solve = await loadBasketSolver();

parentPort?.on('message', ({ id, program }: Asked) => {
  parentPort?.postMessage({ id, solved: solve(program) } satisfies Told);
});
