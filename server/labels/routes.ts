import type { FastifyInstance, FastifyRequest } from 'fastify';
import { unknown } from '../refusal.ts';
import { findPiece } from '../shelf/piece/facts.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { ADDRESS_FORM, changeAddress } from './address-form.ts';
import { labelsPage } from './overview.ts';
import { RUN_FORM, runFormPage, startRun } from './run-form.ts';
import { runPage, testPage } from './run-page.ts';
import { labelSheetPage, saveSheet, sheetForm } from './sheet-form.ts';
import { findBatch, pathOfThing } from './things.ts';

/** Labels with codes, and the short addresses that the codes hold. */
export function labelRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const { answer, showPage, takeForm } = answering(app, house);
  const settings = answering(app, house, { GET: 'keeper', POST: 'keeper' });
  const reachedAt = (request: FastifyRequest) => `${request.protocol}://${request.host}`;

  showPage('/setup/labels', ({ request }) => labelsPage(book, reachedAt(request)));
  settings.takeForm('/setup/labels/addresses', ({ request, save }) =>
    save({
      schema: ADDRESS_FORM,
      write: changeAddress,
      redraw: (typed) => labelsPage(book, reachedAt(request), typed),
    }),
  );

  settings.showPage('/setup/labels/sheets/new', ({ asker }) => labelSheetPage(book, asker, null));
  settings.showPage('/setup/labels/sheets/:id', ({ id, asker }) => labelSheetPage(book, asker, id));
  showPage('/setup/labels/sheets/:id/test', ({ id }) => testPage(book, id));
  for (const path of ['/setup/labels/sheets', '/setup/labels/sheets/:id']) {
    settings.takeForm(path, ({ id, asker, save }) => {
      const sheetId = path.endsWith(':id') ? id : null;
      return save({
        schema: sheetForm(asker),
        write: (tx, form) => saveSheet(tx, form, sheetId),
        redraw: (typed) => labelSheetPage(book, asker, sheetId, typed),
      });
    });
  }

  showPage('/setup/labels/runs/new', ({ query }) => runFormPage(book, query));
  takeForm('/setup/labels/runs', ({ save }) =>
    save({
      schema: RUN_FORM,
      write: startRun,
      redraw: (typed) => runFormPage(book, {}, typed),
    }),
  );
  showPage('/setup/labels/runs/:id', ({ id, asker }) => runPage(book, id, asker));

  // Short addresses: in capitals, as codes hold them, and in small letters, as somebody types them.
  for (const letter of ['P', 'p'] as const) {
    answer(`/${letter}/:code`, ({ params: { code }, reply }) => {
      const piece = findPiece(book, code);
      if (!piece) throw unknown(`piece ${code.slice(0, 40)}`);
      return reply.redirect(pathOfThing({ kind: 'piece', ...piece }), 303);
    });
  }
  for (const letter of ['D', 'd'] as const) {
    answer(`/${letter}/:code`, ({ params: { code }, reply }) => {
      const batch = findBatch(book, code);
      if (!batch) throw unknown(`batch ${code.slice(0, 40)}`);
      return reply.redirect(pathOfThing({ kind: 'batch', ...batch }), 303);
    });
  }
  for (const letter of ['R', 'r']) {
    answer(`/${letter}/:id`, ({ id, reply }) => {
      const place = book.first(book.db.selectFrom('place').select('name').where('id', '=', id));
      if (!place) throw unknown('such place');
      return reply.redirect(pathOfThing({ kind: 'place', id, code: place.name }), 303);
    });
  }
}
