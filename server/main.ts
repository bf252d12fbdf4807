import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { buildApp } from './app.ts';
import { type Command, HELP, Misused, readCommand } from './command-line.ts';
import type { Book } from './database/book.ts';
import { CannotOpen, openBook } from './database/open.ts';
import { checkBalances, checkBook } from './ledger/check.ts';
import { exportWorkroom, importWorkroom, NotTaken } from './ledger/whole-workroom.ts';
import { closer, closeWhenAsked } from './stopping.ts';

const clock = () => new Date();

try {
  process.exitCode = await run(readCommand(process.argv.slice(2), process.env, process.platform));
} catch (error) {
  process.exitCode = fail(error);
}

async function run(command: Command): Promise<number> {
  switch (command.name) {
    case 'help':
      process.stdout.write(HELP);
      return 0;
    case 'version':
      process.stdout.write(`${readVersion()}\n`);
      return 0;
    case 'check':
      return check(await openBook(command.folder, { clock, make: false }));
    case 'export':
      return writeOut(await openBook(command.folder, { clock, make: false }));
    case 'import':
      return takeIn(await openBook(command.folder, { clock }), command.file);
    case 'serve':
      return serve(await openBook(command.folder, { clock }), command.port);
    case 'demo': {
      // Nobody who serves a workroom of their own waits for the invented one.
      const { seedDemo } = await import('../seed-demo/seed.ts');
      const book = await openBook(command.folder, { clock });
      seedDemo(book, clock());
      return serve(book, command.port);
    }
  }
}

function check(book: Book): number {
  const { findings, read } = checkBook(book);
  book.close();
  for (const finding of findings) process.stderr.write(`${finding}\n`);
  const counts = `${read.entries} entries of ${read.pieces} pieces, ${read.holds} holds, ${read.requests} requests read`;
  process.stdout.write(
    `${counts}: ${findings.length === 0 ? 'everything agrees' : `${findings.length} findings`}\n`,
  );
  return findings.length === 0 ? 0 : 1;
}

/** Waits whenever whoever reads falls behind, so that a large book is never held whole. */
async function writeOut(book: Book): Promise<number> {
  for (const part of exportWorkroom(book)) {
    if (!process.stdout.write(part)) await once(process.stdout, 'drain');
  }
  book.close();
  return 0;
}

function takeIn(book: Book, file: string): number {
  try {
    importWorkroom(book, readFileSync(file, 'utf8'));
    process.stdout.write(`The workroom of ${file} is in ${book.file}\n`);
    return 0;
  } finally {
    book.close();
  }
}

async function serve(book: Book, port: number): Promise<number> {
  const findings = checkBalances(book);
  if (findings.length > 0) {
    book.close();
    throw new CannotOpen(`the book does not agree with itself (${findings[0]}); run "check" for all of it`);
  }
  const app = buildApp(book, { level: 'warn', stream: process.stderr });
  const close = closer(app, book);
  closeWhenAsked(process, close, process.env.npm_lifecycle_event !== undefined);
  try {
    process.stdout.write(`Clothroom is open at ${await app.listen({ host: '127.0.0.1', port })}\n`);
  } catch (error) {
    await close();
    throw error;
  }
  return 0;
}

/** Tells in one line what failed, and gives the exit status. */
function fail(error: unknown): number {
  if (error instanceof Misused) return tell(`${error.message}; see --help`, 2);
  if (error instanceof CannotOpen || error instanceof NotTaken) return tell(error.message, 1);
  if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return tell(error.message, 1);
  if (error instanceof Error && 'code' in error && error.code === 'EADDRINUSE') {
    return tell('the port is taken: choose another with --port, or 0 for any', 1);
  }
  return tell(error instanceof Error ? (error.stack ?? error.message) : String(error), 1);
}

function tell(message: string, status: number): number {
  process.stderr.write(`clothroom: ${message}\n`);
  return status;
}

function readVersion(): string {
  const text = readFileSync(new URL('../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
