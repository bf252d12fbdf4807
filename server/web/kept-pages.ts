import type { FastifyInstance } from 'fastify';
import type { House } from './house.ts';
import { requestKeyOf, sendPage } from './page.ts';

export function keptPageRoutes(app: FastifyInstance, house: House): void {
  app.get<{ Params: { token: string } }>('/forms/:token', (request, reply) => {
    const { page, status } = house.keptPages.read(request.params.token);
    const key = requestKeyOf(page);
    const savedSince = !page.savedBefore && key !== null && house.book.answerOf(key) !== undefined;
    if (savedSince) return sendPage(house, request, reply, { ...page, problems: [] }, 200);
    return sendPage(house, request, reply, page, status);
  });
}
