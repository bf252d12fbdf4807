import type { FastifyInstance } from 'fastify';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { askedPage } from './page.ts';
import { ASKED_PATH, RESERVATION_STEP, reservationForm, reserve, stepReservation } from './reservation.ts';
import { answerForm, answerSample, askForSample, sampleForm } from './sample.ts';

/** Reservations and samples: what is asked of suppliers besides cloth. */
export function askedRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage(ASKED_PATH, ({ asker, today }) => askedPage(book, asker, today));
  takeForm('/orders/reservations', ({ asker, today, save }) =>
    save({
      schema: reservationForm(book, asker),
      write: reserve,
      redraw: (reservation) => askedPage(book, asker, today, { reservation }),
    }),
  );
  takeForm('/orders/reservations/:id/steps', ({ id, asker, today, save }) =>
    save({
      schema: RESERVATION_STEP,
      write: (tx, form) => stepReservation(tx, id, form),
      redraw: (typed) => askedPage(book, asker, today, { step: { id, typed } }),
    }),
  );
  takeForm('/orders/samples', ({ asker, today, save }) =>
    save({
      schema: sampleForm(book),
      write: askForSample,
      redraw: (sample) => askedPage(book, asker, today, { sample }),
    }),
  );
  takeForm('/orders/samples/:id/answers', ({ id, asker, today, save }) =>
    save({
      schema: answerForm(book),
      write: (tx, form) => answerSample(tx, id, form),
      redraw: (typed) => askedPage(book, asker, today, { answer: { id, typed } }),
    }),
  );
}
