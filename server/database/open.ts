import { closeSync, existsSync, fsyncSync, lstatSync, mkdirSync, openSync, renameSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { Book, type Clock } from './book.ts';
import { driverCode } from './driver-errors.ts';
import { type Found, inspect, migrate, readSteps, type Step } from './migrate.ts';

const FILE = 'clothroom.db';
const LOCK = 'lock.db';
const SMALLEST_PAGE = 512;

/** The book cannot be opened; the message is one line for the terminal. */
export class CannotOpen extends Error {}

export interface OpenOptions {
  readonly clock: Clock;
  /** Other steps than the program's own, for the tests of migration. */
  readonly steps?: readonly Step[];
  /** false refuses where there is no book yet; a new one is made otherwise */
  readonly make?: boolean;
}

/**
 * Opens the book in a folder, makes it where there is none, and brings an older one up to date after copying
 * it. One process at a time: the lock goes when the process ends, however it ends.
 *
 * @throws {CannotOpen} where another process has the book open, or the file is from a newer program, or it is
 * not a book at all. Nothing is written then.
 */
export async function openBook(
  named: string,
  { clock, steps = readSteps(), make = true }: OpenOptions,
): Promise<Book> {
  const folder = resolve(named);
  if (!make && !existsSync(join(folder, FILE))) throw new CannotOpen(`there is no book in ${folder}`);
  // The book names people and prices: its files are the owner's alone.
  process.umask(0o077);
  prepareFolder(folder);
  const release = lock(folder);
  try {
    const file = join(folder, FILE);
    const found = look(file);
    if (found.kind === 'foreign') throw new CannotOpen(`${file} is not a Clothroom book`);
    if (found.kind === 'book' && found.version > steps.length) {
      throw new CannotOpen(`${file} was made by a newer Clothroom; it was left untouched`);
    }
    const connection = new BetterSqlite3(file);
    try {
      setUp(connection);
      await bringUpToDate(connection, file, found, steps, clock);
    } catch (error) {
      connection.close();
      throw error;
    }
    return new Book(connection, file, clock, release);
  } catch (error) {
    release();
    throw error;
  }
}

/** A link could lead two processes to one book by two locks, or the book into a place that others write to. */
function prepareFolder(folder: string): void {
  try {
    if (!isLink(folder)) mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new CannotOpen(`${folder} cannot be used as a data folder: ${(error as Error).message}`);
  }
  for (const path of [folder, join(folder, FILE), join(folder, LOCK)]) {
    if (isLink(path)) {
      throw new CannotOpen(`${path} is a link; the folder and its files must lie where they are named`);
    }
  }
}

function isLink(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
}

/** Holds an exclusive transaction on a file of its own; the system gives it back even after a crash. */
function lock(folder: string): () => void {
  const file = join(folder, LOCK);
  let guard: BetterSqlite3.Database | undefined;
  try {
    guard = new BetterSqlite3(file, { timeout: 0 });
    guard.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    guard?.close();
    if (driverCode(error).startsWith('SQLITE_BUSY')) {
      throw new CannotOpen(`another Clothroom has the book in ${folder} open; stop it first`);
    }
    throw new CannotOpen(`${file} cannot be locked: ${(error as Error).message}`);
  }
  const held = guard;
  return () => held.close();
}

/**
 * What the file is, seen through a connection that cannot write: the last one that can moves what a crash left
 * in the write-ahead file into the book when it closes, and so would change a file that is to be refused.
 */
function look(file: string): Found {
  const size = lstatSync(file, { throwIfNoEntry: false })?.size ?? 0;
  if (size === 0) return { kind: 'new' };
  // A file shorter than the first page of a database would pass for an empty one, and be written over.
  if (size < SMALLEST_PAGE) return { kind: 'foreign' };
  try {
    return lookThrough(file, { readonly: true });
  } catch (error) {
    // A crash while the file was being made leaves a journal, and only a connection that writes can roll it back.
    if (driverCode(error) === 'SQLITE_READONLY_ROLLBACK') return lookThrough(file, {});
    if (driverCode(error) === 'SQLITE_NOTADB') return { kind: 'foreign' };
    throw new CannotOpen(`${file} cannot be read: ${(error as Error).message}`);
  }
}

function lookThrough(file: string, options: BetterSqlite3.Options): Found {
  const connection = new BetterSqlite3(file, options);
  try {
    return inspect(connection);
  } finally {
    connection.close();
  }
}

/** Set at every open: a write-ahead file that is opened again runs at NORMAL, which loses commits in a power cut. */
function setUp(connection: BetterSqlite3.Database): void {
  connection.pragma('journal_mode = WAL');
  connection.pragma('synchronous = FULL');
  connection.pragma('foreign_keys = ON');
  connection.pragma('recursive_triggers = ON');
  connection.pragma('trusted_schema = OFF');
  connection.pragma('cell_size_check = ON');
  connection.pragma('busy_timeout = 5000');
}

async function bringUpToDate(
  connection: BetterSqlite3.Database,
  file: string,
  found: Found,
  steps: readonly Step[],
  clock: Clock,
): Promise<void> {
  const from = found.kind === 'book' ? found.version : 0;
  if (from === steps.length) return;
  if (found.kind === 'book') await copyBefore(connection, file, from, clock);
  migrate(connection, steps, from);
}

async function copyBefore(connection: BetterSqlite3.Database, file: string, version: number, clock: Clock) {
  const stamp = clock().toISOString().replaceAll(/[:.]/g, '-');
  const copy = join(dirname(file), `before-version-${version + 1}-${stamp}.db`);
  const unfinished = `${copy}.part`;
  await connection.backup(unfinished);
  checkCopy(unfinished);
  syncFile(unfinished);
  renameSync(unfinished, copy);
  syncFile(dirname(copy));
}

/** Proves the copy, and makes it one file that needs no write-ahead file beside it. */
function checkCopy(file: string): void {
  const copy = new BetterSqlite3(file);
  try {
    copy.pragma('journal_mode = DELETE');
    const said = copy.pragma('quick_check', { simple: true });
    if (said !== 'ok') throw new CannotOpen(`the copy made before the migration is damaged: ${said}`);
  } finally {
    copy.close();
  }
}

function syncFile(path: string): void {
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
