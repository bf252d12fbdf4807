import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { choiceField, idField, textField, tickField } from '../kit/fields.ts';
import { invalid } from '../refusal.ts';
import { readBody } from '../web/body.ts';
import { type House, readPeople, rememberWho, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost, readForm } from '../web/post.ts';
import { addPerson, changePerson, LENGTH_SYSTEMS, markLeft, peoplePage } from './people.ts';
import { rateRoutes } from './rates/routes.ts';
import { changeWorkroom, setupPage, workroomForm } from './workroom-form.ts';

const WORKING_AS = z.object({ person_id: idField('who works here'), back: textField({ max: 500 }) });
const PERSON = z.strictObject({
  name: textField({ max: 60, label: 'The name' }),
  length_system: choiceField(LENGTH_SYSTEMS, 'the units'),
});
const LEAVING = z.strictObject({ back: tickField() });

interface OnePerson {
  Params: { id: string };
}

export function setupRoutes(app: FastifyInstance, house: House): void {
  // Keeps a choice on this device and writes nothing in the book, so it needs no request key.
  app.post('/setup/working-as', (request, reply) => {
    const form = readForm(WORKING_AS, readBody(request.body).body);
    if (!readPeople(house).some(({ id }) => id === form.person_id)) {
      throw invalid('person_id', 'Choose one of the people of the workroom.');
    }
    rememberWho(house, reply, form.person_id);
    // A path of our own only: what begins with two slashes names another host.
    return reply.redirect(/^\/(?!\/|\\)/.test(form.back) ? form.back : '/', 303);
  });

  app.get('/setup', (request, reply) =>
    sendPage(house, request, reply, setupPage(house.book, whoAsks(house, request))),
  );
  app.post('/setup', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: workroomForm(asker),
      write: changeWorkroom,
      redraw: (typed) => setupPage(house.book, asker, typed),
    });
  });

  app.get('/setup/people', (request, reply) => sendPage(house, request, reply, peoplePage(house.book)));
  app.post('/setup/people', (request, reply) =>
    handlePost(house, request, reply, {
      schema: PERSON,
      write: addPerson,
      redraw: (typed) => peoplePage(house.book, typed),
    }),
  );
  app.post<OnePerson>('/setup/people/:id', (request, reply) =>
    handlePost(house, request, reply, {
      schema: PERSON,
      write: (tx, form) => changePerson(tx, Number(request.params.id), form),
      redraw: () => peoplePage(house.book),
    }),
  );
  app.post<OnePerson>('/setup/people/:id/leavings', (request, reply) =>
    handlePost(house, request, reply, {
      schema: LEAVING,
      write: (tx, form) => markLeft(tx, Number(request.params.id), !form.back),
      redraw: () => peoplePage(house.book),
    }),
  );

  rateRoutes(app, house);
}
