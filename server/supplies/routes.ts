import type { FastifyInstance } from 'fastify';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import type { SuppliesTold } from './called.ts';
import { deedOf, LOT_FORM, SUPPLY_DEED_NAMES, SUPPLY_DEEDS } from './deeds.ts';
import { addSupply, changeSupply, putSupplyAway, supplyForm, takeSupplyBack } from './form.ts';
import { suppliesPage } from './list-page.ts';
import { receivedForm, receiveSuppliesPage, writeReceived } from './receive.ts';
import { readSupply } from './store.ts';
import { supplyFormPage, supplyPage } from './supply-page.ts';
import { changeSupplyLot } from './verbs.ts';

/** The stock of what is not cloth. Who works may use and count; a keeper describes, receives and writes off. */
export function supplyRoutes(app: FastifyInstance, house: House, told: SuppliesTold): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  const keeping = answering(app, house, { GET: 'keeper', POST: 'keeper' });
  showPage('/supplies', ({ query, asker }) => suppliesPage(book, query, asker, told));

  keeping.showPage('/supplies/new', ({ asker, typedInAddress }) =>
    supplyFormPage(book, asker, null, typedInAddress),
  );
  keeping.takeForm('/supplies/new', ({ asker, save }) =>
    save({
      schema: supplyForm(book, asker.units),
      write: (tx, form) => addSupply(tx, form, asker),
      redraw: (typed) => supplyFormPage(book, asker, null, typed),
    }),
  );
  keeping.showPage('/supplies/receive', ({ asker, typedInAddress }) =>
    receiveSuppliesPage(book, asker, typedInAddress),
  );
  keeping.takeForm('/supplies/receive', ({ asker, save }) =>
    save({
      schema: receivedForm(book, asker),
      write: (tx, form) => writeReceived(tx, form, asker),
      redraw: (typed) => receiveSuppliesPage(book, asker, typed),
    }),
  );

  showPage('/supplies/:id', ({ id, asker }) => supplyPage(book, id, asker));
  keeping.showPage('/supplies/:id/edit', ({ id, asker }) => supplyFormPage(book, asker, id));
  keeping.takeForm('/supplies/:id/edit', ({ id, asker, save }) =>
    save({
      schema: supplyForm(book, asker.units),
      write: (tx, form) => changeSupply(tx, id, form, asker),
      redraw: (typed) => supplyFormPage(book, asker, id, typed),
    }),
  );
  for (const deed of SUPPLY_DEED_NAMES) {
    const { takeForm: takeDeed } = deed === 'write-off' ? keeping : { takeForm };
    takeDeed(`/supplies/:id/${SUPPLY_DEEDS[deed].resource}`, ({ id, asker, save }) => {
      const { schema, write } = deedOf(book, readSupply(book, id), asker.units, deed);
      return save({
        schema,
        write,
        redraw: (typed) => supplyPage(book, id, asker, { form: deed, typed }),
      });
    });
  }
  takeForm('/supplies/:id/lots/:lot', ({ id, params, asker, save }) => {
    const lotId = Number(params.lot);
    return save({
      schema: LOT_FORM,
      write: (tx, { lot, opened_on: openedOn }) => changeSupplyLot(tx, id, { lotId, lot, openedOn }),
      redraw: (typed) => supplyPage(book, id, asker, { form: 'lot', lotId, typed }),
    });
  });
  for (const [name, change] of Object.entries({ 'put-aways': putSupplyAway, 'take-backs': takeSupplyBack })) {
    keeping.takeForm(`/supplies/:id/${name}`, ({ id, asker, save }) =>
      save({
        schema: NOTHING_TYPED,
        write: (tx) => change(tx, id),
        redraw: () => supplyPage(book, id, asker),
      }),
    );
  }
}
