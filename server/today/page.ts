import type { Book } from '../database/book.ts';
import { dayOf } from '../kit/when.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page-frame.ts';
import { type Arriving, readArriving } from './arriving.ts';
import { type FirstStep, readFirstSteps } from './first-steps.ts';
import { type OpenGarments, readInHand } from './garments.ts';
import { type AtTheBench, readAtTheBench } from './in-the-pot.ts';
import { type DoneLately, readLately } from './lately.ts';

export interface TodayData {
  /** the day by the workroom's clock, e.g. "2026-11-25" */
  readonly day: string;
  /** the road from an empty book to strips cut, until it was walked once; then empty */
  readonly steps: readonly FirstStep[];
  readonly nothingYet: boolean;
  readonly garments: OpenGarments;
  readonly arriving: Arriving;
  readonly bench: AtTheBench;
  readonly lately: readonly DoneLately[];
}

/** What is short, due, arriving and in the pot, and what was done lately. */
export function todayPage(book: Book, asker: Asker): Page {
  const now = book.now();
  const today = dayOf(now);
  const steps = readFirstSteps(book);
  const data: TodayData = {
    day: today,
    steps: steps.at(-1)?.done ? [] : steps,
    nothingYet: steps.every(({ done }) => !done),
    garments: readInHand(book, asker, today),
    arriving: readArriving(book, asker, today),
    bench: readAtTheBench(book, asker, { now, today }),
    lately: readLately(book),
  };
  return { view: 'today/today', data, title: data.nothingYet ? 'Welcome' : 'Today', room: 'today' };
}
