import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { SEWING_JOBS, type SewingJob } from '../../src/garment/sewing.ts';
import { ownPath } from '../kit/address.ts';
import { idField, textField, tickField } from '../kit/fields.ts';
import { conflict, invalid, unknown } from '../refusal.ts';
import { answering } from '../web/answering.ts';
import { type House, readPeople, rememberWho } from '../web/house.ts';
import { readForm } from '../web/post.ts';
import { addPerson, changePerson, markLeft, PERSON_FORM, peoplePage } from './people.ts';
import { changeTableRates, TABLE_RATES_PATH, tableForm, tableRatesPage } from './rates/at-table.ts';
import { changeJob, changeSewing, jobForm, sewingForm } from './rates/form.ts';
import { jobRatesPage, ratesPage } from './rates/page.ts';
import { secretRoutes } from './secret-routes.ts';
import { addWaterTest, WATER } from './water/form.ts';
import { waterPage } from './water/page.ts';
import { changeWorkroom, setupPage, workroomForm } from './workroom-form.ts';

const WORKING_AS = z.object({ person_id: idField('who works here'), back: textField({ max: 500 }) });
const LEAVING = z.strictObject({ back: tickField() });

/** The workroom, its people, and how it sews. */
export function setupRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  // Keeps a choice on this device and writes nothing in the book, so it needs no request key.
  takeForm('/setup/working-as', ({ body, reply }) => {
    const form = readForm(WORKING_AS, body);
    if (house.door.served)
      throw conflict('While the network is on, people sign in: choose who works here at the top.');
    if (!readPeople(house).some(({ id }) => id === form.person_id)) {
      throw invalid('person_id', 'Choose one of the people of the workroom.');
    }
    rememberWho(house, reply, form.person_id);
    return reply.redirect(ownPath(form.back), 303);
  });

  showPage('/setup', ({ asker }) => setupPage(book, asker));
  takeForm('/setup', ({ asker, save }) =>
    save({
      schema: workroomForm(asker),
      write: changeWorkroom,
      redraw: (typed) => setupPage(book, asker, typed),
    }),
  );

  showPage('/setup/people', () => peoplePage(book));
  takeForm('/setup/people', ({ save }) =>
    save({
      schema: PERSON_FORM,
      write: addPerson,
      redraw: (typed) => peoplePage(book, { personId: null, typed }),
    }),
  );
  takeForm('/setup/people/:id', ({ id, save }) =>
    save({
      schema: PERSON_FORM,
      write: (tx, form) => changePerson(tx, id, form),
      redraw: (typed) => peoplePage(book, { personId: id, typed }),
    }),
  );
  takeForm('/setup/people/:id/leavings', ({ id, save }) =>
    save({
      schema: LEAVING,
      write: (tx, form) => markLeft(tx, id, !form.back),
      redraw: () => peoplePage(book),
    }),
  );

  showPage('/setup/water', () => waterPage(book));
  takeForm('/setup/water', ({ typed, save }) =>
    save({
      schema: WATER,
      write: (tx, form) => addWaterTest(tx, form, typed),
      redraw: (again) => waterPage(book, again),
    }),
  );
  secretRoutes(app, house);

  showPage('/setup/rates', ({ asker }) => ratesPage(book, asker.units));
  takeForm('/setup/rates', ({ asker, typed, save }) =>
    save({
      schema: sewingForm(asker),
      write: (tx, form) => changeSewing(tx, form, asker.units, typed),
      redraw: (again) => ratesPage(book, asker.units, again),
    }),
  );
  showPage(TABLE_RATES_PATH, ({ asker }) => tableRatesPage(book, asker.units));
  takeForm(TABLE_RATES_PATH, ({ asker, typed, save }) =>
    save({
      schema: tableForm(asker),
      write: (tx, form) => changeTableRates(tx, form, asker.units, typed),
      redraw: (again) => tableRatesPage(book, asker.units, again),
    }),
  );
  showPage('/setup/rates/:job', ({ asker, params }) => jobRatesPage(book, asker.units, jobOf(params.job)));
  takeForm('/setup/rates/:job', ({ asker, params, typed, save }) => {
    const job = jobOf(params.job);
    return save({
      schema: jobForm(asker),
      write: (tx, form) => changeJob(tx, job, form, asker.units, typed),
      redraw: (again) => jobRatesPage(book, asker.units, job, again),
    });
  });
}

function jobOf(name: string): SewingJob {
  const job = SEWING_JOBS.find((one) => one === name);
  if (!job) throw unknown('such work of sewing');
  return job;
}
