import { existsSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { driverCode } from './driver-errors.ts';
import { CannotOpen, LOCK } from './folder.ts';

/** Holds an exclusive transaction on a file of its own; the system gives it back even after a crash. */
export function holdLock(folder: string): () => void {
  const file = join(folder, LOCK);
  let guard: BetterSqlite3.Database | undefined;
  try {
    guard = new BetterSqlite3(file, { timeout: 0 });
    guard.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    guard?.close();
    if (isBusy(error)) throw takenBy('Clothroom', folder);
    throw new CannotOpen(`${file} cannot be locked: ${(error as Error).message}`);
  }
  const held = guard;
  return () => held.close();
}

/** For a command that only reads, and so makes no lock. @throws {CannotOpen} where a Clothroom has the book open */
export function refuseTaken(folder: string): void {
  const file = join(folder, LOCK);
  if (!existsSync(file)) return;
  const guard = new BetterSqlite3(file, { readonly: true, timeout: 0 });
  try {
    guard.prepare('SELECT count(*) FROM sqlite_schema').get();
  } catch (error) {
    if (isBusy(error)) throw takenBy('Clothroom', folder);
    throw error;
  } finally {
    guard.close();
  }
}

/**
 * Takes the book itself for this process alone. No other program can hold it later, so nothing ever waits for one, and
 * a second server stays out even where somebody deleted the lock.
 */
export function holdAlone(connection: BetterSqlite3.Database): void {
  connection.pragma('locking_mode = EXCLUSIVE');
  // The mode alone takes nothing: the first write does. Writing the first page counts that the book was opened, by which
  // a write-ahead file knows its book (write-ahead.ts).
  connection.pragma(`user_version = ${connection.pragma('user_version', { simple: true })}`);
  connection.pragma('busy_timeout = 0');
}

export function isBusy(error: unknown): boolean {
  return driverCode(error).startsWith('SQLITE_BUSY');
}

export function takenBy(who: 'Clothroom' | 'program', folder: string): CannotOpen {
  return new CannotOpen(`another ${who} has the book in ${folder} open; stop it first`);
}
