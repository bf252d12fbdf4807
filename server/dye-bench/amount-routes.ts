import type { FastifyInstance } from 'fastify';
import type { House } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { readWorkroom } from '../workroom.ts';
import { quickPage } from './quick-page.ts';
import { typedIn } from './recipe-routes.ts';

/** The quick bath, the workroom's dyes, and what its balance can do. */
export function amountRoutes(app: FastifyInstance, house: House): void {
  app.get('/dye-bench/quick', (request, reply) => {
    const page = quickPage(typedIn(request.query), readWorkroom(house.book).balanceMg);
    const refused = page.problems !== undefined && page.problems.length > 0;
    return sendPage(house, request, reply, page, refused ? 422 : 200);
  });
}
