import type { FastifyInstance } from 'fastify';
import { FIRST_FORM, startWorkroom } from '../setup/workroom-form.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { todayPage } from './page.ts';

export function todayRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house, { POST: 'keeper' });
  showPage('/', ({ asker }) => todayPage(book, asker));
  takeForm('/', ({ asker, save }) =>
    save({
      schema: FIRST_FORM,
      write: (tx, form) => startWorkroom(tx, asker, form),
      redraw: (typed) => todayPage(book, asker, typed),
    }),
  );
}
