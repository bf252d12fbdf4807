import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeFileSync } from 'node:fs';
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
  rmSync(`${unfinished}-journal`, { force: true });
  // Emptied and never removed: killed just then, the next start would take its lock for that of a book that is lost.
  closeSync(openSync(unfinished, 'w'));
  const connection = new BetterSqlite3(unfinished);
  try {
    migrate(connection, steps, 0);
  } finally {
    connection.close();
  }
  putInPlace(unfinished, join(folder, FILE));
}

/** Writes a small file whole: after a power cut there is the former one or this one. */
export function writeInPlace(path: string, text: string): void {
  const unfinished = `${path}.part`;
  try {
    writeFileSync(unfinished, text, { mode: 0o600 });
    putInPlace(unfinished, path);
  } catch (error) {
    rmSync(unfinished, { force: true });
    throw error;
  }
}

/** Gives a whole file its name, so that it is there after a power cut too. */
export function putInPlace(unfinished: string, path: string): void {
  syncFile(unfinished);
  renameSync(unfinished, path);
  syncFolder(dirname(path));
}

const IS_WINDOWS = process.platform === 'win32';

/** Has a file on the disk. */
function syncFile(path: string): void {
  // Windows syncs for those only who may write.
  syncHandle(openSync(path, IS_WINDOWS ? 'r+' : 'r'));
}

/** Has on the disk what a folder lists. */
export function syncFolder(path: string): void {
  // Windows has no such call: there the file system sees to its folders.
  if (!IS_WINDOWS) syncHandle(openSync(path, 'r'));
}

function syncHandle(handle: number): void {
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
