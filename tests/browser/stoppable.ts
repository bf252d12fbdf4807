import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../server/app.ts';
import { newKey, openTestBook, type TestHouse } from '../server/support.ts';

/** A book that is served at one address, stopped, and served there again. */
export interface Stoppable {
  readonly book: TestHouse['book'];
  readonly write: TestHouse['write'];
  readonly origin: string;
  stop(): Promise<void>;
  serve(): Promise<void>;
  /** Sends a form as a script does, by whoever works at the machine. */
  send(path: string, fields: Record<string, string>): Promise<{ status: number; body: unknown }>;
  shut(): Promise<void>;
}

export async function openStoppable(clock?: () => Date): Promise<Stoppable> {
  const opened = await openTestBook(clock ?? (() => new Date()));
  let app: FastifyInstance | null = null;
  let port = 0;
  const serve = async () => {
    app = buildApp(opened.book);
    await app.listen({ host: '127.0.0.1', port });
    const address = app.server.address();
    port = typeof address === 'object' && address !== null ? address.port : 0;
  };
  const stop = async () => {
    app?.server.closeAllConnections();
    await app?.close();
    app = null;
  };
  await serve();
  const origin = `http://127.0.0.1:${port}`;
  return {
    book: opened.book,
    write: opened.write,
    origin,
    serve,
    stop,
    async send(path, fields) {
      const answer = await fetch(origin + path, {
        method: 'POST',
        headers: { origin, accept: 'application/json' },
        body: new URLSearchParams({ request_key: newKey(), ...fields }),
      });
      return { status: answer.status, body: await answer.json() };
    },
    async shut() {
      await stop();
      opened.close();
    },
  };
}
