import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance, type FastifyServerOptions } from 'fastify';
import { buyingRoutes } from './buying/routes.ts';
import { costRoutes } from './cost/routes.ts';
import { openPlanning } from './cut-plans/desk.ts';
import { withFallenOut, withPlanWayOn } from './cutting-table/plan/piece-changes.ts';
import { quickRoutes } from './cutting-table/quick/routes.ts';
import { cuttingTableRoutes } from './cutting-table/routes.ts';
import type { Book } from './database/book.ts';
import { sayDyeing } from './dye-bench/batch/lot-words.ts';
import { dyeBenchRoutes } from './dye-bench/routes.ts';
import { garmentBookRoutes } from './garment-book/routes.ts';
import { garmentRoutes } from './garments/routes.ts';
import { labelRoutes } from './labels/routes.ts';
import { listRoutes } from './lists/routes.ts';
import { orderRoutes } from './orders/routes.ts';
import { setupRoutes } from './setup/routes.ts';
import { ledgerRoutes } from './shelf/ledger/undo-routes.ts';
import { shelfRoutes } from './shelf/routes.ts';
import { lengthsWithin, readLengths } from './short/lengths.ts';
import { shortRoutes } from './short/routes.ts';
import { readNeeded } from './short/spare.ts';
import { takeRoutes } from './take/routes.ts';
import { todayRoutes } from './today/routes.ts';
import { serveAssets } from './web/assets.ts';
import { answerErrors } from './web/errors.ts';
import { addGuard, SERVER_LIMITS } from './web/guard.ts';
import type { House } from './web/house.ts';
import { KeptPages } from './web/kept.ts';
import { keptPageRoutes } from './web/kept-pages.ts';

/** Wires the rooms of the house to one book. Nothing listens yet. */
export function buildApp(book: Book, logger: FastifyServerOptions['logger'] = false): FastifyInstance {
  const app = Fastify({ ...SERVER_LIMITS, logger });
  const house: House = { book, port: () => portOf(app), keptPages: new KeptPages() };
  openPlanning(app, house);
  addGuard(app, house.port);
  app.register(cookie);
  app.register(formbody);
  answerErrors(app, house);
  serveAssets(app);
  for (const routes of [
    buyingRoutes,
    costRoutes,
    cuttingTableRoutes,
    quickRoutes,
    garmentBookRoutes,
    garmentRoutes,
    keptPageRoutes,
    labelRoutes,
    ledgerRoutes,
    orderRoutes,
    setupRoutes,
    shortRoutes,
    takeRoutes,
    todayRoutes,
  ])
    app.register(async (room) => routes(room, house));
  app.register(async (room) => dyeBenchRoutes(room, house, { readNeeded }));
  app.register(async (room) => listRoutes(room, house, { readNeeded }));
  app.register(async (room) =>
    shelfRoutes(room, house, {
      withFallenOut,
      withPlanWayOn,
      sayDyeing,
      readNeeded,
      readLengths,
      lengthsWithin,
    }),
  );
  return app;
}

function portOf(app: FastifyInstance): number {
  const address = app.server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}
