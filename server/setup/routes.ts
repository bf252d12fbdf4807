import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { invalid } from '../refusal.ts';
import { readBody } from '../web/body.ts';
import { idField, textField } from '../web/fields.ts';
import { type House, readPeople, rememberWho } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost, readForm } from '../web/post.ts';
import { addPerson, peoplePage } from './people.ts';

const WORKING_AS = z.strictObject({ person_id: idField('who works here'), back: textField({ max: 500 }) });
const PERSON = z.strictObject({ name: textField({ max: 60, label: 'The name' }) });

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

  app.get('/setup/people', (request, reply) => sendPage(house, request, reply, peoplePage(house.book)));
  app.post('/setup/people', (request, reply) =>
    handlePost(house, request, reply, {
      schema: PERSON,
      write: (tx, form) => addPerson(tx, form),
      redraw: (typed) => peoplePage(house.book, typed),
    }),
  );
}
