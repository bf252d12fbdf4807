import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Problem } from '../refusal.ts';
import type { House } from '../web/house.ts';
import { isScripted, sendPage } from '../web/page.ts';
import type { Page } from '../web/page-frame.ts';

/** Sends a form again with what it comes to, or with why that cannot be worked out yet. */
export function sendWorkedOut(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  page: Page,
  problems: readonly Problem[],
) {
  reply.header('hx-push-url', 'false');
  // A script that follows what is typed expects unfinished forms: they are no failure to it.
  const unfinished = problems.length > 0 && !isScripted(request);
  return sendPage(house, request, reply, { ...page, problems, saves: false }, unfinished ? 422 : 200);
}
