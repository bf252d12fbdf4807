import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Answer, Tx } from '../database/book.ts';
import { readGarment } from '../garments/garment/records.ts';
import { finishGarment, reopenGarment } from '../garments/garment/verbs.ts';
import { findTier } from '../garments/tier/find.ts';
import { putBackTier, takeOutTier } from '../garments/tier/verbs.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { backwardsPage } from './backwards-page.ts';
import { garmentPage } from './garment-page.ts';
import { garmentListPage } from './list-page.ts';
import { bookPage } from './printed-page.ts';

type Coded = { Params: { code: string } };
type OfTier = { Params: { code: string; id: string } };

/** A form of one button has no fields. */
const NO_FIELDS = z.strictObject({});

/** The garments of the workroom and each of them whole: what it needs, what is short, cut and spent. */
export function garmentBookRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get('/garments', (request, reply) =>
    sendPage(house, request, reply, garmentListPage(book, request.query, book.now())),
  );
  app.get<Coded>('/garments/:code', (request, reply) =>
    sendPage(house, request, reply, garmentPage(book, request.params.code, whoAsks(house, request).units)),
  );
  app.get<Coded>('/garments/:code/book', (request, reply) =>
    sendPage(house, request, reply, bookPage(book, request.params.code, whoAsks(house, request))),
  );
  app.get<OfTier>('/garments/:code/tiers/:id/backwards', (request, reply) => {
    const { garment, tier } = findTier(book, request.params);
    const { units } = whoAsks(house, request);
    return sendPage(house, request, reply, backwardsPage(book, garment, tier, units));
  });

  const ofGarment = (name: string, verb: (tx: Tx, code: string) => Answer) =>
    app.post<Coded>(`/garments/:code/${name}`, (request, reply) => {
      const { code } = request.params;
      readGarment(book, code);
      return handlePost(house, request, reply, {
        schema: NO_FIELDS,
        write: (tx) => verb(tx, code),
        redraw: () => garmentPage(book, code, whoAsks(house, request).units),
      });
    });
  ofGarment('finished', finishGarment);
  ofGarment('reopened', reopenGarment);

  const ofTier = (name: string, verb: (tx: Tx, code: string, tierId: number) => Answer) =>
    app.post<OfTier>(`/garments/:code/tiers/:id/${name}`, (request, reply) => {
      const { garment, tier } = findTier(book, request.params);
      return handlePost(house, request, reply, {
        schema: NO_FIELDS,
        write: (tx) => verb(tx, garment.code, tier.id),
        redraw: () => garmentPage(book, garment.code, whoAsks(house, request).units),
      });
    });
  ofTier('taken-out', takeOutTier);
  ofTier('put-back', putBackTier);
}
