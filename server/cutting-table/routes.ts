import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import { queryNumber, queryText } from '../kit/address.ts';
import { placeChoices } from '../kit/choices.ts';
import { type Asker, type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import type { Page } from '../web/page-frame.ts';
import { handlePost } from '../web/post.ts';
import { layRoutes } from './lay/routes.ts';
import { cuttingTablePage } from './overview.ts';
import { planRoutes } from './plan/routes.ts';
import { benchForm, benchPage, cutDrop } from './tier/bench.ts';
import { cutByForm, cutForm } from './tier/cut-form.ts';
import { cutListPage } from './tier/cut-list.ts';
import { type AskedCutPage, cutPage } from './tier/cut-page.ts';
import { holdPage, releasePage } from './tier/hold-page.ts';
import { holdForm, holdForTier, releaseAll, releaseForm, releaseForTier } from './tier/holding.ts';
import { readTierId } from './tier/table.ts';

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
  pieceRoutes(app, house, 'holds', { schema: holdForm, page: holdPage, write: holdForTier });
  pieceRoutes(app, house, 'releases', { schema: releaseForm, page: releasePage, write: releaseForTier });
  releaseAllRoute(app, house);
  pieceRoutes(app, house, 'cuts', {
    schema: (units) => cutForm(units, placeChoices(house.book)),
    page: cutPage,
    write: cutByForm,
  });
  benchRoutes(app, house);
  layRoutes(app, house);
  planRoutes(app, house);
}

/** A form for a piece: what it asks, its page, which is drawn again where it is refused, and what it writes. */
interface PieceForm<T> {
  schema(units: Units): z.ZodType<T>;
  page(reader: Reader, code: string, tierId: number, asker: Asker, asked: AskedCutPage): Page;
  write(tx: Tx, code: string, tierId: number, form: T, asker: Asker): Answer;
}

function pieceRoutes<T>(app: FastifyInstance, house: House, name: string, form: PieceForm<T>): void {
  const path = `/cutting-table/:code/:tier/${name}`;
  app.get<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const page = form.page(house.book, code, tierId, whoAsks(house, request), askedIn(request));
    return sendPage(house, request, reply, page);
  });
  app.post<OneTier>(path, (request, reply) => {
    const { code, tierId } = tierIn(request);
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: form.schema(asker.units),
      write: (tx, read) => form.write(tx, code, tierId, read, asker),
      redraw: (typed) => form.page(house.book, code, tierId, asker, { ...askedIn(request), typed }),
    });
  });
}

function releaseAllRoute(app: FastifyInstance, house: House): void {
  app.post<OneTier>('/cutting-table/:code/:tier/releases/all', (request, reply) => {
    const { code, tierId } = tierIn(request);
    return handlePost(house, request, reply, {
      schema: z.strictObject({}),
      write: (tx) => releaseAll(tx, code, tierId),
      redraw: () => cutListPage(house.book, code, tierId, whoAsks(house, request)),
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

function askedIn(request: FastifyRequest): AskedCutPage {
  return {
    piece: queryText(request.query, 'piece').slice(0, 40),
    strips: queryNumber(request.query, 'strips'),
    back: queryText(request.query, 'back') === 'bench' ? 'bench' : '',
  };
}
