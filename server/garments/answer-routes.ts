import type { FastifyInstance } from 'fastify';
import { readBody } from '../web/body.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { quickBandPage } from './quick-band.ts';

/** What a maker asks of a garment besides its strips, and the band without a garment. */
export function answerRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  // The whole question stands in the address, so that an answer can be kept: nothing is written.
  app.get('/garments/quick', (request, reply) => {
    const { typed } = readBody(request.query);
    const { page, status } = quickBandPage(book, typed, whoAsks(house, request));
    return sendPage(house, request, reply, page, status);
  });
}
