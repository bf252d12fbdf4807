import type { FastifyInstance } from 'fastify';
import { readBody } from '../web/body.ts';
import { type House, whoAsks } from '../web/house.ts';
import { isScripted, sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { newGarmentSchema } from './new-fields.ts';
import { createGarment } from './new-garment.ts';
import { newGarmentPage, readNewChoices, workOutNew } from './new-page.ts';

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
      const { request_key: _, ...asked } = body;
      const outcome = workOutNew(book, asked, units);
      const { problems } = outcome;
      reply.header('hx-push-url', 'false');
      const page = { ...newGarmentPage(book, units, typed, outcome), problems };
      // A script that follows what is typed expects unfinished forms: they are no failure to it.
      const unfinished = problems.length > 0 && !isScripted(request);
      return sendPage(house, request, reply, page, unfinished ? 422 : 200);
    }
    return handlePost(house, request, reply, {
      schema: newGarmentSchema(units, readNewChoices(book)),
      write: createGarment,
      redraw: (again) => newGarmentPage(book, units, again),
    });
  });
}
