import type { FastifyReply, FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Answer, Tx } from '../database/book.ts';
import { isKey } from '../kit/request-key.ts';
import type { Typed } from '../kit/typed.ts';
import { allInvalid, type Problem, Refusal } from '../refusal.ts';
import { doneAtOf, refuseOthersWork } from './bench-work.ts';
import { readBody } from './body.ts';
import { type Asker, type House, whoAsks } from './house.ts';
import { isPartial, sendPage, wantsJson } from './page.ts';
import type { Page } from './page-frame.ts';

/** What a form does: how it is read, what it writes, and the page that shows it again when it is refused. */
export interface PostedForm<T> {
  readonly schema: z.ZodType<T>;
  write(tx: Tx, form: T, asker: Asker): Answer;
  redraw(typed: Typed): Page;
  /** when it was done, where the form itself says that it is told late */
  readonly doneAt?: string;
  /** what is begun once it is written; the answer waits for it */
  after?(): Promise<void>;
}

/**
 * Carries out a form: reads it, collects every problem, writes it in one transaction, and goes on to the page
 * that shows the outcome. Refused, it draws the form again with what was typed; nothing is lost or half-written.
 */
export function handlePost<T>(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  form: PostedForm<T>,
) {
  const { body, typed } = readBody(request.body);
  try {
    const { request_key: key, ...asked } = body;
    const read = readForm(form.schema, asked);
    const asker = whoAsks(house, request);
    const sentKey = readKey(key);
    refuseOthersWork(house, sentKey, asker);
    const answer = house.book.write(
      {
        key: sentKey,
        asked: { path: pathOf(request), asked },
        personId: asker.personId,
        deviceId: asker.deviceId,
        doneAt: form.doneAt ?? doneAtOf(request, house.book.now()),
      },
      (tx) => form.write(tx, read, asker),
    );
    if (form.after) return form.after().then(() => goOn(request, reply, answer, String(key)));
    return goOn(request, reply, answer, String(key));
  } catch (error) {
    if (!(error instanceof Refusal) || (error.kind !== 'invalid' && error.kind !== 'conflict')) throw error;
    const page = form.redraw(typed);
    // The key that was sent is used up by what it saved: what is sent now, after this was told, is a further one.
    const ownKey = error.kind === 'conflict' && house.book.answerOf(String(body.request_key)) !== undefined;
    const sentForm =
      ownKey || !isKey(body.request_key) ? null : { path: pathOf(request), key: body.request_key };
    reply.header('hx-push-url', 'false');
    return sendPage(
      house,
      request,
      reply,
      { ...page, problems: error.problems, wayOn: error.wayOn, ownKey, sentForm },
      error.status,
    );
  }
}

/** Reads a body by a schema. @throws {Refusal} invalid with every problem at once */
export function readForm<T>(schema: z.ZodType<T>, body: unknown): T {
  const result = schema.safeParse(body);
  if (result.success) return result.data;
  const problems: Problem[] = result.error.issues.map((issue) => ({
    field: issue.path.join('.'),
    message:
      issue.code === 'unrecognized_keys'
        ? `There is no field ${issue.keys.join(', ')} here: leave it out.`
        : issue.message,
  }));
  throw allInvalid(problems);
}

/** Where a request came to: its own page, which tells once what was done. */
export function goOn(request: FastifyRequest, reply: FastifyReply, answer: Answer, key: string) {
  if (wantsJson(request)) return reply.code(200).send({ ...answer, request_key: key });
  const target = withDone(answer.location, key);
  if (isPartial(request)) return reply.code(200).header('hx-location', target).send();
  return reply.redirect(target, 303);
}

function withDone(location: string, key: string): string {
  const [path = '/', fragment] = location.split('#');
  const joined = `${path}${path.includes('?') ? '&' : '?'}done=${encodeURIComponent(key)}`;
  return fragment === undefined ? joined : `${joined}#${fragment}`;
}

/** @throws {Refusal} invalid */
export function readKey(key: unknown): string {
  if (isKey(key)) return key;
  throw new Refusal('invalid', 'The form has no request key.', [
    {
      field: '',
      message:
        'The form has no request key. Open the form again; a script sends a request_key of its own, 8 to 80 letters, digits, - or _, new for every change.',
    },
  ]);
}

function pathOf(request: FastifyRequest): string {
  return request.url.split('?')[0] ?? request.url;
}
