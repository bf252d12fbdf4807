import type { FastifyInstance } from 'fastify';
import { deskOf } from '../cutting-table/plan/desk-of.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { shortPage } from './page.ts';

export function shortRoutes(app: FastifyInstance, house: House): void {
  app.get('/short', (request, reply) => {
    const { units } = whoAsks(house, request);
    return sendPage(house, request, reply, shortPage(house.book, deskOf(house), request.query, units));
  });
}
