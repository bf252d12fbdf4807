import type { Book } from '../../database/book.ts';
import type { Typed } from '../../kit/typed.ts';
import { dayOf } from '../../kit/when.ts';
import type { answering } from '../../web/answering.ts';
import type { Asker } from '../../web/house.ts';
import { dayForm } from './form.ts';
import { dayPage } from './page.ts';
import { planDay } from './verbs.ts';

/** Anybody looks at the pots; a keeper says when baths begin. */
export function dayRoutes(book: Book, { showPage, takeForm }: ReturnType<typeof answering>): void {
  const draw = (asker: Asker, typed: Typed) => dayPage(book, asker, book.now(), typed);
  showPage('/dye-bench/day', ({ asker, typedInAddress }) => draw(asker, typedInAddress));
  takeForm('/dye-bench/day', ({ asker, save }) =>
    save({
      schema: dayForm(book),
      write: (tx, form) => planDay(tx, form.on ?? dayOf(tx.at), form, asker.units),
      redraw: (typed) => draw(asker, typed),
    }),
  );
}
