import type { FastifyInstance } from 'fastify';
import { deskOf } from '../cut-plans/desk.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { shortPage } from './page.ts';

export function shortRoutes(app: FastifyInstance, house: House): void {
  answering(app, house).showPage('/short', ({ asker: { units, seesPrices }, today, query }) =>
    shortPage(house.book, deskOf(house), query, { units, seesPrices, today }),
  );
}
