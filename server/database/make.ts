import { closeSync, fsyncSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { FILE, UNFINISHED } from './folder.ts';
import { type MigrationStep, migrate } from './migrate.ts';

/** Leaves word that a first book is being made here, so that a start that is broken off can be made again. */
export function beginMaking(folder: string): void {
  closeSync(openSync(join(folder, UNFINISHED), 'a'));
}

/** Makes an empty book under another name, and gives it its own once it is whole and on the disk. */
export function makeBook(folder: string, steps: readonly MigrationStep[]): void {
  const unfinished = join(folder, UNFINISHED);
  for (const path of [unfinished, `${unfinished}-journal`]) rmSync(path, { force: true });
  const connection = new BetterSqlite3(unfinished);
  try {
    migrate(connection, steps, 0);
  } finally {
    connection.close();
  }
  putInPlace(unfinished, join(folder, FILE));
}

/** Gives a whole file its name, so that it is there after a power cut too. */
export function putInPlace(unfinished: string, path: string): void {
  syncFile(unfinished);
  renameSync(unfinished, path);
  syncFile(dirname(path));
}

/** Has a file, or what a folder lists, on the disk. */
export function syncFile(path: string): void {
  const handle = openSync(path, 'r');
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
