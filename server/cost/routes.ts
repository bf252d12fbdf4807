import type { FastifyInstance } from 'fastify';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { fuelForm, fuelPage, setFuelPrices } from './fuel-page.ts';
import { budgetForm, garmentCostPage, setBudget } from './garment-page.ts';
import { spendPage } from './spend-page.ts';
import { valuePage } from './value-page.ts';

interface OneGarment {
  Params: { code: string };
}

/** What things cost: a garment, the shelf, the months. */
export function costRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get<OneGarment>('/garments/:code/cost', (request, reply) =>
    sendPage(house, request, reply, garmentCostPage(book, request.params.code, whoAsks(house, request))),
  );
  app.post<OneGarment>('/garments/:code/budgets', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: budgetForm(asker),
      write: (tx, form) => setBudget(tx, code, form, asker),
      redraw: (typed) => garmentCostPage(book, code, asker, typed),
    });
  });
  app.get('/setup/fuel', (request, reply) =>
    sendPage(house, request, reply, fuelPage(book, whoAsks(house, request))),
  );
  app.post('/setup/fuel', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: fuelForm(asker),
      write: (tx, form) => setFuelPrices(tx, form, asker),
      redraw: (typed) => fuelPage(book, asker, typed),
    });
  });
  app.get('/shelf/value', (request, reply) =>
    sendPage(house, request, reply, valuePage(book, whoAsks(house, request))),
  );
  app.get('/orders/spend', (request, reply) =>
    sendPage(house, request, reply, spendPage(book, book.now(), whoAsks(house, request))),
  );
}
