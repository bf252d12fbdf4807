import type { FastifyInstance } from 'fastify';
import { admissionOf, allows } from './admission.ts';
import { wayOf } from './door.ts';
import type { House } from './house.ts';
import { requestKeyOf, sendPage } from './page.ts';
import { refusalFor } from './rule-hook.ts';

export function keptPageRoutes(app: FastifyInstance, house: House): void {
  app.get<{ Params: { token: string } }>('/forms/:token', (request, reply) => {
    const { page, status, rule } = house.keptPages.read(request.params.token);
    const admission = admissionOf(house.door, request);
    if (!allows(rule, admission)) throw refusalFor(rule, admission, wayOf(request));
    const key = requestKeyOf(page);
    const savedSince = !page.savedBefore && key !== null && house.book.answerOf(key) !== undefined;
    if (savedSince) return sendPage(house, request, reply, { ...page, problems: [] }, 200);
    return sendPage(house, request, reply, page, status);
  });
}
