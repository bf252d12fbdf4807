import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Refusal } from '../refusal.ts';
import { readShopStepTicks } from '../setup/rate-store.ts';
import { readBody, type Typed, withoutKey } from '../web/body.ts';
import { type House, whoAsks } from '../web/house.ts';
import { sendPage } from '../web/page.ts';
import { plannerOf } from './plan/desk-of.ts';
import type { Planner } from './plan/planner.ts';
import { askQuick } from './quick-answer.ts';
import { readQuick } from './quick-form.ts';
import { quickPage } from './quick-page.ts';
import { quickResult } from './quick-result.ts';

const PATH = '/cutting-table/quick';

/** The quick plan: typed pieces and strips, nothing of the book. It writes nothing, so that its form has no request key. */
export function quickRoutes(app: FastifyInstance, house: House): void {
  app.get(PATH, (request, reply) =>
    sendPage(house, request, reply, quickPage({}, whoAsks(house, request).units, null)),
  );
  app.post(PATH, (request, reply) => answerQuick(house, request, reply, plannerOf(house)));
}

async function answerQuick(house: House, request: FastifyRequest, reply: FastifyReply, planner: Planner) {
  const { units } = whoAsks(house, request);
  const { body, typed } = readBody(request.body);
  if (typed.act?.startsWith('more-')) return sendPage(house, request, reply, quickPage(typed, units, null));
  try {
    const asked = readQuick(withoutKey(body), units);
    const shopStepTicks = readShopStepTicks(house.book, units.system);
    const answer = await askQuick(planner, asked, shopStepTicks, goneSignal(reply));
    return sendPage(house, request, reply, quickPage(typed, units, quickResult(asked, answer, units)));
  } catch (error) {
    return sendRefused(house, request, reply, typed, error);
  }
}

/** Aborts when whoever asked has gone: the page was closed or its loading stopped. */
function goneSignal(reply: FastifyReply): AbortSignal {
  const gone = new AbortController();
  reply.raw.once('close', () => {
    if (!reply.raw.writableEnded) gone.abort();
  });
  return gone.signal;
}

function sendRefused(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  typed: Typed,
  error: unknown,
) {
  if (!(error instanceof Refusal) || (error.kind !== 'invalid' && error.kind !== 'not-saved')) throw error;
  const page = quickPage(typed, whoAsks(house, request).units, null, error.problems);
  return sendPage(house, request, reply, page, error.status);
}
