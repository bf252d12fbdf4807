import type { Book } from '../../database/book.ts';
import type { answering } from '../../web/answering.ts';
import { MAKER_LABEL } from './form.ts';
import { dyeLabelPage, keepDyeLabel, keepRecipeLabel, recipeLabelPage } from './page.ts';

/** The maker's label of a dye of the list and of a recipe. */
export function makerLabelRoutes(book: Book, { showPage, takeForm }: ReturnType<typeof answering>): void {
  showPage('/dye-bench/dyes/:id/label', ({ id }) => dyeLabelPage(book, id));
  takeForm('/dye-bench/dyes/:id/label', ({ id, typed, save }) =>
    save({
      schema: MAKER_LABEL,
      write: (tx, form) => keepDyeLabel(tx, id, form, typed),
      redraw: (again) => dyeLabelPage(book, id, again),
    }),
  );
  showPage('/dye-bench/recipes/:id/label', ({ id }) => recipeLabelPage(book, id));
  takeForm('/dye-bench/recipes/:id/label', ({ id, typed, save }) =>
    save({
      schema: MAKER_LABEL,
      write: (tx, form) => keepRecipeLabel(tx, id, form, typed),
      redraw: (again) => recipeLabelPage(book, id, again),
    }),
  );
}
