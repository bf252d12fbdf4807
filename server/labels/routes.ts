import type { FastifyInstance, FastifyRequest } from 'fastify';
import { idIn } from '../kit/address.ts';
import { unknown } from '../refusal.ts';
import { findPiece } from '../shelf/piece/facts.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { ADDRESS_FORM, changeAddress } from './address-form.ts';
import { labelsPage } from './overview.ts';
import { RUN_FORM, runFormPage, startRun } from './run-form.ts';
import { runPage, testPage } from './run-page.ts';
import { labelSheetPage, saveSheet, sheetForm } from './sheet-form.ts';
import { findBatch, pathOfThing } from './things.ts';

/** Labels with codes, and the short addresses that the codes hold. */
export function labelRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  const reachedAt = (request: FastifyRequest) => `${request.protocol}://${request.host}`;

  app.get('/setup/labels', (request, reply) =>
    sendPage(house, request, reply, labelsPage(book, reachedAt(request))),
  );
  app.post('/setup/labels/addresses', (request, reply) =>
    handlePost(house, request, reply, {
      schema: ADDRESS_FORM,
      write: changeAddress,
      redraw: (typed) => labelsPage(book, reachedAt(request), typed),
    }),
  );

  app.get('/setup/labels/sheets/new', (request, reply) =>
    sendPage(house, request, reply, labelSheetPage(book, whoAsks(house, request), null)),
  );
  app.get('/setup/labels/sheets/:id', (request, reply) =>
    sendPage(house, request, reply, labelSheetPage(book, whoAsks(house, request), idIn(request.params))),
  );
  app.get('/setup/labels/sheets/:id/test', (request, reply) =>
    sendPage(house, request, reply, testPage(book, idIn(request.params))),
  );
  for (const path of ['/setup/labels/sheets', '/setup/labels/sheets/:id']) {
    app.post(path, (request, reply) => {
      const asker = whoAsks(house, request);
      const sheetId = path.endsWith(':id') ? idIn(request.params) : null;
      return handlePost(house, request, reply, {
        schema: sheetForm(asker),
        write: (tx, form) => saveSheet(tx, form, sheetId),
        redraw: (typed) => labelSheetPage(book, asker, sheetId, typed),
      });
    });
  }

  app.get('/setup/labels/runs/new', (request, reply) =>
    sendPage(house, request, reply, runFormPage(book, request.query)),
  );
  app.post('/setup/labels/runs', (request, reply) =>
    handlePost(house, request, reply, {
      schema: RUN_FORM,
      write: startRun,
      redraw: (typed) => runFormPage(book, {}, typed),
    }),
  );
  app.get('/setup/labels/runs/:id', (request, reply) =>
    sendPage(house, request, reply, runPage(book, idIn(request.params), whoAsks(house, request))),
  );

  shortRoutes(app, house);
}

interface OneCode {
  Params: { code: string };
}

/** In capitals, as codes hold them, and in small letters, as somebody types them. */
function shortRoutes(app: FastifyInstance, { book }: House): void {
  for (const letter of ['P', 'p']) {
    app.get<OneCode>(`/${letter}/:code`, (request, reply) => {
      const piece = findPiece(book, request.params.code);
      if (!piece) throw unknown(`piece ${request.params.code.slice(0, 40)}`);
      return reply.redirect(pathOfThing({ kind: 'piece', ...piece }), 303);
    });
  }
  for (const letter of ['D', 'd']) {
    app.get<OneCode>(`/${letter}/:code`, (request, reply) => {
      const batch = findBatch(book, request.params.code);
      if (!batch) throw unknown(`batch ${request.params.code.slice(0, 40)}`);
      return reply.redirect(pathOfThing({ kind: 'batch', ...batch }), 303);
    });
  }
  for (const letter of ['R', 'r']) {
    app.get(`/${letter}/:id`, (request, reply) => {
      const id = idIn(request.params);
      const place = book.first(book.db.selectFrom('place').select('name').where('id', '=', id));
      if (!place) throw unknown('such place');
      return reply.redirect(pathOfThing({ kind: 'place', id, code: place.name }), 303);
    });
  }
}
