import type { FastifyInstance } from 'fastify';
import { placeChoices } from '../kit/choices.ts';
import { type House, whoAsks } from '../web/house.ts';
import { goToKeyedAddress } from '../web/keyed-address.ts';
import { sendPage } from '../web/page.ts';
import { handlePost } from '../web/post.ts';
import { amountRoutes } from './amount-routes.ts';
import { finishBatch, finishForm } from './batch/finish.ts';
import { finishPage } from './batch/finish-page.ts';
import { batchPage } from './batch/page.ts';
import { batchPlanForm, planBatch, vesselChoices } from './batch/plan.ts';
import { batchPlanPage } from './batch/plan-page.ts';
import { cancelBatch, putBatchBack, startBatch } from './batch/verbs.ts';
import { dyeBenchPage } from './overview.ts';
import { logRoutes } from './pot/log-routes.ts';
import { batchBenchPage } from './pot/page.ts';
import { recipeRoutes, typedIn } from './recipe/routes.ts';
import { recordRoutes } from './record/routes.ts';
import { NOTHING_TYPED } from './vessels/vessels.ts';

interface OneBatch {
  Params: { code: string };
}

export function dyeBenchRoutes(app: FastifyInstance, house: House): void {
  app.get('/dye-bench', (request, reply) => {
    const page = dyeBenchPage(house.book, whoAsks(house, request), house.book.now(), request.query);
    return sendPage(house, request, reply, page);
  });
  recipeRoutes(app, house);
  amountRoutes(app, house);
  planRoutes(app, house);
  batchRoutes(app, house);
  finishRoutes(app, house);
  logRoutes(app, house);
  recordRoutes(app, house);
}

function planRoutes(app: FastifyInstance, house: House): void {
  const path = '/dye-bench/batches/new';
  // Works the batch out where the address has what is needed for that; nothing is written.
  app.get(path, (request, reply) => {
    if (goToKeyedAddress(request, reply)) return reply;
    const page = batchPlanPage(house.book, whoAsks(house, request), typedIn(request.query), 'asked');
    return sendPage(house, request, reply, page);
  });
  app.post(path, (request, reply) => {
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: batchPlanForm(asker.units, vesselChoices(house.book)),
      write: (tx, form) => planBatch(tx, form, asker.units),
      redraw: (typed) => batchPlanPage(house.book, asker, typed, 'refused'),
    });
  });
}

function batchRoutes(app: FastifyInstance, house: House): void {
  app.get<OneBatch>('/dye-bench/batches/:code', (request, reply) =>
    sendPage(house, request, reply, batchPage(house.book, request.params.code, whoAsks(house, request))),
  );
  app.get<OneBatch>('/dye-bench/batches/:code/bench', (request, reply) =>
    sendPage(
      house,
      request,
      reply,
      batchBenchPage(
        house.book,
        request.params.code,
        whoAsks(house, request),
        house.book.now(),
        typedIn(request.query),
      ),
    ),
  );
  const changes = { starts: startBatch, cancellations: cancelBatch, returns: putBatchBack };
  for (const [name, change] of Object.entries(changes)) {
    app.post<OneBatch>(`/dye-bench/batches/:code/${name}`, (request, reply) => {
      const { code } = request.params;
      const asker = whoAsks(house, request);
      return handlePost(house, request, reply, {
        schema: NOTHING_TYPED,
        write: (tx) => change(tx, code, asker.units),
        redraw: () => batchPage(house.book, code, asker),
      });
    });
  }
}

function finishRoutes(app: FastifyInstance, house: House): void {
  const path = '/dye-bench/batches/:code/finish';
  app.get<OneBatch>(path, (request, reply) =>
    sendPage(house, request, reply, finishPage(house.book, request.params.code, whoAsks(house, request))),
  );
  app.post<OneBatch>(path, (request, reply) => {
    const { code } = request.params;
    const asker = whoAsks(house, request);
    return handlePost(house, request, reply, {
      schema: finishForm(asker, placeChoices(house.book)),
      write: (tx, form) => finishBatch(tx, code, form, asker.units),
      redraw: (typed) => finishPage(house.book, code, asker, typed),
    });
  });
}
