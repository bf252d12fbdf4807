import type { FastifyInstance } from 'fastify';
import { queryNumber } from '../../kit/address.ts';
import { placeChoices } from '../../kit/choices.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { cutAtBench, layBenchForm, layBenchPage } from './bench.ts';
import { cutSheetPage } from './cut-sheet.ts';
import { cutLayByForm, layForm, layPage } from './page.ts';

interface OneGarment {
  Params: { code: string; lay: string };
}

/** Cutting the lays that are held for a garment. */
export function layRoutes(app: FastifyInstance, house: House): void {
  const { book } = house;
  app.get<OneGarment>('/cutting-table/:code/bench', (request, reply) =>
    sendPage(house, request, reply, layBenchPage(book, request.params.code, whoAsks(house, request))),
  );
  app.post<OneGarment>('/cutting-table/:code/bench', (request, reply) => {
    const { code } = request.params;
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: layBenchForm(),
      write: (tx, form) => cutAtBench(tx, code, form, asker),
      redraw: () => layBenchPage(book, code, asker),
    });
  });
  app.get<OneGarment>('/cutting-table/:code/lays/:lay', (request, reply) => {
    const { code } = request.params;
    return sendPage(
      house,
      request,
      reply,
      layPage(book, code, queryNumber(request.params, 'lay') ?? 0, whoAsks(house, request)),
    );
  });
  app.post<OneGarment>('/cutting-table/:code/lays/:lay', (request, reply) => {
    const { code } = request.params;
    const layId = queryNumber(request.params, 'lay') ?? 0;
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: layForm(asker.units, placeChoices(book)),
      write: (tx, form) => cutLayByForm(tx, code, layId, form, asker),
      redraw: (typed) => layPage(book, code, layId, asker, typed),
    });
  });
  app.get<OneGarment>('/cutting-table/:code/sheet', (request, reply) =>
    sendPage(house, request, reply, cutSheetPage(book, request.params.code, whoAsks(house, request))),
  );
}
