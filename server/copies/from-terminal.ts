import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { CannotOpen, COPIES, FILE, nameOfCopy, sizeOf } from '../database/folder.ts';
import { refuseTaken } from '../database/lock.ts';
import { look, TO_READ } from '../database/look.ts';
import { putInPlace } from '../database/make.ts';
import { damageToTheFile, strangeWriteAhead } from '../database/restore.ts';
import { isStrangeWriteAhead } from '../database/write-ahead.ts';
import { carryPhotos, sayDamagedPhotos } from './photos.ts';
import { proveCopy, writeSum } from './proof.ts';

/**
 * Makes a copy of a book that nobody has open, and proves it. The book is only read, and keeps its form.
 *
 * @param to the folder for the copy, which must be there; null for the folder of copies with the book
 * @throws {CannotOpen} where there is no book, it is open or damaged, or the copy cannot be made
 */
export async function backUp(
  named: string,
  to: string | null,
  at: string,
): Promise<{ readonly path: string; readonly bytes: number }> {
  const folder = resolve(named);
  const file = join(folder, FILE);
  if (sizeOf(file) === 0) throw new CannotOpen(`there is no book in ${folder}`);
  refuseTaken(folder);
  if (isStrangeWriteAhead(file)) throw strangeWriteAhead(folder);
  if (look(file).kind !== 'book') throw new CannotOpen(`${file} is not a Clothroom book`);
  process.umask(0o077);
  const into = to === null ? join(folder, COPIES) : resolve(to);
  if (to === null) mkdirSync(into, { recursive: true });
  else if (!existsSync(into)) throw new CannotOpen(`there is no folder ${into}`);
  const path = join(into, nameOfCopy(at));
  const part = `${path}.part`;
  const connection = new BetterSqlite3(file, TO_READ);
  try {
    await connection.backup(part);
    const { findings, sha256, bytes } = proveCopy(part, 'whole');
    if (findings[0] !== undefined) throw damageToTheFile(folder, new Error(findings[0]));
    putInPlace(part, path);
    writeSum(path, sha256);
    const damaged = sayDamagedPhotos(carryPhotos(folder, into));
    if (damaged !== '') throw new CannotOpen(`the copy ${path} is made and proven, but ${damaged}`);
    return { path, bytes };
  } finally {
    connection.close();
    for (const left of [part, `${part}-journal`]) rmSync(left, { force: true });
  }
}
