import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { copierOf } from './copier.ts';
import { askForCopy, COPIES_PATH, COPY_RULES, changeCopyRules } from './form.ts';
import { copiesPage } from './page.ts';

const NOTHING = z.strictObject({});

export function copyRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  // A folder is named on the machine that has it.
  const { showPage, takeForm } = answering(app, house, { POST: 'machine' });
  app.addHook('onClose', () => copierOf(book).close());
  showPage(COPIES_PATH, () => copiesPage(book));
  takeForm(COPIES_PATH, ({ save }) =>
    save({
      schema: COPY_RULES,
      write: (_tx, form) => changeCopyRules(copierOf(book), book.file, form),
      redraw: (typed) => copiesPage(book, typed),
    }),
  );
  takeForm(`${COPIES_PATH}/made`, ({ save }) =>
    save({
      schema: NOTHING,
      write: () => askForCopy(copierOf(book)),
      redraw: () => copiesPage(book),
    }),
  );
}
