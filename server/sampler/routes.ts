import type { FastifyInstance } from 'fastify';
import { readWorkroom } from '../kit/workroom.ts';
import { unknown } from '../refusal.ts';
import { answering } from '../web/answering.ts';
import type { House } from '../web/house.ts';
import { samplerPage } from './page.ts';

/** Every part of the pages once, for whoever works on them; the invented workroom alone has it. */
export function samplerRoutes(app: FastifyInstance, house: House): void {
  const { showPage } = answering(app, house);
  showPage('/sampler', ({ query, asker, today }) => {
    if (!readWorkroom(house.book).invented) throw unknown('such page');
    return samplerPage(house.book, query, asker, today);
  });
}
