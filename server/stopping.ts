import type { FastifyInstance } from 'fastify';
import type { Book } from './database/book.ts';

/** How long requests that are under way may still take, ms. */
const REQUESTS_MS = 2000;
/** How long all of stopping may take, ms; what is answered by then is in the book. */
const ALL_MS = 4500;
const PARENT_EVERY_MS = 500;

/** Lets requests that are under way finish within their time, then closes the book; a second call joins the first. */
export function closer(app: FastifyInstance, book: Book): () => Promise<void> {
  let closing: Promise<void> | null = null;
  return () => {
    closing ??= close(app, book);
    return closing;
  };
}

async function close(app: FastifyInstance, book: Book): Promise<void> {
  // Somebody may have sent half a request and fallen silent.
  const hurry = setTimeout(() => app.server.closeAllConnections(), REQUESTS_MS);
  await app.close();
  clearTimeout(hurry);
  book.close();
}

/**
 * Closes when the process is asked to end.
 * @param byNpm npm passes a signal on to a shell only, which goes and leaves us: then its going is the signal
 */
export function closeWhenAsked(close: () => Promise<void>, byNpm: boolean): void {
  const stop = () => {
    // Whatever still hangs after this time must not keep the machine from going down.
    setTimeout(() => process.exit(), ALL_MS).unref();
    clearInterval(watch);
    void close();
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, stop);
  const parent = process.ppid;
  const watch = setInterval(() => byNpm && process.ppid !== parent && stop(), PARENT_EVERY_MS).unref();
}
