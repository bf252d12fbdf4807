import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { Book, type Clock } from './book.ts';
import { driverCode, isDamage } from './driver-errors.ts';
import { examine } from './examine.ts';
import { CannotOpen, FILE, leftBehind, sizeOf } from './folder.ts';
import { refuseTaken } from './lock.ts';
import { look, readThrough, TO_READ } from './look.ts';
import { migrate, readMigrationSteps } from './migrate.ts';
import { damageToTheFile, lostBook, strangeWriteAhead } from './restore.ts';
import { isStrangeWriteAhead } from './write-ahead.ts';

/** A copy of a book, to be read; `damage` tells what stands in the way of bringing an older one up to date. */
export interface BookCopy {
  readonly book: Book;
  readonly damage: readonly string[];
  close(): void;
}

/**
 * Copies the book of a folder to a place of its own, and brings the copy up to date there: the folder is only read.
 *
 * @throws {CannotOpen} where there is no book, it is open, newer, or so damaged that nothing of it can be read
 */
export function openCopy(named: string, { clock }: { readonly clock: Clock }): BookCopy {
  const folder = resolve(named);
  const file = join(folder, FILE);
  if (sizeOf(file) === 0) {
    const left = leftBehind(folder);
    throw left.length > 0 ? lostBook(folder, left) : new CannotOpen(`there is no book in ${folder}`);
  }
  refuseTaken(folder);
  if (isStrangeWriteAhead(file)) throw strangeWriteAhead(folder);
  process.umask(0o077);
  const place = mkdtempSync(join(tmpdir(), 'clothroom-copy-'));
  const discard = () => rmSync(place, { recursive: true, force: true });
  try {
    for (const path of ['', '-wal', '-journal']) {
      if (existsSync(`${file}${path}`)) copyFileSync(`${file}${path}`, join(place, `${FILE}${path}`));
    }
    return openIn(place, file, clock, discard);
  } catch (error) {
    discard();
    if (isDamage(error)) throw damageToTheFile(folder, error as Error);
    if (driverCode(error) === 'ENOSPC')
      throw new CannotOpen(`there is no room for a copy of the book in ${tmpdir()}`);
    throw error;
  }
}

function openIn(place: string, original: string, clock: Clock, discard: () => void): BookCopy {
  const file = join(place, FILE);
  const steps = readMigrationSteps();
  const found = look(file);
  if (found.kind !== 'book') throw new CannotOpen(`${original} is not a Clothroom book`);
  if (found.version > steps.length) throw new CannotOpen(`${original} was made by a newer Clothroom`);
  const isOlder = found.version < steps.length;
  const damage = isOlder
    ? readThrough(file, TO_READ, (older) => examine(older, steps.slice(0, found.version), 'whole'))
    : [];
  const connection = new BetterSqlite3(file);
  const book = new Book(connection, original, clock, discard);
  try {
    if (isOlder && damage.length === 0) migrate(connection, steps, found.version);
  } catch (error) {
    book.close();
    throw error;
  }
  return { book, damage, close: () => book.close() };
}
