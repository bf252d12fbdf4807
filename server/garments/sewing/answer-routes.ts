import type { FastifyInstance } from 'fastify';
import { readBody } from '../../web/body.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { quickBandPage } from '../quick/band.ts';
import { surplusPage } from '../quick/surplus.ts';
import { findTier } from '../tier/find.ts';
import { sewingPage } from './page.ts';
import { chooseThread, threadForm } from './thread.ts';

type OfGarment = { Params: { code: string } };
type OfTier = { Params: { code: string; id: string } };

/** What a maker asks of a garment besides its strips, and the band without a garment. */
export function answerRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  // The whole question stands in the address, so that an answer can be kept: nothing is written.
  app.get('/garments/quick', (request, reply) => {
    const { typed } = readBody(request.query);
    return sendPage(house, request, reply, quickBandPage(book, typed, whoAsks(house, request)));
  });

  app.get('/garments/quick/surplus', (request, reply) => {
    const { typed } = readBody(request.query);
    return sendPage(house, request, reply, surplusPage(typed, whoAsks(house, request)));
  });

  app.get<OfGarment>('/garments/:code/sewing', (request, reply) =>
    sendPage(house, request, reply, sewingPage(book, request.params.code, whoAsks(house, request).units)),
  );
  app.post<OfTier>('/garments/:code/tiers/:id/thread', (request, reply) => {
    const { garment, tier } = findTier(book, request.params);
    return handlePost(house, request, reply, {
      schema: threadForm(book),
      write: (tx, form) => chooseThread(tx, garment.code, tier.id, form),
      redraw: () => sewingPage(book, garment.code, whoAsks(house, request).units),
    });
  });
}
