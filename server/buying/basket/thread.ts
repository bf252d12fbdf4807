import { answerQuestions } from '../../thread.ts';
import { loadBasketSolver } from './solver.ts';

const solve = await loadBasketSolver();

/** What the thread is asked and answers. */
export type SolveBasket = typeof solve;

answerQuestions(solve);
