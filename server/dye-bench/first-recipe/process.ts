import { workOutPrediction } from '../../../src/colour/prediction/basis.ts';
import { answerQuestions } from '../../process.ts';

/** What the process does with a question. */
export type Predicting = typeof workOutPrediction;

answerQuestions<Parameters<Predicting>[0], ReturnType<Predicting>>((task) => workOutPrediction(task));
