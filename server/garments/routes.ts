import type { FastifyInstance, FastifyRequest } from 'fastify';
import { readBody, withoutKey } from '../web/body.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { garmentFormPage } from './garment/form.ts';
import { garmentSchema } from './garment/form-fields.ts';
import { outcomeOf, workOutForm } from './garment/form-outcome.ts';
import { readGarment } from './garment/records.ts';
import { changeGarment } from './garment/verbs.ts';
import { newGarmentRoutes } from './new/routes.ts';
import { answerRoutes } from './sewing/answer-routes.ts';
import { tierRoutes } from './tier/routes.ts';
import { versionRoutes } from './versions/routes.ts';
import { sendWorkedOut } from './work-out.ts';

type Coded = { Params: { code: string } };

export function garmentRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get<Coded>('/garments/:code/edit', (request, reply) => {
    const garment = readGarment(book, request.params.code);
    const units = unitsOf(house, request);
    const outcome = outcomeOf(book, garment, garment, units);
    return sendPage(house, request, reply, garmentFormPage(book, garment, units, null, outcome));
  });
  app.post<Coded>('/garments/:code/edit', (request, reply) => {
    const garment = readGarment(book, request.params.code);
    const units = unitsOf(house, request);
    const { body, typed } = readBody(request.body);
    if (typed.act === 'more-girths') {
      return sendPage(house, request, reply, garmentFormPage(book, garment, units, typed));
    }
    if (typed.act === 'work-out') {
      const outcome = workOutForm(book, garment, withoutKey(body), units);
      const page = garmentFormPage(book, garment, units, typed, outcome);
      return sendWorkedOut(house, request, reply, page, outcome.problems);
    }
    return handlePost(house, request, reply, {
      schema: garmentSchema(units),
      write: (tx, form) => changeGarment(tx, garment.code, form),
      redraw: (again) => garmentFormPage(book, garment, units, again),
    });
  });

  newGarmentRoutes(app, house);
  tierRoutes(app, house);
  versionRoutes(app, house);
  answerRoutes(app, house);
}

function unitsOf(house: House, request: FastifyRequest) {
  return whoAsks(house, request).units;
}
