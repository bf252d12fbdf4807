import { forgetPlans } from '../server/cut-plans/answers.ts';
import { startNames } from './server/names.ts';

// The files of one worker share their modules. These two remember; every file finds them as a new program has them.
forgetPlans();
startNames();
