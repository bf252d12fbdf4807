import type { FastifyInstance } from 'fastify';
import { readBody, withoutKey } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { sendWorkedOut } from '../work-out.ts';
import { newGarmentSchema } from './fields.ts';
import { createGarment } from './garment.ts';
import { newGarmentPage, readNewChoices, workOutNew } from './page.ts';

const MORE = ['more-girths', 'more-tiers'];

/** A garment from empty in one form: worked out as often as wanted, then saved. */
export function newGarmentRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get('/garments/new', (request, reply) =>
    sendPage(house, request, reply, newGarmentPage(book, whoAsks(house, request).units, null)),
  );
  app.post('/garments/new', (request, reply) => {
    const { units } = whoAsks(house, request);
    const { body, typed } = readBody(request.body);
    if (MORE.includes(typed.act ?? '')) {
      return sendPage(house, request, reply, newGarmentPage(book, units, typed));
    }
    if (typed.act === 'work-out') {
      const outcome = workOutNew(book, withoutKey(body), units);
      const page = newGarmentPage(book, units, typed, outcome);
      return sendWorkedOut(house, request, reply, page, outcome.problems);
    }
    return handlePost(house, request, reply, {
      schema: newGarmentSchema(units, readNewChoices(book)),
      write: createGarment,
      redraw: (again) => newGarmentPage(book, units, again),
    });
  });
}
