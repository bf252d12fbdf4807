import type { FastifyInstance } from 'fastify';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { todayPage } from './page.ts';

export function todayRoutes(app: FastifyInstance, house: House): void {
  app.get('/', (request, reply) =>
    sendPage(house, request, reply, todayPage(house.book, whoAsks(house, request))),
  );
}
