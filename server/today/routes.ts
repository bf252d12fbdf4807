import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { todayPage } from './page.ts';

export function todayRoutes(app: FastifyInstance, house: House): void {
  answering(app, house).showPage('/', ({ asker }) => todayPage(house.book, asker));
}
