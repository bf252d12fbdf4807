import type { FastifyInstance } from 'fastify';
import { buildApp } from '../../server/app.ts';
import { newKey, openTestBook, type TestHouse } from '../server/support.ts';

/** A book that is served at one address, stopped, and served there again. */
export interface Stoppable {
  readonly book: TestHouse['book'];
  readonly write: TestHouse['write'];
  readonly origin: string;
  stop(): Promise<void>;
  /** Serves it again; paused, it answers nobody but `send` until `resume`. */
  serve(how?: { readonly paused: boolean }): Promise<void>;
  resume(): void;
  /** Sends a form as a script does, by whoever works at the machine. */
  send(path: string, fields: Record<string, string>): Promise<{ status: number; body: unknown }>;
  shut(): Promise<void>;
}

export async function openStoppable(clock?: () => Date): Promise<Stoppable> {
  const opened = await openTestBook(clock ?? (() => new Date()));
  let app: FastifyInstance | null = null;
  let port = 0;
  let paused = false;
  const OURS = 'clothroom-test';
  const serve = async (how = { paused: false }) => {
    ({ paused } = how);
    app = buildApp(opened.book);
    app.addHook('onRequest', async (request) => {
      if (paused && !request.headers[OURS]) request.raw.socket.destroy();
    });
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
    resume: () => {
      paused = false;
    },
    async send(path, fields) {
      const answer = await fetch(origin + path, {
        method: 'POST',
        headers: { origin, accept: 'application/json', [OURS]: 'yes' },
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
