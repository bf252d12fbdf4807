import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { queryNumber, queryText } from '../shelf/address.ts';
import { placeChoices } from '../shelf/choices.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { benchForm, benchPage, cutDrop } from './bench.ts';
import { cutByForm, cutForm } from './cut-form.ts';
import { cutListPage } from './cut-list.ts';
import { cutPage } from './cut-page.ts';
import { holdPage, releasePage } from './hold-page.ts';
import { holdForm, holdForTier, releaseAll, releaseForm, releaseForTier } from './holding.ts';
import { layRoutes } from './lay-routes.ts';
import { cuttingTablePage } from './overview.ts';
import { planRoutes } from './plan-routes.ts';
import { readTierId } from './table.ts';

interface OneTier {
  Params: { code: string; tier: string };
}

export function cuttingTableRoutes(app: FastifyInstance, house: House): void {
  app.get('/cutting-table', (request, reply) =>
    sendPage(house, request, reply, cuttingTablePage(house.book, house.book.now())),
  );
  app.get<OneTier>('/cutting-table/:code/:tier', (request, reply) => {
    const { code, tierId } = tierIn(request);
    return sendPage(house, request, reply, cutListPage(house.book, code, tierId, whoAsks(house, request)));
  });
  holdRoutes(app, house);
  releaseRoutes(app, house);
  cutRoutes(app, house);
  benchRoutes(app, house);
  layRoutes(app, house);
  planRoutes(app, house);
}

function holdRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/:tier/holds';
  app.get<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const page = holdPage(house.book, code, tierId, whoAsks(house, request), pieceIn(request));
    return sendPage(house, request, reply, page);
  });
  app.post<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: holdForm(asker.units),
      write: (tx, form) => holdForTier(tx, code, tierId, form, asker),
      redraw: (typed) => holdPage(house.book, code, tierId, asker, { ...pieceIn(request), typed }),
    });
  });
}

function releaseRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/:tier/releases';
  app.get<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const page = releasePage(house.book, code, tierId, whoAsks(house, request), pieceIn(request));
    return sendPage(house, request, reply, page);
  });
  app.post<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: releaseForm(asker.units),
      write: (tx, form) => releaseForTier(tx, code, tierId, form, asker),
      redraw: (typed) => releasePage(house.book, code, tierId, asker, { ...pieceIn(request), typed }),
    });
  });
  app.post<OneTier>(`${path}/all`, (request, reply) => {
    const { code, tierId } = tierIn(request);
    return handlePost(house, request, reply, {
      schema: z.strictObject({}),
      write: (tx) => releaseAll(tx, code, tierId),
      redraw: () => cutListPage(house.book, code, tierId, whoAsks(house, request)),
    });
  });
}

function cutRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/:tier/cuts';
  const asked = (request: FastifyRequest) => ({
    ...pieceIn(request),
    strips: queryNumber(request.query, 'strips'),
    back: queryText(request.query, 'back') === 'bench' ? 'bench' : '',
  });
  app.get<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const page = cutPage(house.book, code, tierId, whoAsks(house, request), asked(request));
    return sendPage(house, request, reply, page);
  });
  app.post<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: cutForm(asker.units, placeChoices(house.book)),
      write: (tx, form) => cutByForm(tx, code, tierId, form, asker),
      redraw: (typed) => cutPage(house.book, code, tierId, asker, { ...asked(request), typed }),
    });
  });
}

function benchRoutes(app: FastifyInstance, house: House): void {
  const path = '/cutting-table/:code/:tier/bench';
  app.get<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    return sendPage(house, request, reply, benchPage(house.book, code, tierId, whoAsks(house, request)));
  });
  app.post<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: benchForm(),
      write: (tx, form) => cutDrop(tx, code, tierId, form, asker),
      redraw: () => benchPage(house.book, code, tierId, asker),
    });
  });
}

function tierIn(request: FastifyRequest<OneTier>): { code: string; tierId: number } {
  return { code: request.params.code, tierId: readTierId(request.params.tier) };
}

function pieceIn(request: FastifyRequest): { piece: string } {
  return { piece: queryText(request.query, 'piece').slice(0, 40) };
}
