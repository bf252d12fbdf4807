import type { FastifyInstance } from 'fastify';
import { NOTHING_TYPED } from '../kit/fields.ts';
import { answering } from '../web/answering.ts';
import { readBody, withoutKey } from '../web/body.ts';
import type { House } from '../web/house.ts';
import { asMadePage } from './as-made/page.ts';
import { followMeasure, keepMeasure, measureSchema } from './as-made/verbs.ts';
import { garmentFormPage, outcomeOf, workOutForm } from './garment/form.ts';
import { garmentSchema } from './garment/form-fields.ts';
import { readGarment, readTierOf } from './garment/records.ts';
import { changeGarment } from './garment/verbs.ts';
import { newGarmentSchema, readNewChoices } from './new/fields.ts';
import { newGarmentPage, workOutNew } from './new/page.ts';
import { createGarment } from './new/verbs.ts';
import { partRoutes } from './parts/routes.ts';
import { quickBandPage } from './quick/band.ts';
import { surplusPage } from './quick/surplus.ts';
import { sewingPage } from './sewing/page.ts';
import { chooseThread, threadForm } from './sewing/thread.ts';
import { tierRoutes } from './tier/routes.ts';
import { comparePage } from './versions/compare-page.ts';
import { COPY, copyGarment, copyPage } from './versions/copy.ts';
import { versionsPage } from './versions/page.ts';

/** A garment from empty to its versions and copies, what it takes to sew, and the band without a garment. */
export function garmentRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { showPage, takeForm } = answering(app, house);
  const planning = answering(app, house, { GET: 'keeper' });

  planning.showPage('/garments/new', ({ asker: { units } }) => newGarmentPage(book, units, null));
  takeForm('/garments/new', ({ asker: { units }, typed, body, show, workedOut, save }) => {
    if (typed.act === 'more-girths' || typed.act === 'more-tiers')
      return show(newGarmentPage(book, units, typed));
    if (typed.act === 'work-out') {
      const outcome = workOutNew(book, withoutKey(body), units);
      return workedOut(newGarmentPage(book, units, typed, outcome), outcome.problems);
    }
    return save({
      schema: newGarmentSchema(units, readNewChoices(book)),
      write: createGarment,
      redraw: (again) => newGarmentPage(book, units, again),
    });
  });

  planning.showPage('/garments/:code/edit', ({ asker: { units }, params: { code } }) => {
    const garment = readGarment(book, code);
    return garmentFormPage(book, garment, units, null, outcomeOf(book, garment, garment, units));
  });
  takeForm('/garments/:code/edit', ({ asker: { units }, params, typed, body, show, workedOut, save }) => {
    const garment = readGarment(book, params.code);
    if (typed.act === 'more-girths') return show(garmentFormPage(book, garment, units, typed));
    if (typed.act === 'work-out') {
      const outcome = workOutForm(book, garment, withoutKey(body), units);
      return workedOut(garmentFormPage(book, garment, units, typed, outcome), outcome.problems);
    }
    return save({
      schema: garmentSchema(units),
      write: (tx, form) => changeGarment(tx, garment.code, form),
      redraw: (again) => garmentFormPage(book, garment, units, again),
    });
  });

  showPage('/garments/:code/versions', ({ asker, params, query }) =>
    versionsPage(book, params.code, query, asker.units),
  );
  showPage('/garments/:code/versions/compare', ({ asker, params, query }) =>
    comparePage(book, params.code, query, asker.units),
  );
  planning.showPage('/garments/:code/copies', ({ params }) => copyPage(readGarment(book, params.code), null));
  takeForm('/garments/:code/copies', ({ params, save }) => {
    const garment = readGarment(book, params.code);
    return save({
      schema: COPY,
      write: (tx, form) => copyGarment(tx, garment.code, form),
      redraw: (typed) => copyPage(garment, typed),
    });
  });

  const onTheStand = answering(app, house, { POST: 'hand' });
  showPage('/garments/:code/as-made', ({ asker, params }) =>
    asMadePage(book, params.code, asker.units, null),
  );
  onTheStand.takeForm('/garments/:code/as-made', ({ asker, params, save }) => {
    const garment = readGarment(book, params.code);
    return save({
      schema: measureSchema(garment, asker.units),
      write: (tx, form) => keepMeasure(tx, garment.code, form),
      redraw: (typed) => asMadePage(book, garment.code, asker.units, typed),
    });
  });
  takeForm('/garments/:code/as-made/:id/followed', ({ asker, params, id, save }) => {
    const { garment, tier } = readTierOf(book, params.code, id);
    return save({
      schema: NOTHING_TYPED,
      write: (tx) => followMeasure(tx, garment.code, tier.id),
      redraw: () => asMadePage(book, garment.code, asker.units, null),
    });
  });

  showPage('/garments/:code/sewing', ({ asker, params }) => sewingPage(book, params.code, asker.units));
  takeForm('/garments/:code/tiers/:id/thread', ({ asker, params, id, save }) => {
    const { garment, tier } = readTierOf(book, params.code, id);
    return save({
      schema: threadForm(book),
      write: (tx, form) => chooseThread(tx, garment.code, tier.id, form),
      redraw: () => sewingPage(book, garment.code, asker.units),
    });
  });

  // The whole question stands in the address, so that an answer can be kept: nothing is written.
  showPage('/garments/quick', ({ asker, query }) => quickBandPage(book, readBody(query).typed, asker));
  showPage('/garments/quick/surplus', ({ asker, query }) => surplusPage(readBody(query).typed, asker));

  partRoutes(app, house);
  tierRoutes(app, house);
}
