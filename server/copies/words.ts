import type { Book } from '../database/book.ts';
import { showMoment } from '../kit/when.ts';
import { countOf } from '../kit/words.ts';
import { copierOf } from './copier.ts';

const DAY_MS = 86_400_000;
/** How long a copy or the second place may be missing before Today speaks of it. */
const LATE_DAYS = 3;

/** What is wrong with the copies of a book, a sentence each; nothing for a book of which none are made by themselves. */
export function sayWrongCopies(book: Book): string[] {
  const copier = copierOf(book);
  if (!copier.isBegun) return [];
  const { made, second, carried, carriedWellAt, drilled } = copier.record;
  const now = Date.parse(book.now());
  const days = (at: string) => Math.floor((now - Date.parse(at)) / DAY_MS);
  const said: string[] = [];
  if (made?.failure) said.push(`No copy was made on ${showMoment(made.at)}: ${made.failure}.`);
  if (copier.lastAt !== null && days(copier.lastAt) >= LATE_DAYS)
    said.push(`The last copy is ${countOf(days(copier.lastAt), 'day', 'days')} old.`);
  if (second !== null && carried?.failure && (carriedWellAt === null || days(carriedWellAt) >= LATE_DAYS)) {
    const since = carriedWellAt === null ? 'No copy' : `Since ${showMoment(carriedWellAt)} no copy`;
    said.push(`${since} came to the second place, ${second}: ${carried.failure}.`);
  }
  if (drilled?.failure)
    said.push(`The copy that was put back for a trial would not serve: ${drilled.failure}.`);
  return said;
}
