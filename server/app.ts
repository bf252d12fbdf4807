import cookie from '@fastify/cookie';
import formbody from '@fastify/formbody';
import Fastify, { type FastifyInstance, type FastifyServerOptions } from 'fastify';
import { buyingRoutes } from './buying/routes.ts';
import { byWhenRoutes } from './by-when/routes.ts';
import { copyRoutes } from './copies/routes.ts';
import { costRoutes } from './cost/routes.ts';
import { openPlanning } from './cut-plans/desk.ts';
import { withFallenOut, withPlanWayOn } from './cutting-table/plan/piece-changes.ts';
import { quickRoutes } from './cutting-table/quick/routes.ts';
import { cuttingTableRoutes } from './cutting-table/routes.ts';
import { holdPage } from './cutting-table/tier/hold-page.ts';
import { holdForTier } from './cutting-table/tier/holding.ts';
import type { Book } from './database/book.ts';
import { sayDyeing } from './dye-bench/batch/lot-words.ts';
import { dyeBenchRoutes } from './dye-bench/routes.ts';
import { garmentBookRoutes } from './garment-book/routes.ts';
import { garmentRoutes } from './garments/routes.ts';
import { helpRoutes } from './help/routes.ts';
import { labelRoutes } from './labels/routes.ts';
import { Hasher } from './let-in/hashing.ts';
import { listRoutes } from './lists/routes.ts';
import { type ListenerOptions, NetworkListener } from './network/listener.ts';
import { networkRoutes } from './network/routes.ts';
import { orderRoutes } from './orders/routes.ts';
import { pulseRoutes } from './pulse/routes.ts';
import { samplerRoutes } from './sampler/routes.ts';
import { setupRoutes } from './setup/routes.ts';
import { readingRoutes } from './shelf/colour/routes.ts';
import { ledgerRoutes } from './shelf/ledger/undo-routes.ts';
import { photoRoutes } from './shelf/photo/routes.ts';
import { shelfRoutes } from './shelf/routes.ts';
import { togetherRoutes } from './shelf/together/routes.ts';
import { lengthsWithin, readLengths } from './short/lengths.ts';
import { readNeedOfLots } from './short/lot-choice.ts';
import { readMissing } from './short/missing.ts';
import { shortRoutes } from './short/routes.ts';
import { readNeeded } from './short/spare.ts';
import { SUPPLIES_TOLD } from './short/supplies.ts';
import { supplyRoutes } from './supplies/routes.ts';
import { takeRoutes } from './take/routes.ts';
import { todayRoutes } from './today/routes.ts';
import { unsentRoutes } from './unsent/routes.ts';
import { serveAssets } from './web/assets.ts';
import type { Door } from './web/door.ts';
import { answerErrors } from './web/errors.ts';
import { addGuard, SERVER_LIMITS } from './web/guard.ts';
import type { House } from './web/house.ts';
import { KeptPages } from './web/kept.ts';
import { keptPageRoutes } from './web/kept-pages.ts';
import { Tries } from './web/limits.ts';
import { keepRules } from './web/rule-hook.ts';
import { demandRules, type RoomRules, type RuleBook, ruledRooms } from './web/rules.ts';

/** What differs in tests and by the command line. */
export interface AppOptions extends ListenerOptions {
  readonly hasher?: Hasher;
}

declare module 'fastify' {
  interface FastifyInstance {
    readonly network: NetworkListener;
    readonly rules: RuleBook;
  }
}

/** Wires the rooms of the house to one book. Nothing listens yet. */
export function buildApp(
  book: Book,
  logger: FastifyServerOptions['logger'] = false,
  options: AppOptions = {},
): FastifyInstance {
  const app = Fastify({ ...SERVER_LIMITS, logger });
  const door: Door = {
    book,
    port: () => portOf(app),
    hasher: options.hasher ?? new Hasher(),
    tries: new Tries(),
    rules: demandRules(app),
    served: null,
  };
  const listener = new NetworkListener(app, door, options);
  app.decorate('network', listener);
  app.decorate('rules', door.rules);
  const house: House = { book, port: door.port, keptPages: new KeptPages(), door };
  openPlanning(app, house);
  addGuard(app, door);
  keepRules(app, door);
  app.register(cookie);
  app.register(formbody);
  answerErrors(app, house);
  serveAssets(app);
  // Who may see and do what in a room, where a route says nothing else.
  const hands = { GET: 'hand', POST: 'hand' } as const;
  const keepers = { GET: 'keeper', POST: 'keeper' } as const;
  const shown = { GET: 'hand', POST: 'keeper' } as const;
  const told = {
    withFallenOut,
    withPlanWayOn,
    sayDyeing,
    readNeeded,
    readLengths,
    lengthsWithin,
    readNeedOfLots,
  };
  // Each part of a server costs at its start, so that these rooms share one.
  app.register(async (shared) => {
    const room = ruledRooms(shared);
    room(keepers, (own) => buyingRoutes(own, house));
    room(keepers, (own) => costRoutes(own, house));
    room(keepers, (own) => copyRoutes(own, house));
    room(hands, (own) => cuttingTableRoutes(own, house));
    room(hands, (own) => quickRoutes(own, house));
    room(hands, (own) => dyeBenchRoutes(own, house, { readNeeded, readMissing }));
    room(shown, (own) => byWhenRoutes(own, house));
    room(shown, (own) => garmentBookRoutes(own, house));
    room(shown, (own) => garmentRoutes(own, house));
    room({ GET: 'open', POST: 'hand' }, (own) => keptPageRoutes(own, house));
    room(hands, (own) => labelRoutes(own, house));
    room(hands, (own) => ledgerRoutes(own, house));
    room(keepers, (own) => networkRoutes(own, house, listener));
    room(keepers, (own) => orderRoutes(own, house));
    room(keepers, (own) => setupRoutes(own, house));
    room(hands, (own) => togetherRoutes(own, house, told));
    room(shown, (own) => shelfRoutes(own, house, told));
    room(hands, (own) => shortRoutes(own, house));
    room(hands, (own) => supplyRoutes(own, house, SUPPLIES_TOLD));
    room(hands, (own) => takeRoutes(own, house, { holdForTier, holdPage }));
    room(hands, (own) => todayRoutes(own, house));
    room(hands, (own) => helpRoutes(own, house));
    room(hands, (own) => samplerRoutes(own, house));
    room(hands, (own) => unsentRoutes(own, house));
    room(hands, (own) => pulseRoutes(own, house));
  });
  // These alone take files.
  const apart = (rules: RoomRules, routes: (room: FastifyInstance) => void) =>
    app.register(async (own) => ruledRooms(own)(rules, routes));
  apart(keepers, (own) => listRoutes(own, house, { readNeeded }));
  apart(hands, (own) => photoRoutes(own, house));
  apart(hands, (own) => readingRoutes(own, house));
  return app;
}

function portOf(app: FastifyInstance): number {
  const address = app.server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}
