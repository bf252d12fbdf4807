import { readWorkroomPlan } from '../by-when/plan.ts';
import { sayWrongCopies } from '../copies/words.ts';
import type { Book } from '../database/book.ts';
import { dayOf } from '../kit/when.ts';
import { readNeeds } from '../short/queries.ts';
import { readShortSupplies } from '../short/supplies.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { readArriving } from './arriving.ts';
import { shapeByWhen } from './by-when.ts';
import { readFirstSteps } from './first-steps.ts';
import { readInHand } from './garments.ts';
import { readAtTheBench } from './in-the-pot.ts';
import { readLately } from './lately.ts';

/** What is short, due, arriving and in the pot, and what was done lately. */
export function todayPage(book: Book, asker: Asker) {
  const now = book.now();
  const today = dayOf(now);
  const steps = readFirstSteps(book);
  const needs = readNeeds(book);
  const garments = readInHand(book, asker, today, needs);
  const data = {
    day: today,
    wrongCopies: sayWrongCopies(book),
    waiting: garments.waiting,
    /** the road from an empty book to strips cut, until it was walked once; then empty */
    steps: steps.at(-1)?.done ? [] : steps,
    nothingYet: steps.every(({ done }) => !done),
    /** what is late or will be; null where no garment has a due day */
    days: shapeByWhen(readWorkroomPlan(book, today, needs), today),
    garments,
    /** supplies that batches and garments are short of, and how many of them are to get */
    supplies: shapeSupplies(book),
    arriving: readArriving(book, asker, today),
    bench: readAtTheBench(book, asker, { now, today }),
    lately: readLately(book, asker),
  };
  const title = data.nothingYet ? 'Welcome' : 'Today';
  return { view: 'today/today', data, title, room: 'today' } satisfies Page;
}

function shapeSupplies(book: Book) {
  const short = readShortSupplies(book);
  return {
    short: short.map(({ supply: { name } }) => name),
    toGet: short.filter(({ toGet }) => toGet > 0).length,
  };
}
