import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { Refusal, type RefusalKind } from '../refusal.ts';
import type { House } from './house.ts';
import { isPartial, sendPage, wantsJson } from './page.ts';

const TITLES: Record<RefusalKind, string> = {
  invalid: 'Not saved',
  conflict: 'Not saved',
  unknown: 'Not found',
  'not-let-in': 'Not let in',
  'another-person': 'Not saved',
  'not-yours': 'Not yours to do',
  'too-many': 'Too many at once',
  forbidden: 'Turned away',
  misdirected: 'Turned away',
  'too-large': 'Too large',
  unsupported: 'Cannot be read',
  malformed: 'Cannot be read',
  'not-saved': 'Not saved',
  internal: 'A fault in the program',
};

const VIEWS: Record<RefusalKind, string> = {
  invalid: 'errors/conflict',
  conflict: 'errors/conflict',
  unknown: 'errors/unknown',
  'not-let-in': 'errors/not-let-in',
  'another-person': 'errors/conflict',
  'not-yours': 'errors/not-yours',
  'too-many': 'errors/conflict',
  forbidden: 'errors/refused',
  misdirected: 'errors/refused',
  'too-large': 'errors/refused',
  unsupported: 'errors/refused',
  malformed: 'errors/refused',
  'not-saved': 'errors/not-saved',
  internal: 'errors/internal',
};

/** Answers everything that goes wrong, in one place. What is not a Refusal is logged whole and shown as a number. */
export function answerErrors(app: FastifyInstance, house: House): void {
  app.setErrorHandler((error, request, reply) => {
    const refusal = error instanceof Refusal ? error : refusalOf(error);
    if (refusal) return sendRefusal(house, request, reply, refusal, '');
    const reference = randomUUID().slice(0, 8);
    request.log.error({ err: error, reference }, 'internal error');
    const internal = new Refusal(
      'internal',
      `Something went wrong inside the program. Reference ${reference}.`,
    );
    return sendRefusal(house, request, reply, internal, reference);
  });
  app.setNotFoundHandler((request, reply) =>
    sendRefusal(house, request, reply, new Refusal('unknown', 'There is no such page.'), ''),
  );
}

function sendRefusal(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  refusal: Refusal,
  reference: string,
) {
  const { kind, message, problems, wayOn, status } = refusal;
  // A whole page must not land inside the small part that was asked for.
  if (isPartial(request)) reply.header('hx-retarget', 'body').header('hx-push-url', 'false');
  // To a foreign host or site nothing of the workroom is told, not even its name.
  if ((kind === 'misdirected' || kind === 'forbidden') && !wantsJson(request))
    return reply.code(status).type('text/plain; charset=utf-8').send(message);
  const data = { error: { kind, message, problems, wayOn, reference } };
  return sendPage(
    house,
    request,
    reply,
    { title: TITLES[kind], room: null, view: VIEWS[kind], data },
    status,
  );
}

/** The framework's own refusals, by their status. */
function refusalOf(error: unknown): Refusal | null {
  const status = error instanceof Error && 'statusCode' in error ? error.statusCode : undefined;
  if (status === 413) return new Refusal('too-large', 'That is more than a form may hold.');
  if (status === 415) return new Refusal('unsupported', 'The body must be a form or JSON.');
  if (status === 404) return new Refusal('unknown', 'There is no such page.');
  if (typeof status === 'number' && status >= 400 && status < 500) {
    return new Refusal('malformed', 'The request cannot be read.');
  }
  return null;
}
