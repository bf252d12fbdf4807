import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Answer, Tx } from '../database/book.ts';
import { dayOf } from '../kit/when.ts';
import { orProblems } from '../refusal.ts';
import { readBody, withoutKey } from '../web/body.ts';
import { sendCsv } from '../web/csv.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost, readForm } from '../web/post.ts';
import { changeDraft, orderForm } from './order/form.ts';
import { editOrderPage } from './order/form-page.ts';
import { ordersPage } from './order/list.ts';
import { cancelOrder, closeOrder, orderPage, reopenOrder, sendOrder, sendPageOf } from './order/page.ts';
import { readOrder } from './order/queries.ts';
import { orderRows, orderSheetPage } from './order/sheet.ts';
import { receiveForm } from './receive/form.ts';
import { receiveOrder, receiveOrderPage } from './receive/page.ts';
import { supplierRoutes } from './supplier/routes.ts';

interface OneOrder {
  Params: { code: string };
}

export function orderRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const today = () => dayOf(book.now());

  app.get<{ Querystring: { before?: string } }>('/orders', (request, reply) =>
    sendPage(house, request, reply, ordersPage(book, whoAsks(house, request), today(), request.query.before)),
  );

  app.get<OneOrder>('/orders/:code', (request, reply) =>
    sendPage(house, request, reply, orderPage(book, whoAsks(house, request), request.params.code)),
  );

  app.get<OneOrder>('/orders/:code/sheet', (request, reply) =>
    sendPage(house, request, reply, orderSheetPage(book, whoAsks(house, request), request.params.code)),
  );
  app.get<OneOrder>('/orders/:code/lines.csv', (request, reply) => {
    const order = readOrder(book, request.params.code);
    return sendCsv(reply, `order-${order.code}`, orderRows(order));
  });

  app.get<OneOrder>('/orders/:code/edit', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      editOrderPage(book, whoAsks(house, request), today(), request.params.code),
    ),
  );
  app.post<OneOrder>('/orders/:code/edit', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: orderForm(book, asker, today(), readBody(request.body).typed),
      write: (tx, form) => changeDraft(tx, code, form, asker),
      redraw: (typed) =>
        readOrder(book, code).state === 'draft'
          ? editOrderPage(book, asker, today(), code, typed)
          : orderPage(book, asker, code),
    });
  });

  app.get<OneOrder>('/orders/:code/receipts', (request, reply) =>
    sendPage(house, request, reply, receiveOrderPage(book, whoAsks(house, request), request.params.code)),
  );
  app.post<OneOrder & { Querystring: { see?: string } }>('/orders/:code/receipts', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    if (request.query.see === 'cost') return seeCost(house, request, reply);
    return handlePost(house, request, reply, {
      schema: receiveForm(book, asker, readOrder(book, code)),
      write: (tx, form) => receiveOrder(tx, code, form, asker),
      redraw: (typed) => receiveOrderPage(book, asker, code, typed),
    });
  });

  app.get<OneOrder>('/orders/:code/sendings', (request, reply) =>
    sendPage(house, request, reply, sendPageOf(book, whoAsks(house, request), request.params.code)),
  );
  stateRoute(app, house, 'sendings', sendOrder);
  stateRoute(app, house, 'closings', closeOrder);
  stateRoute(app, house, 'cancellings', cancelOrder);
  stateRoute(app, house, 'reopenings', reopenOrder);

  supplierRoutes(app, house);
}

/** Writes nothing: draws the receiving form once more with what the delivery comes to. */
function seeCost(house: House, request: FastifyRequest<OneOrder>, reply: FastifyReply) {
  const { book } = house;
  const asker = whoAsks(house, request);
  const { code } = request.params;
  const { body, typed } = readBody(request.body);
  const schema = receiveForm(book, asker, readOrder(book, code));
  const { value: form, problems } = orProblems(() => readForm(schema, withoutKey(body)));
  return sendPage(house, request, reply, { ...receiveOrderPage(book, asker, code, typed, form), problems });
}

/** A step in the life of an order: nothing is typed, and refused it shows the order as it is now. */
function stateRoute(
  app: FastifyInstance,
  house: House,
  step: string,
  take: (tx: Tx, code: string) => Answer,
): void {
  app.post<OneOrder>(`/orders/:code/${step}`, (request, reply) =>
    handlePost(house, request, reply, {
      schema: z.strictObject({}),
      write: (tx) => take(tx, request.params.code),
      redraw: () => orderPage(house.book, whoAsks(house, request), request.params.code),
    }),
  );
}
