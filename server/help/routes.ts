import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { HELP_PATH, helpPage } from './page.ts';

/** A page of help for each room; what belongs to none is helped as Today is. */
export function helpRoutes(app: FastifyInstance, house: House): void {
  const { showPage } = answering(app, house);
  showPage(HELP_PATH, () => helpPage('today'));
  showPage(`${HELP_PATH}/:room`, ({ params }) => helpPage(params.room));
}
