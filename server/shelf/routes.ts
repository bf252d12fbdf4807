import type { FastifyInstance } from 'fastify';
import { queryText } from '../kit/address.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { clothRoutes } from './cloth/routes.ts';
import { ledgerPage } from './ledger/page.ts';
import { lotColourForm, recordLotColour } from './lot/colour.ts';
import { lotPage } from './lot/page.ts';
import { otherUseRoutes } from './piece/other-use-routes.ts';
import { pieceRoutes } from './piece/routes.ts';
import { placeListPage } from './places/list-page.ts';
import { placeRoutes } from './places/routes.ts';
import { receiveRoutes } from './receive/routes.ts';
import { shadeRoutes } from './shade/routes.ts';
import { findByCode, findPage } from './stock/find-page.ts';
import { stockPage } from './stock/page.ts';
import type { ShelfTold } from './told.ts';

/** The shelf: what is on it, and everything that describes it. */
export function shelfRoutes(app: FastifyInstance, house: House, told: ShelfTold): void {
  const { book } = house;
  app.get('/shelf', (request, reply) => {
    const { page, status } = stockPage(book, request.query, whoAsks(house, request));
    return sendPage(house, request, reply, page, status);
  });
  app.get('/find', (request, reply) => {
    const code = queryText(request.query, 'code').slice(0, 60);
    const found = findByCode(book, code);
    if (found) return reply.redirect(found, 303);
    return sendPage(house, request, reply, findPage(book, code), 404);
  });
  app.get<{ Params: { code: string } }>('/shelf/lots/:code', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      lotPage(book, request.params.code, request.query, whoAsks(house, request), told),
    ),
  );
  app.post<{ Params: { code: string } }>('/shelf/lots/:code/colour', (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: lotColourForm(),
      write: (tx, form) => recordLotColour(tx, code, form),
      redraw: (typed) => lotPage(book, code, request.query, whoAsks(house, request), told, typed),
    });
  });
  app.get('/shelf/by-place', (request, reply) =>
    sendPage(house, request, reply, placeListPage(book, whoAsks(house, request))),
  );
  app.get('/shelf/ledger', (request, reply) =>
    sendPage(house, request, reply, ledgerPage(book, request.query, whoAsks(house, request))),
  );
  for (const routes of [receiveRoutes, clothRoutes, shadeRoutes, placeRoutes]) routes(app, house);
  pieceRoutes(app, house, told);
  otherUseRoutes(app, house);
}
