import fc from 'fast-check';
import { afterEach } from 'vitest';
import { forgetPlans } from '../server/cut-plans/answers.ts';
import { clearUp } from './after-each.ts';
import { startNames } from './server/names.ts';

// The files of one worker share their modules. These two remember; every file finds them as a new program has them.
forgetPlans();
startNames();
afterEach(clearUp);

// The same draws at every run: what fails then has been changed.
if (process.env.CLOTHROOM_DRAWS !== 'anew') fc.configureGlobal({ seed: 1 });
