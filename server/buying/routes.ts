import type { FastifyInstance } from 'fastify';
import { dayOf } from '../kit/when.ts';
import { draftOrder, newOrderPage, orderForm } from '../orders/order/form.ts';
import { readBody } from '../web/body.ts';
import { type House, whoAsks } from '../web/house.ts';
import { goToKeyedAddress } from '../web/keyed-address.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { basketPlanner } from './basket/plan.ts';
import { basketRoutes, rulesRoutes } from './basket/routes.ts';
import { orderFromShort } from './order-from-short.ts';
import { shoppingRoutes } from './shopping/routes.ts';

/** Buying what is short: orders filled in, the basket, the shopping list, and the rules of buying. */
export function buyingRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const today = () => dayOf(book.now());
  app.get<{ Querystring: { from?: string } }>('/orders/new', (request, reply) => {
    if (goToKeyedAddress(request, reply)) return reply;
    const asker = whoAsks(house, request);
    const fromShort = request.query.from === 'short';
    const typed = fromShort ? orderFromShort(book, asker, today()) : {};
    return sendPage(house, request, reply, newOrderPage(book, asker, today(), typed, fromShort));
  });
  app.post('/orders/new', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: orderForm(book, asker, today(), readBody(request.body).typed),
      write: (tx, form) => draftOrder(tx, form, asker),
      redraw: (typed) => newOrderPage(book, asker, today(), typed, typed.from === 'short'),
    });
  });

  const plan = basketPlanner(app, book);
  basketRoutes(app, house, plan);
  shoppingRoutes(app, house, plan);
  rulesRoutes(app, house);
}
