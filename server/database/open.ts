import { closeSync, existsSync, fsyncSync, lstatSync, mkdirSync, openSync, renameSync } from 'node:fs';
import { dirname, join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { Book, type Clock } from './book.ts';
import { inspect, migrate, readSteps, type Step } from './migrate.ts';

const FILE = 'clothroom.db';

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
  folder: string,
  { clock, steps = readSteps(), make = true }: OpenOptions,
): Promise<Book> {
  if (!make && !existsSync(join(folder, FILE))) throw new CannotOpen(`there is no book in ${folder}`);
  // The book names people and prices: its files are the owner's alone.
  process.umask(0o077);
  prepareFolder(folder);
  const release = lock(folder);
  try {
    const file = join(folder, FILE);
    const connection = new BetterSqlite3(file);
    try {
      await prepare(connection, file, steps, clock);
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

function prepareFolder(folder: string): void {
  if (existsSync(folder) && lstatSync(folder).isSymbolicLink()) {
    throw new CannotOpen(`${folder} is a link; name the folder itself`);
  }
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new CannotOpen(`${folder} cannot be used as a data folder: ${(error as Error).message}`);
  }
}

/** Holds an exclusive transaction on a file of its own; the system gives it back even after a crash. */
function lock(folder: string): () => void {
  const guard = new BetterSqlite3(join(folder, 'lock.db'), { timeout: 0 });
  try {
    guard.exec('BEGIN EXCLUSIVE');
  } catch {
    guard.close();
    throw new CannotOpen(`another Clothroom has the book in ${folder} open; stop it first`);
  }
  return () => guard.close();
}

async function prepare(
  connection: BetterSqlite3.Database,
  file: string,
  steps: readonly Step[],
  clock: Clock,
): Promise<void> {
  const found = inspectOrRefuse(connection, file);
  if (found.kind === 'foreign') throw new CannotOpen(`${file} is not a Clothroom book`);
  if (found.kind === 'book' && found.version > steps.length) {
    throw new CannotOpen(`${file} was made by a newer Clothroom; it was left untouched`);
  }
  setUp(connection);
  const from = found.kind === 'book' ? found.version : 0;
  if (from === steps.length) return;
  if (found.kind === 'book') await copyBefore(connection, file, found.version, clock);
  migrate(connection, steps, from);
}

function inspectOrRefuse(connection: BetterSqlite3.Database, file: string) {
  try {
    return inspect(connection);
  } catch {
    throw new CannotOpen(`${file} is not a Clothroom book`);
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

function checkCopy(file: string): void {
  const copy = new BetterSqlite3(file, { readonly: true });
  try {
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
