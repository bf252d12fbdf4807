import type supertest from 'supertest';
import { seedDemo } from '../../seed-demo/seed.ts';
import { buildApp } from '../../server/app.ts';
import { keptConnection, openTestBook, type TestBook } from '../server/support.ts';

/** Noon of an ordinary day, by the clock on the wall. */
export const NOON = new Date(2026, 2, 2, 12, 0);

const told = new Map<number, Buffer>();

/**
 * A book of its own with the invented workroom as of an instant. The story is told once a worker, which takes most of the time;
 * `clock` is of the book, and may go on.
 */
export async function openDemo(now = NOON, clock = () => now): Promise<TestBook> {
  const bytes = told.get(now.getTime()) ?? (await tell(now));
  told.set(now.getTime(), bytes);
  return openTestBook(clock, bytes);
}

async function tell(now: Date): Promise<Buffer> {
  const { book, close } = await openTestBook(() => now);
  seedDemo(book, now);
  const bytes = book.connection.serialize();
  close();
  return bytes;
}

export interface DemoHouse extends TestBook {
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
  const { get, hangUp } = keptConnection(origin);
  return {
    ...demo,
    routes,
    origin,
    get: (path, accept) => get(path).set('Accept', accept),
    async shut() {
      hangUp();
      await app.close();
      demo.close();
    },
  };
}
