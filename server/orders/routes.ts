import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Answer, Tx } from '../database/book.ts';
import { unknown } from '../refusal.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { dayOf } from '../when.ts';
import { ordersPage } from './list.ts';
import { changeDraft, draftOrder, editOrderPage, newOrderPage, orderForm } from './order-form.ts';
import { cancelOrder, closeOrder, orderPage, reopenOrder, sendOrder, sendPageOf } from './order-page.ts';
import { readOrder } from './queries.ts';
import { receiveForm, receiveOrder, receivePage } from './receive.ts';
import { addSupplier, changeSupplier, SUPPLIER_FORM, supplierPage, suppliersPage } from './suppliers.ts';

interface OneOrder {
  Params: { code: string };
}

export function orderRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get<{ Querystring: { before?: string } }>('/orders', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      ordersPage(book, whoAsks(house, request), dayOf(book.now()), request.query.before),
    ),
  );

  app.get<{ Querystring: { from?: string } }>('/orders/new', (request, reply) => {
    const from = request.query.from === 'short' ? { from: 'short' } : {};
    return sendPage(house, request, reply, newOrderPage(book, whoAsks(house, request), from));
  });
  app.post('/orders/new', (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: orderForm(book, asker),
      write: (tx, form) => draftOrder(tx, form, asker),
      redraw: (typed) => newOrderPage(book, asker, typed),
    });
  });

  app.get<OneOrder>('/orders/:code', (request, reply) =>
    sendPage(house, request, reply, orderPage(book, whoAsks(house, request), request.params.code)),
  );

  app.get<OneOrder>('/orders/:code/edit', (request, reply) =>
    sendPage(house, request, reply, editOrderPage(book, whoAsks(house, request), request.params.code)),
  );
  app.post<OneOrder>('/orders/:code/edit', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: orderForm(book, asker),
      write: (tx, form) => changeDraft(tx, code, form, asker),
      redraw: (typed) =>
        readOrder(book, code).state === 'draft'
          ? editOrderPage(book, asker, code, typed)
          : orderPage(book, asker, code),
    });
  });

  app.get<OneOrder>('/orders/:code/receipts', (request, reply) =>
    sendPage(house, request, reply, receivePage(book, whoAsks(house, request), request.params.code)),
  );
  app.post<OneOrder>('/orders/:code/receipts', (request, reply) => {
    const asker = whoAsks(house, request);
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: receiveForm(book, asker, readOrder(book, code)),
      write: (tx, form) => receiveOrder(tx, code, form, asker),
      redraw: (typed) => receivePage(book, asker, code, typed),
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

interface OneSupplier {
  Params: { id: string };
}

function supplierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get('/orders/suppliers', (request, reply) => sendPage(house, request, reply, suppliersPage(book)));
  app.post('/orders/suppliers', (request, reply) =>
    handlePost(house, request, reply, {
      schema: SUPPLIER_FORM,
      write: addSupplier,
      redraw: (typed) => suppliersPage(book, typed),
    }),
  );
  app.get<OneSupplier>('/orders/suppliers/:id', (request, reply) =>
    sendPage(house, request, reply, supplierPage(book, supplierId(request))),
  );
  app.post<OneSupplier>('/orders/suppliers/:id', (request, reply) =>
    handlePost(house, request, reply, {
      schema: SUPPLIER_FORM,
      write: (tx, form) => changeSupplier(tx, supplierId(request), form),
      redraw: (typed) => supplierPage(book, supplierId(request), typed),
    }),
  );
}

function supplierId(request: FastifyRequest<OneSupplier>): number {
  if (!/^[1-9][0-9]{0,9}$/.test(request.params.id)) throw unknown('such supplier');
  return Number(request.params.id);
}
