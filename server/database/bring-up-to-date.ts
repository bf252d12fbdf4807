import { rmSync, statfsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import type { Clock } from './book.ts';
import { driverCode } from './driver-errors.ts';
import { CannotOpen, sizeOf } from './folder.ts';
import { putInPlace } from './make.ts';
import { type MigrationStep, migrate } from './migrate.ts';

// The copy, the changed pages in the write-ahead file, and the book as it grows by them: three times the book at most.
const TIMES_THE_BOOK = 3;
const SPARE_BYTES = 4_000_000;

/** How many bytes a folder has room for. */
export type DiskRoom = (folder: string) => number;

export const roomOnDisk: DiskRoom = (folder) => {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
};

/**
 * Copies an older book and carries out the steps that it has not had.
 *
 * @throws {CannotOpen} where there is no room for it; the book is then as it was
 */
export async function bringUpToDate(
  connection: BetterSqlite3.Database,
  file: string,
  from: number,
  steps: readonly MigrationStep[],
  { clock, room }: { readonly clock: Clock; readonly room: DiskRoom },
): Promise<void> {
  const needed = TIMES_THE_BOOK * (sizeOf(file) + sizeOf(`${file}-wal`)) + SPARE_BYTES;
  refuseWithoutRoom(dirname(file), needed, room);
  try {
    await copyBefore(connection, file, from, clock);
    migrate(connection, steps, from);
  } catch (error) {
    if (driverCode(error) !== 'SQLITE_FULL') throw error;
    throw noRoom(dirname(file), needed, room(dirname(file)));
  }
}

function refuseWithoutRoom(folder: string, needed: number, room: DiskRoom): void {
  const free = room(folder);
  if (free < needed) throw noRoom(folder, needed, free);
}

function noRoom(folder: string, needed: number, free: number): CannotOpen {
  return new CannotOpen(
    `this Clothroom keeps the book in a newer form, and bringing it up to date needs ${inMegabytes(needed)} of room in ${folder}, ` +
      `for a copy and for the work itself; ${inMegabytes(free)} is free. Nothing was changed: make room and start again`,
  );
}

function inMegabytes(bytes: number): string {
  return `${Math.ceil(bytes / 100_000) / 10} MB`;
}

async function copyBefore(connection: BetterSqlite3.Database, file: string, version: number, clock: Clock) {
  const stamp = clock().toISOString().replaceAll(/[:.]/g, '-');
  const copy = join(dirname(file), `before-version-${version + 1}-${stamp}.db`);
  const unfinished = `${copy}.part`;
  try {
    await connection.backup(unfinished);
    checkCopy(unfinished);
  } catch (error) {
    for (const path of [unfinished, `${unfinished}-journal`]) rmSync(path, { force: true });
    throw error;
  }
  putInPlace(unfinished, copy);
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
