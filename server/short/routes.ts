import type { FastifyInstance } from 'fastify';
import { deskOf } from '../cut-plans/desk-of.ts';
import { dayOf } from '../kit/when.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { shortPage } from './page.ts';

export function shortRoutes(app: FastifyInstance, house: House): void {
  app.get('/short', (request, reply) => {
    const asked = { units: whoAsks(house, request).units, today: dayOf(house.book.now()) };
    return sendPage(house, request, reply, shortPage(house.book, deskOf(house), request.query, asked));
  });
}
