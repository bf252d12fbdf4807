import { answerQuestions } from '../../thread.ts';
import { loadBasketSolver } from './solver.ts';

answerQuestions(await loadBasketSolver());
