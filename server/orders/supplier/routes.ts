import type { FastifyInstance } from 'fastify';
import { idIn, queryNumber, queryText } from '../../kit/address.ts';
import { dayOf } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { unknown } from '../../refusal.ts';
import { readBody } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { addOffer, offerForm, offerFormPage, typedOffer } from '../offer/form.ts';
import { setTerms, termsForm } from '../offer/terms.ts';
import { addSupplier, changeSupplier, SUPPLIER_FORM, suppliersPage } from './list.ts';
import { offerPage, supplierPage } from './page.ts';

/** Suppliers, their terms and what they offer. */
export function supplierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const today = () => dayOf(book.now());
  app.get('/orders/suppliers', (request, reply) => sendPage(house, request, reply, suppliersPage(book)));
  app.post('/orders/suppliers', (request, reply) =>
    handlePost(house, request, reply, {
      schema: SUPPLIER_FORM,
      write: addSupplier,
      redraw: (typed) => suppliersPage(book, typed),
    }),
  );

  app.get('/orders/suppliers/:id', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      supplierPage(book, idIn(request.params), whoAsks(house, request), today()),
    ),
  );
  app.post('/orders/suppliers/:id', (request, reply) =>
    handlePost(house, request, reply, {
      schema: SUPPLIER_FORM,
      write: (tx, form) => changeSupplier(tx, idIn(request.params), form),
      redraw: (supplier) =>
        supplierPage(book, idIn(request.params), whoAsks(house, request), today(), { supplier }),
    }),
  );
  app.post('/orders/suppliers/:id/terms', (request, reply) =>
    handlePost(house, request, reply, {
      schema: termsForm(readWorkroom(book).currency),
      write: (tx, form) => setTerms(tx, idIn(request.params), form),
      redraw: (terms) =>
        supplierPage(book, idIn(request.params), whoAsks(house, request), today(), { terms }),
    }),
  );

  offerRoutes(app, house);
}

function offerRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const today = () => dayOf(book.now());
  app.get('/orders/suppliers/:id/offers/new', (request, reply) => {
    const supplierId = idIn(request.params);
    const like = queryNumber(request.query, 'like');
    const typed =
      like === null
        ? { cloth_id: queryText(request.query, 'cloth'), shade_id: queryText(request.query, 'shade') }
        : typedOffer(book, supplierId, like);
    return sendPage(
      house,
      request,
      reply,
      offerFormPage(book, supplierId, today(), whoAsks(house, request), typed),
    );
  });
  app.post('/orders/suppliers/:id/offers/new', (request, reply) => {
    const supplierId = idIn(request.params);
    const asker = whoAsks(house, request);
    const redraw = (typed: Readonly<Record<string, string>>) =>
      offerFormPage(book, supplierId, today(), asker, typed);
    return handlePost(house, request, reply, {
      schema: offerForm(book, supplierId, today(), asker),
      write: (tx, form) => addOffer(tx, supplierId, form, readBody(request.body).typed, asker),
      redraw,
    });
  });
  app.get('/orders/offers/:id', (request, reply) => {
    const id = idIn(request.params);
    if (id === 0) throw unknown('such offer');
    return sendPage(house, request, reply, offerPage(book, id, whoAsks(house, request)));
  });
}
