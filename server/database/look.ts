import { readFileSync } from 'node:fs';
import BetterSqlite3 from 'better-sqlite3';
import { driverCode, isDamage } from './driver-errors.ts';
import { sizeOf } from './folder.ts';
import { type Found, inspect } from './migrate.ts';

const SMALLEST_PAGE = 512;
/** For a connection that cannot write; a program that holds the file is waited for a second. */
export const TO_READ = { readonly: true, timeout: 1000 } as const;

/**
 * What the file is, seen through a connection that cannot write: the last one that can moves what a crash left
 * in the write-ahead file into the book when it closes, and so would change a file that is to be refused.
 */
export function look(file: string): Found {
  const size = sizeOf(file);
  if (size === 0) return { kind: 'new' };
  // A file shorter than the first page of a database would pass for an empty one, and be written over.
  if (size < SMALLEST_PAGE) return { kind: 'foreign' };
  try {
    return readThrough(file, TO_READ, inspect);
  } catch (error) {
    // A crash while the file was being made leaves a journal, and only a connection that writes can roll it back.
    if (driverCode(error) === 'SQLITE_READONLY_ROLLBACK') return readThrough(file, {}, inspect);
    if (driverCode(error) === 'SQLITE_NOTADB') return { kind: 'foreign' };
    throw error;
  }
}

/** Opens a connection for one look. */
export function readThrough<T>(
  file: string,
  options: BetterSqlite3.Options,
  read: (connection: BetterSqlite3.Database) => T,
): T {
  const connection = new BetterSqlite3(file, options);
  try {
    return read(connection);
  } finally {
    connection.close();
  }
}

/** True where a book is sound by itself and damaged together with the write-ahead file beside it. */
export function isDamagedByWriteAhead(file: string): boolean {
  return sizeOf(`${file}-wal`) > 0 && isSoundAlone(file);
}

// A write-ahead book cannot be read from memory: two bytes of its first page say how it is kept.
const KEPT_AT = [18, 19];

function isSoundAlone(file: string): boolean {
  const bytes = readFileSync(file);
  for (const at of KEPT_AT) bytes[at] = 1;
  const alone = new BetterSqlite3(bytes);
  try {
    return alone.pragma('quick_check', { simple: true }) === 'ok';
  } catch (error) {
    if (isDamage(error)) return false;
    throw error;
  } finally {
    alone.close();
  }
}
