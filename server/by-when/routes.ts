import type { FastifyInstance } from 'fastify';
import { readGarment } from '../garments/garment/records.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { addTap, changeGarmentWork, GARMENT_WORK_FORM, TAP_FORM } from './garment-form.ts';
import { garmentDaysPage } from './garment-page.ts';
import {
  addClosedDays,
  CLOSED_PATH,
  changeSewers,
  changeWorkDay,
  closedForm,
  HOURS_PATH,
  removeClosedDays,
  SEWERS_PATH,
  sewersForm,
  WORK_DAY_FORM,
} from './hours-form.ts';
import { hoursPage } from './hours-page.ts';
import { weeksPage } from './weeks-page.ts';

/** What has to be done by when: the days of each garment, and what the workroom can do in a day. */
export function byWhenRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage('/by-when', ({ asker, today, typedInAddress }) => weeksPage(book, asker, today, typedInAddress));
  showPage(HOURS_PATH, ({ today }) => hoursPage(book, today));
  takeForm(HOURS_PATH, ({ today, save }) =>
    save({
      schema: WORK_DAY_FORM,
      write: changeWorkDay,
      redraw: (typed) => hoursPage(book, today, { path: HOURS_PATH, typed }),
    }),
  );
  takeForm(SEWERS_PATH, ({ today, save }) =>
    save({
      schema: sewersForm(book),
      write: changeSewers,
      redraw: (typed) => hoursPage(book, today, { path: SEWERS_PATH, typed }),
    }),
  );
  takeForm(CLOSED_PATH, ({ today, save }) =>
    save({
      schema: closedForm(book),
      write: addClosedDays,
      redraw: (typed) => hoursPage(book, today, { path: CLOSED_PATH, typed }),
    }),
  );
  takeForm('/by-when/closed-days/:id/removals', ({ id, today, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => removeClosedDays(tx, id),
      redraw: () => hoursPage(book, today),
    }),
  );

  showPage('/garments/:code/by-when', ({ params, today }) => garmentDaysPage(book, params.code, today));
  takeForm('/garments/:code/by-when', ({ params, today, save }) => {
    const garment = readGarment(book, params.code);
    return save({
      schema: GARMENT_WORK_FORM,
      write: (tx, form) => changeGarmentWork(tx, garment, form),
      redraw: (typed) => garmentDaysPage(book, garment.code, today, typed),
    });
  });
  const byHand = answering(app, house, { POST: 'hand' });
  byHand.takeForm('/garments/:code/by-when/taps', ({ params, today, save }) => {
    const garment = readGarment(book, params.code);
    return save({
      schema: TAP_FORM,
      write: (tx, form) => addTap(tx, garment, form),
      redraw: () => garmentDaysPage(book, garment.code, today),
    });
  });
}
