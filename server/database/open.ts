import { join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { Book, type Clock } from './book.ts';
import { bringUpToDate, type DiskRoom, roomOnDisk } from './bring-up-to-date.ts';
import { isDamage } from './driver-errors.ts';
import { examine } from './examine.ts';
import { FileWatch } from './file-watch.ts';
import { CannotOpen, closeToOthers, FILE, leftBehind, prepareFolder, sizeOf } from './folder.ts';
import { holdAlone, holdLock, isBusy, takenBy } from './lock.ts';
import { isDamagedByWriteAhead, look, readThrough, TO_READ } from './look.ts';
import { beginMaking, makeBook } from './make.ts';
import { type Found, type MigrationStep, readMigrationSteps } from './migrate.ts';
import { damageToTheFile, lostBook, strangeWriteAhead } from './restore.ts';
import { damaged } from './trouble.ts';
import { isStrangeWriteAhead } from './write-ahead.ts';

export interface OpenOptions {
  readonly clock: Clock;
  /** Other steps than the program's own, for the tests of migration. */
  readonly steps?: readonly MigrationStep[];
  /** Proves what the file's own checks do not know, such as the balances; a sentence for each finding. */
  readonly prove?: (book: Book) => string[];
  /** Hears what was done to the folder. */
  readonly say?: (sentence: string) => void;
  readonly room?: DiskRoom;
}

/**
 * Opens the book in a folder, makes it where nothing of ours lies, and brings an older one up to date after copying
 * it. One process at a time: the lock goes when the process ends, however it ends. A book that is not sound is opened
 * to be read only, with its trouble, and nothing is written to it.
 *
 * @throws {CannotOpen} where another process has the book open, the file is from a newer program, is not a book at
 * all, or is not where it was. Nothing is written then.
 */
export async function openBook(named: string, options: OpenOptions): Promise<Book> {
  const folder = resolve(named);
  const file = join(folder, FILE);
  // The book names people and prices: its files are the owner's alone.
  process.umask(0o077);
  prepareFolder(folder);
  for (const sentence of closeToOthers(folder)) options.say?.(sentence);
  const left = leftBehind(folder);
  if (sizeOf(file) === 0) {
    if (left.length > 0) throw lostBook(folder, left);
    beginMaking(folder);
  }
  const release = holdLock(folder);
  try {
    return await openHeld(folder, left, options, release);
  } catch (error) {
    release();
    throw inWords(error, folder);
  }
}

async function openHeld(
  folder: string,
  left: readonly string[],
  { steps = readMigrationSteps(), clock, prove = () => [], room = roomOnDisk }: OpenOptions,
  release: () => void,
): Promise<Book> {
  const file = join(folder, FILE);
  let found = lookAt(folder, file);
  if (found.kind === 'foreign') throw new CannotOpen(`${file} is not a Clothroom book`);
  if (found.kind === 'new') {
    if (left.length > 0) throw lostBook(folder, left);
    makeBook(folder, steps);
    found = { kind: 'book', version: steps.length };
  }
  if (found.version > steps.length) {
    throw new CannotOpen(`${file} was made by a newer Clothroom; it was left untouched`);
  }
  const isOlder = found.version < steps.length;
  const findings = examineFile(file, steps.slice(0, found.version), clock, isOlder ? () => [] : prove);
  if (findings.length > 0) {
    if (isDamagedByWriteAhead(file)) throw strangeWriteAhead(folder);
    const book = new Book(new BetterSqlite3(file, TO_READ), file, clock, release);
    book.stopWriting(damaged(findings));
    return book;
  }
  const connection = new BetterSqlite3(file);
  try {
    setUpConnection(connection);
    if (isOlder) await bringUpToDate(connection, file, found.version, steps, { clock, room });
    holdAlone(connection);
  } catch (error) {
    connection.close();
    throw error;
  }
  const book = new Book(connection, file, clock, release, new FileWatch(file, `${file}-wal`));
  const uneven = isOlder ? prove(book) : [];
  if (uneven.length > 0) book.stopWriting(damaged(uneven));
  return book;
}

function lookAt(folder: string, file: string): Found {
  if (isStrangeWriteAhead(file)) throw strangeWriteAhead(folder);
  try {
    return look(file);
  } catch (error) {
    if (isDamage(error))
      throw isDamagedByWriteAhead(file) ? strangeWriteAhead(folder) : damageToTheFile(folder, error as Error);
    if (isBusy(error)) throw error;
    throw new CannotOpen(`${file} cannot be read: ${(error as Error).message}`);
  }
}

/** Looks for what is wrong before anything can be written. After a crash the indexes are compared with the rows too. */
function examineFile(
  file: string,
  steps: readonly MigrationStep[],
  clock: Clock,
  prove: (book: Book) => string[],
): string[] {
  const how = sizeOf(`${file}-wal`) > 0 ? 'whole' : 'quick';
  return readThrough(file, TO_READ, (connection) => {
    const findings = examine(connection, steps, how);
    return findings.length > 0 ? findings : prove(new Book(connection, file, clock, () => undefined));
  });
}

/** Set at every open: a write-ahead file that is opened again runs at NORMAL, which loses commits in a power cut. */
export function setUpConnection(connection: BetterSqlite3.Database): void {
  connection.pragma('journal_mode = WAL');
  connection.pragma('synchronous = FULL');
  connection.pragma('foreign_keys = ON');
  connection.pragma('recursive_triggers = ON');
  connection.pragma('trusted_schema = OFF');
  connection.pragma('cell_size_check = ON');
}

function inWords(error: unknown, folder: string): unknown {
  return isBusy(error) ? takenBy('program', folder) : error;
}
