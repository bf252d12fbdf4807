import type { FastifyInstance } from 'fastify';
import type { Answer, Tx } from '../database/book.ts';
import { queryNumber, queryText } from '../kit/address.ts';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { orProblems } from '../refusal.ts';
import { receiptPage } from '../shelf/receive/receipt-page.ts';
import { answering } from '../web/answering.ts';
import { withoutKey } from '../web/body.ts';
import { sendCsv } from '../web/csv.ts';
import type { House } from '../web/house.ts';
import { readForm } from '../web/post.ts';
import { askedRoutes } from './asked/routes.ts';
import { offersFromReceipt } from './offer/from-receipt.ts';
import { changeDraft, editOrderPage, orderForm } from './order/form.ts';
import { ordersPage } from './order/list.ts';
import { orderPage, sendOrderPage } from './order/page.ts';
import { readOrder } from './order/queries.ts';
import { orderRows, orderSheetPage } from './order/sheet.ts';
import {
  cancelOrder,
  closeOrder,
  NUMBER_FORM,
  reopenOrder,
  sendOrder,
  setSupplierNumber,
} from './order/verbs.ts';
import { receiveForm } from './receive/form.ts';
import { receiveOrderPage } from './receive/page.ts';
import { receiveOrder } from './receive/verbs.ts';
import { returnsPage } from './returned/page.ts';
import { creditForm, noteCredit, RETURNS_PATH } from './returned/store.ts';
import { supplierRoutes } from './supplier/routes.ts';

export function orderRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);

  showPage('/orders', ({ asker, today, query }) =>
    ordersPage(book, asker, today, queryNumber(query, 'before')),
  );
  showPage('/orders/:code', ({ asker, params }) => orderPage(book, asker, params.code));
  showPage('/orders/:code/sheet', ({ asker, params }) => orderSheetPage(book, asker, params.code));
  app.get<{ Params: { code: string } }>('/orders/:code/lines.csv', (request, reply) => {
    const order = readOrder(book, request.params.code);
    return sendCsv(reply, `order-${order.code}`, orderRows(order));
  });

  showPage('/orders/:code/edit', ({ asker, today, params }) =>
    editOrderPage(book, asker, today, params.code),
  );
  takeForm('/orders/:code/edit', ({ asker, today, params: { code }, typed, save }) =>
    save({
      schema: orderForm(book, asker, today, typed),
      write: (tx, form) => changeDraft(tx, code, form, asker),
      redraw: (again) =>
        readOrder(book, code).state === 'draft'
          ? editOrderPage(book, asker, today, code, again)
          : orderPage(book, asker, code),
    }),
  );

  showPage('/orders/:code/receipts', ({ asker, params }) => receiveOrderPage(book, asker, params.code));
  takeForm('/orders/:code/receipts', ({ asker, params: { code }, query, body, typed, save, show }) => {
    const schema = receiveForm(book, asker, readOrder(book, code));
    if (queryText(query, 'see') === 'cost') {
      const { value: form, problems } = orProblems(() => readForm(schema, withoutKey(body)));
      return show({ ...receiveOrderPage(book, asker, code, typed, form), problems });
    }
    return save({
      schema,
      write: (tx, form) => receiveOrder(tx, code, form, asker),
      redraw: (again) => receiveOrderPage(book, asker, code, again),
    });
  });

  showPage('/orders/:code/sendings', ({ asker, params }) => sendOrderPage(book, asker, params.code));
  /** A step in the life of an order: nothing is typed, and refused it shows the order as it is now. */
  const takeStep = (step: string, take: (tx: Tx, code: string) => Answer) =>
    takeForm(`/orders/:code/${step}`, ({ asker, params: { code }, save }) =>
      save({
        schema: NOTHING_TYPED,
        write: (tx) => take(tx, code),
        redraw: () => orderPage(book, asker, code),
      }),
    );
  takeStep('sendings', sendOrder);
  takeStep('closings', closeOrder);
  takeStep('cancellings', cancelOrder);
  takeStep('reopenings', reopenOrder);

  takeForm('/orders/:code/numbers', ({ asker, params: { code }, save }) =>
    save({
      schema: NUMBER_FORM,
      write: (tx, form) => setSupplierNumber(tx, code, form),
      redraw: (typed) => orderPage(book, asker, code, typed),
    }),
  );
  takeForm('/orders/offers/of-receipts/:id', ({ id, asker, save }) =>
    save({
      schema: NOTHING_TYPED,
      write: (tx) => offersFromReceipt(tx, id, asker),
      redraw: () => receiptPage(book, id, asker),
    }),
  );
  showPage(RETURNS_PATH, ({ asker }) => returnsPage(book, asker));
  takeForm('/orders/returns/:id/credits', ({ id, asker, save }) =>
    save({
      schema: creditForm(asker),
      write: (tx, form) => noteCredit(tx, id, form, asker),
      redraw: (typed) => returnsPage(book, asker, { id, typed }),
    }),
  );
  askedRoutes(app, house);
  supplierRoutes(app, house);
}
