import { answerQuestions } from '../../process.ts';
import { loadBasketSolver } from './solver.ts';

const solve = await loadBasketSolver();

/** What the process is asked and answers. */
export type SolveBasket = typeof solve;

answerQuestions(solve);
