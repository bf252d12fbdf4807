import type { FastifyInstance } from 'fastify';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { readGarment } from '../garment/records.ts';
import { comparePage } from './compare-page.ts';
import { copyPage } from './copy-page.ts';
import { COPY, copyGarment } from './duplicate.ts';
import { versionsPage } from './page.ts';

type Coded = { Params: { code: string } };

/** The versions of a garment, two of them compared, and its copies. */
export function versionRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;

  app.get<Coded>('/garments/:code/versions', (request, reply) => {
    const { units } = whoAsks(house, request);
    return sendPage(house, request, reply, versionsPage(book, request.params.code, request.query, units));
  });
  app.get<Coded>('/garments/:code/versions/compare', (request, reply) => {
    const { units } = whoAsks(house, request);
    return sendPage(house, request, reply, comparePage(book, request.params.code, request.query, units));
  });

  app.get<Coded>('/garments/:code/copies', (request, reply) =>
    sendPage(house, request, reply, copyPage(readGarment(book, request.params.code), null)),
  );
  app.post<Coded>('/garments/:code/copies', (request, reply) => {
    const garment = readGarment(book, request.params.code);
    return handlePost(house, request, reply, {
      schema: COPY,
      write: (tx, form) => copyGarment(tx, garment.code, form),
      redraw: (typed) => copyPage(garment, typed),
    });
  });
}
