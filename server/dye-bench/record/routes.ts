import type { FastifyInstance } from 'fastify';
import type { z } from 'zod';
import type { Answer, Tx } from '../../database/book.ts';
import { type House, whoAsks } from '../../web/house.ts';
import { sendPage } from '../../web/page.ts';
import { handlePost } from '../../web/post.ts';
import { batchPlanForm, vesselChoices } from '../batch/plan.ts';
import { repeatBatch, repeatPage } from '../batch/repeat-page.ts';
import { tagPage } from '../batch/tag-page.ts';
import { ADDITION, additionPage, addToBatch } from '../pot/addition-page.ts';
import { NOTE } from '../pot/log-forms.ts';
import { logNote } from '../pot/log-verbs.ts';
import { typedIn } from '../recipe/routes.ts';
import { judgeShade, keepSwatch, RESULT, SWATCH } from './forms.ts';
import { recordPage } from './page.ts';

interface OneBatch {
  Params: { code: string };
}

/** What is kept of a batch beside its log, what is printed of it, and what follows from it. */
export function recordRoutes(app: FastifyInstance, house: House): void {
  const path = '/dye-bench/batches/:code';
  app.get<OneBatch>(`${path}/record`, (request, reply) =>
    sendPage(house, request, reply, recordPage(house.book, request.params.code, whoAsks(house, request))),
  );
  app.get<OneBatch>(`${path}/tag`, (request, reply) =>
    sendPage(house, request, reply, tagPage(house.book, request.params.code, whoAsks(house, request))),
  );
  const kept = <T>(name: string, schema: z.ZodType<T>, write: (tx: Tx, code: string, form: T) => Answer) => {
    app.post<OneBatch>(`${path}/${name}`, (request, reply) => {
      const { code } = request.params;
      const asker = whoAsks(house, request);
      return handlePost(house, request, reply, {
        schema,
        write: (tx, form) => write(tx, code, form),
        redraw: (typed) => recordPage(house.book, code, asker, typed),
      });
    });
  };
  kept('results', RESULT, judgeShade);
  kept('swatches', SWATCH, keepSwatch);
  kept('notes', NOTE, (tx, code, { note }) => logNote(tx, code, note));
  additionRoutes(app, house, `${path}/addition`);
  repeatRoutes(app, house, `${path}/repeat`);
}

function additionRoutes(app: FastifyInstance, house: House, path: string): void {
  app.get<OneBatch>(path, (request, reply) => {
    const page = additionPage(house.book, request.params.code, typedIn(request.query));
    return sendPage(house, request, reply, page);
  });
  app.post<OneBatch>(path, (request, reply) => {
    const { code } = request.params;
    return handlePost(house, request, reply, {
      schema: ADDITION,
      write: (tx, form) => addToBatch(tx, code, form),
      redraw: (typed) => additionPage(house.book, code, typed, 'refused'),
    });
  });
}

function repeatRoutes(app: FastifyInstance, house: House, path: string): void {
  app.get<OneBatch>(path, (request, reply) => {
    const asker = whoAsks(house, request);
    const page = repeatPage(house.book, request.params.code, asker, typedIn(request.query), 'asked');
    return sendPage(house, request, reply, page);
  });
  app.post<OneBatch>(path, (request, reply) => {
    const { code } = request.params;
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: batchPlanForm(asker.units, vesselChoices(house.book)),
      write: (tx, form) => repeatBatch(tx, code, form, asker),
      redraw: (typed) => repeatPage(house.book, code, asker, typed, 'refused'),
    });
  });
}
