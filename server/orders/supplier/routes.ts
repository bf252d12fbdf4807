import type { FastifyInstance } from 'fastify';
import { queryNumber, queryText } from '../../kit/address.ts';
import { answering } from '../../web/answering.ts';
import type { House } from '../../web/house.ts';
import { addOffer, offerForm, offerFormPage, typedOffer } from '../offer/form.ts';
import { offerPage } from '../offer/page.ts';
import {
  addSupplyOffer,
  supplyOfferForm,
  supplyOfferFormPage,
  typedSupplyOffer,
} from '../offer/supply-form.ts';
import { supplyOfferPage } from '../offer/supply-page.ts';
import { addSupplier, changeSupplier, SUPPLIER_FORM } from './form.ts';
import { suppliersPage } from './list.ts';
import { supplierPage } from './page.ts';
import { setTerms, termsForm } from './terms-form.ts';

/** Suppliers, their terms and what they offer. */
export function supplierRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  showPage('/orders/suppliers', () => suppliersPage(book));
  takeForm('/orders/suppliers', ({ save }) =>
    save({ schema: SUPPLIER_FORM, write: addSupplier, redraw: (typed) => suppliersPage(book, typed) }),
  );

  showPage('/orders/suppliers/:id', ({ id, asker, today }) => supplierPage(book, id, asker, today));
  takeForm('/orders/suppliers/:id', ({ id, asker, today, save }) =>
    save({
      schema: SUPPLIER_FORM,
      write: (tx, form) => changeSupplier(tx, id, form),
      redraw: (supplier) => supplierPage(book, id, asker, today, { supplier }),
    }),
  );
  takeForm('/orders/suppliers/:id/terms', ({ id, asker, today, save }) =>
    save({
      schema: termsForm(asker),
      write: (tx, form) => setTerms(tx, id, form, asker),
      redraw: (terms) => supplierPage(book, id, asker, today, { terms }),
    }),
  );

  showPage('/orders/suppliers/:id/offers/new', ({ id, asker, today, query }) => {
    const like = queryNumber(query, 'like');
    const typed =
      like === null
        ? { cloth_id: queryText(query, 'cloth'), shade_id: queryText(query, 'shade') }
        : typedOffer(book, id, like);
    return offerFormPage(book, id, today, asker, typed);
  });
  takeForm('/orders/suppliers/:id/offers/new', ({ id, asker, today, typed, save }) =>
    save({
      schema: offerForm(book, id, today, asker),
      write: (tx, form) => addOffer(tx, id, form, typed, asker),
      redraw: (again) => offerFormPage(book, id, today, asker, again),
    }),
  );
  showPage('/orders/offers/:id', ({ id, asker }) => offerPage(book, id, asker));

  showPage('/orders/suppliers/:id/supply-offers/new', ({ id, asker, today, query }) => {
    const like = queryNumber(query, 'like');
    const typed =
      like === null ? { supply_id: queryText(query, 'supply') } : typedSupplyOffer(book, id, like);
    return supplyOfferFormPage(book, id, today, asker, typed);
  });
  takeForm('/orders/suppliers/:id/supply-offers/new', ({ id, asker, today, typed, save }) =>
    save({
      schema: supplyOfferForm(book, id, today, asker),
      write: (tx, form) => addSupplyOffer(tx, id, form, typed, asker),
      redraw: (again) => supplyOfferFormPage(book, id, today, asker, again),
    }),
  );
  showPage('/orders/supply-offers/:id', ({ id, asker }) => supplyOfferPage(book, id, asker));
}
