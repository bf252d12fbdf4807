import supertest from 'supertest';
import { seedDemo } from '../../seed-demo/seed.ts';
import { buildApp } from '../../server/app.ts';
import type { Book } from '../../server/database/book.ts';
import { openTestBook } from '../server/support.ts';

/** Noon of an ordinary day, by the clock on the wall. */
export const NOON = new Date(2026, 2, 2, 12, 0);

export interface DemoBook {
  readonly book: Book;
  close(): void;
}

/** A book of its own with the invented workroom as of `now`. */
export async function openDemo(now = NOON): Promise<DemoBook> {
  const opened = await openTestBook(() => now);
  seedDemo(opened.book, now);
  return opened;
}

export interface DemoHouse extends DemoBook {
  /** every page that the app answers, as its route is written */
  readonly routes: readonly string[];
  /** where it answers */
  readonly origin: string;
  get(path: string, accept: string): supertest.Test;
  shut(): Promise<void>;
}

/** The demo served, and the list of its pages as the app registered them. */
export async function openDemoHouse(): Promise<DemoHouse> {
  const demo = await openDemo();
  const app = buildApp(demo.book);
  const routes: string[] = [];
  app.addHook('onRoute', ({ method, url }) => {
    if (method === 'GET') routes.push(url);
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  const address = app.server.address();
  if (typeof address !== 'object' || address === null) throw new Error('the server has no address');
  const origin = `http://127.0.0.1:${address.port}`;
  const agent = supertest(origin);
  return {
    ...demo,
    routes,
    origin,
    get: (path, accept) => agent.get(path).set('Accept', accept),
    async shut() {
      await app.close();
      demo.close();
    },
  };
}
