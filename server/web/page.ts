import type { FastifyReply, FastifyRequest } from 'fastify';
import { keyIn } from '../kit/request-key.ts';
import { STATUS } from '../refusal.ts';
import { admissionOf, allows } from './admission.ts';
import { type House, shapeShell } from './house.ts';
import { onlyOffered } from './offered.ts';
import type { Page } from './page-frame.ts';
import { renderPage } from './views.ts';

/**
 * Sends a page: the data itself where JSON is asked for, else the view in the layout. A page with problems is that of a
 * refused form, unless its status is given. A browser that sent a form is led to the page by GET.
 */
export function sendPage(
  house: House,
  request: FastifyRequest,
  reply: FastifyReply,
  given: Page,
  status: number = given.problems?.length ? STATUS.invalid : 200,
) {
  const page = underOneKey(house, request, given);
  if (request.method === 'POST' && isNavigation(request)) {
    const rule = request.routeOptions.config.rule ?? 'machine';
    const kept = { page: { saves: true, ...page, ownKey: false }, status, rule };
    return reply.redirect(house.keptPages.keep(kept), 303);
  }
  reply.code(status);
  // The layout says it to people, the header to scripts.
  if (house.book.trouble) reply.header('clothroom-trouble', house.book.trouble.kind);
  if (wantsJson(request)) {
    const problems = page.problems ?? [];
    if (problems.length === 0) return reply.send(page.data);
    return reply.send({ error: { message: problems[0]?.message ?? '', problems }, page: page.data });
  }
  const html = renderPage(page.view, page.data, shapeShell(house, request, page));
  return sendHtml(house, request, reply, html);
}

/** Sends a page with what its reader may do, and nothing else offered. */
export function sendHtml({ door }: House, request: FastifyRequest, reply: FastifyReply, html: string) {
  const admission = admissionOf(door, request);
  const isAllowed = (method: 'GET' | 'POST', path: string) =>
    allows(door.rules.find(method, path) ?? 'open', admission);
  const offered = allows('keeper', admission) ? html : onlyOffered(html, isAllowed);
  // As bytes: a text of this length would be gone through for its length and again for sending.
  return reply.type('text/html; charset=utf-8').send(Buffer.from(offered));
}

/**
 * One form keeps one key through all its steps, so that it is saved once however often one of them is sent again. Its
 * page tells where it was saved already.
 */
function underOneKey(house: House, request: FastifyRequest, page: Page): Page {
  const drawn = requestKeyOf(page);
  if (drawn === null || page.ownKey) return page;
  const key = keyIn(request) ?? drawn;
  const savedBefore = house.book.answerOf(key) ?? null;
  return { ...page, data: { ...page.data, requestKey: key }, savedBefore };
}

/** The request key of a page that is one form; null where it has none, or one a form. */
export function requestKeyOf({ data }: Page): string | null {
  return 'requestKey' in data && typeof data.requestKey === 'string' ? data.requestKey : null;
}

/** True where a browser goes to the answer as a page of its own. */
function isNavigation(request: FastifyRequest): boolean {
  return (request.headers.accept ?? '').includes('text/html') && !isScripted(request);
}

/** True where the asker prefers JSON to HTML. */
export function wantsJson(request: FastifyRequest): boolean {
  const accept = request.headers.accept ?? '';
  return accept.includes('application/json') && !accept.includes('text/html');
}

/** True where a script of the page asks, whether it puts a part of the answer in its place or the whole. */
export function isScripted(request: FastifyRequest): boolean {
  return request.headers['hx-request'] === 'true';
}

/** True where a script of the page replaces a part of it: such a request follows no redirect by itself. */
export function isPartial(request: FastifyRequest): boolean {
  return request.headers['hx-request-type'] === 'partial';
}
