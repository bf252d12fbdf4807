import type { Book } from '../../database/book.ts';
import { NOTHING_TYPED } from '../../kit/fields.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { answering } from '../../web/answering.ts';
import { dyeForm } from './form.ts';
import { dyePage, dyesPage } from './page.ts';
import { addDye, changeDye, putDyeAway, takeDyeBack } from './verbs.ts';

/** The workroom's own dyes. */
export function dyeRoutes(book: Book, { showPage, takeForm }: ReturnType<typeof answering>): void {
  const schema = () => dyeForm(readWorkroom(book).currency);
  showPage('/dye-bench/dyes', () => dyesPage(book));
  takeForm('/dye-bench/dyes', ({ save }) =>
    save({ schema: schema(), write: addDye, redraw: (typed) => dyesPage(book, typed) }),
  );
  showPage('/dye-bench/dyes/:id', ({ id }) => dyePage(book, id));
  takeForm('/dye-bench/dyes/:id', ({ id, save }) =>
    save({
      schema: schema(),
      write: (tx, form) => changeDye(tx, id, form),
      redraw: (typed) => dyePage(book, id, typed),
    }),
  );
  for (const [name, change] of Object.entries({ 'put-aways': putDyeAway, 'take-backs': takeDyeBack })) {
    takeForm(`/dye-bench/dyes/:id/${name}`, ({ id, save }) =>
      save({ schema: NOTHING_TYPED, write: (tx) => change(tx, id), redraw: () => dyesPage(book) }),
    );
  }
}
