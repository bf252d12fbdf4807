import type { FastifyInstance } from 'fastify';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { takePage } from './page.ts';

/** TakeQuestion by its address alone, so that a question can be kept; what is taken is taken of the piece. */
export function takeRoutes(app: FastifyInstance, house: House): void {
  answering(app, house).showPage('/take', ({ asker, typedInAddress }) =>
    takePage(house.book, asker, typedInAddress),
  );
}
