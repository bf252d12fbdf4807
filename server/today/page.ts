import { readWorkroomPlan } from '../by-when/plan.ts';
import { sayWrongCopies } from '../copies/words.ts';
import type { Book } from '../database/book.ts';
import type { Typed } from '../kit/typed.ts';
import { dayOf } from '../kit/when.ts';
import { readKeptForUs } from '../orders/asked/reservation.ts';
import { readCreditsOff } from '../orders/returned/store.ts';
import { drawFirstForm } from '../setup/workroom-form.ts';
import { readDuePleatings } from '../shelf/pleating/store.ts';
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

/** The steps that say who works here and whom from, before there is any cloth. */
const BEFORE_CLOTH = ['/setup', '/orders/suppliers'];

/** What is short, due, arriving and in the pot, and what was done lately. */
export function todayPage(book: Book, asker: Asker, typed: Typed = {}) {
  const now = book.now();
  const today = dayOf(now);
  const steps = readFirstSteps(book);
  // Only the name of the workroom and suppliers were given: there is nothing to tell of yet.
  const kept = readKeptForUs(book, asker, today);
  const nothingYet =
    kept.length === 0 && !steps.some(({ done, href }) => done && !BEFORE_CLOTH.includes(href));
  const needs = readNeeds(book);
  const garments = readInHand(book, asker, today, needs);
  const data = {
    day: today,
    wrongCopies: sayWrongCopies(book),
    waiting: garments.waiting,
    /** the road from an empty book to strips cut, until it was walked once; then empty */
    steps: steps.at(-1)?.done ? [] : steps,
    nothingYet,
    /** what a new book is asked first; null once that was said */
    first: nothingYet ? drawFirstForm(book, asker, typed) : null,
    /** what is late or at risk; null where no garment has a due day */
    days: shapeByWhen(readWorkroomPlan(book, today, needs), today),
    garments,
    /** supplies that batches and garments are short of, and how many of them are to get */
    supplies: shapeSupplies(book),
    /** credits that came and are not what was expected; none to whom prices are not for */
    credits: asker.seesPrices ? readCreditsOff(book, asker) : [],
    /** what should be back from a pleater, or soon is */
    pleating: readDuePleatings(book, asker.units, today),
    arriving: readArriving(book, asker, today),
    /** what suppliers keep for the workroom, the first to run out first */
    kept,
    bench: readAtTheBench(book, asker, { now, today }),
    lately: readLately(book, asker),
  };
  const title = nothingYet ? 'Welcome' : 'Today';
  return { view: 'today/today', data, title, room: 'today' } satisfies Page;
}

function shapeSupplies(book: Book) {
  const short = readShortSupplies(book);
  return {
    short: short.map(({ supply: { name } }) => name),
    toGet: short.filter(({ toGet }) => toGet > 0).length,
  };
}
