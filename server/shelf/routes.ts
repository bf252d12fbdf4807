import type { FastifyInstance } from 'fastify';
import { address, queryText } from '../kit/address.ts';
import { STATUS } from '../refusal.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { clothForm } from './cloth/form.ts';
import { clothFormPage, clothPage, clothsPage } from './cloth/pages.ts';
import { stockByClothPage } from './cloth/stock-page.ts';
import { addCloth, changeCloth } from './cloth/store.ts';
import { ledgerPage } from './ledger/page.ts';
import { LOT_COLOUR_FORM, recordLotColour } from './lot/colour-form.ts';
import { joinLot, LOT_JOIN } from './lot/join-form.ts';
import { lotPage } from './lot/page.ts';
import { keepAsShade, LOT_SHADE } from './lot/shade-form.ts';
import { otherUseRoutes } from './piece/other-use-routes.ts';
import { pieceRoutes } from './piece/routes.ts';
import { addPlace, PLACE_FORM, renamePlace } from './place/form.ts';
import { placeListPage, placesPage } from './place/pages.ts';
import { pleatingRoutes } from './pleating/routes.ts';
import { receiveRoutes } from './receive/routes.ts';
import { SHADE_FORM } from './shade/form.ts';
import { shadeFormPage, shadePage, shadesPage } from './shade/pages.ts';
import { addShade, changeShade } from './shade/store.ts';
import { findByCode, findPage } from './stock/find-page.ts';
import { stockPage } from './stock/page.ts';
import type { ShelfTold } from './told.ts';
import { wallPage } from './wall/page.ts';
import { washTestsPage } from './wash-test/page.ts';
import { keepWashTest, washTestSchema } from './wash-test/store.ts';

/** The shelf: what is on it, and everything that describes it. */
export function shelfRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  const { answer, showPage, takeForm } = answering(app, house);
  const describing = answering(app, house, { GET: 'keeper' });
  answer('/shelf', ({ query, asker, show }) => {
    const page = stockPage(book, query, asker, told);
    const { free, width } = page.data.wrong;
    return show(page, free === '' && width === '' ? 200 : STATUS.invalid);
  });
  answer('/find', ({ query, reply, show }) => {
    const code = queryText(query, 'code').slice(0, 120);
    const found = findByCode(book, code);
    if (found) return reply.redirect(found, 303);
    // "3 m plum" or "plum 3 m" is no code: it asks whether so much can be taken.
    if (/\d/.test(code) && /\s/.test(code)) return reply.redirect(address('/take', { ask: code }), 303);
    return show(findPage(book, code), 404);
  });
  showPage('/shelf/by-place', ({ query, asker }) => placeListPage(book, query, asker, told));
  showPage('/shelf/stock', ({ query, asker }) => stockByClothPage(book, query, asker, told));
  showPage('/shelf/wall', ({ query, asker }) => wallPage(book, query, asker, told));
  showPage('/shelf/ledger', ({ query, asker }) => ledgerPage(book, query, asker));

  showPage('/shelf/lots/:code', ({ params, query, asker }) => lotPage(book, params.code, query, asker, told));
  takeForm('/shelf/lots/:code/colour', ({ params: { code }, query, asker, save }) =>
    save({
      schema: LOT_COLOUR_FORM,
      write: (tx, form) => recordLotColour(tx, code, form),
      redraw: (typed) => lotPage(book, code, query, asker, told, typed),
    }),
  );
  takeForm('/shelf/lots/:code/shade', ({ params: { code }, query, asker, save }) =>
    save({
      schema: LOT_SHADE,
      write: (tx, form) => keepAsShade(tx, code, form),
      redraw: (typed) => lotPage(book, code, query, asker, told, typed),
    }),
  );
  takeForm('/shelf/lots/:code/joins', ({ params: { code }, query, asker, save }) =>
    save({
      schema: LOT_JOIN,
      write: (tx, form) => joinLot(tx, code, form),
      redraw: (typed) => lotPage(book, code, query, asker, told, typed),
    }),
  );

  showPage('/shelf/cloths', ({ query, asker }) => clothsPage(book, query, asker));
  describing.showPage('/shelf/cloths/new', ({ asker }) => clothFormPage(book, asker, null));
  takeForm('/shelf/cloths/new', ({ asker, save }) =>
    save({
      schema: clothForm(book, asker.units),
      write: (tx, form) => addCloth(tx, form, asker.units),
      redraw: (typed) => clothFormPage(book, asker, null, typed),
    }),
  );
  showPage('/shelf/cloths/:id', ({ id, query, asker }) => clothPage(book, id, query, asker, told));
  describing.showPage('/shelf/cloths/:id/edit', ({ id, asker }) => clothFormPage(book, asker, id));
  takeForm('/shelf/cloths/:id/edit', ({ id, asker, save }) =>
    save({
      schema: clothForm(book, asker.units),
      write: (tx, form) => changeCloth(tx, id, form, asker.units),
      redraw: (typed) => clothFormPage(book, asker, id, typed),
    }),
  );

  showPage('/shelf/cloths/:id/wash-tests', ({ id, asker }) => washTestsPage(book, id, asker, null));
  takeForm('/shelf/cloths/:id/wash-tests', ({ id, asker, save }) =>
    save({
      schema: washTestSchema(asker.units),
      write: (tx, form) => keepWashTest(tx, id, form, asker.units),
      redraw: (typed) => washTestsPage(book, id, asker, typed),
    }),
  );

  showPage('/shelf/shades', ({ query, asker }) => shadesPage(book, query, asker));
  describing.showPage('/shelf/shades/new', () => shadeFormPage(book, null));
  takeForm('/shelf/shades/new', ({ save }) =>
    save({
      schema: SHADE_FORM,
      write: addShade,
      redraw: (typed) => shadeFormPage(book, null, typed),
    }),
  );
  showPage('/shelf/shades/:id', ({ id, asker }) => shadePage(book, id, asker, told));
  describing.showPage('/shelf/shades/:id/edit', ({ id }) => shadeFormPage(book, id));
  takeForm('/shelf/shades/:id/edit', ({ id, save }) =>
    save({
      schema: SHADE_FORM,
      write: (tx, form) => changeShade(tx, id, form),
      redraw: (typed) => shadeFormPage(book, id, typed),
    }),
  );

  showPage('/shelf/places', () => placesPage(book));
  takeForm('/shelf/places', ({ save }) =>
    save({ schema: PLACE_FORM, write: addPlace, redraw: (typed) => placesPage(book, { typed }) }),
  );
  takeForm('/shelf/places/:id/names', ({ id, save }) =>
    save({
      schema: PLACE_FORM,
      write: (tx, form) => renamePlace(tx, id, form),
      redraw: (typed) => placesPage(book, { renaming: id, typed }),
    }),
  );

  receiveRoutes(app, house);
  pieceRoutes(app, house, told);
  otherUseRoutes(app, house, told);
  pleatingRoutes(app, house);
}
