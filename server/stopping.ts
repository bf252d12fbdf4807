import { execFile } from 'node:child_process';
import type { FastifyInstance } from 'fastify';
import type { Book } from './database/book.ts';

/** How long requests that are under way may still take, ms. */
const REQUESTS_MS = 2000;
/** How long all of stopping may take, ms; what is answered by then is in the book. */
const ALL_MS = 4500;
const NPM_EVERY_MS = 500;

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
 * Closes when the program is asked to end.
 * @param byNpm npm hands a signal on to a shell at most, never to us: then the going of either is the signal
 */
export function closeWhenAsked(program: NodeJS.Process, close: () => Promise<void>, byNpm: boolean): void {
  let watch: NodeJS.Timeout | undefined;
  const stop = () => {
    // Whatever still hangs after this time must not keep the machine from going down.
    setTimeout(() => program.exit(), ALL_MS).unref();
    clearInterval(watch);
    void close();
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) program.on(signal, stop);
  if (!byNpm) return;
  const shell = program.ppid;
  let npm = 0;
  execFile('ps', ['-o', 'ppid=', '-p', String(shell)], (error, said) => {
    npm = error ? 0 : Number(said);
  });
  const gone = () => program.ppid !== shell || (npm > 0 && !isThere(program, npm));
  watch = setInterval(() => gone() && stop(), NPM_EVERY_MS).unref();
}

function isThere(program: NodeJS.Process, pid: number): boolean {
  try {
    return program.kill(pid, 0);
  } catch {
    return false;
  }
}
