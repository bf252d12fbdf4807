import { setTimeout } from 'node:timers/promises';
import { answerQuestions } from '../../server/process.ts';

let answered = 0;

/** Does what it is told, so that a test sees how a process that goes wrong is borne. */
answerQuestions(async (asked: string, tell: (part: string) => void) => {
  if (asked === 'hang') for (;;);
  if (asked === 'die') process.exit(3);
  if (asked === 'throw') throw new Error('not like this');
  if (asked === 'never') await new Promise(() => undefined);
  if (asked === 'grow') for (const held: string[][] = []; ; ) held.push(Array.from({ length: 1e5 }, String));
  if (asked === 'hold')
    for (const held: Buffer[] = []; ; await setTimeout(5)) held.push(Buffer.alloc(8 * 1024 * 1024, 1));
  if (asked === 'parts') for (const part of ['one', 'two']) tell(part);
  answered += 1;
  return `${asked} ${answered}`;
});
