import { chmodSync, copyFileSync, existsSync, mkdirSync, rmSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { isDamage } from '../database/driver-errors.ts';
import { CannotOpen, FILE, prepareFolder, SET_ASIDE, sizeOf } from '../database/folder.ts';
import { holdLock } from '../database/lock.ts';
import { look, readThrough, TO_READ } from '../database/look.ts';
import { putInPlace } from '../database/make.ts';
import { readMigrationSteps } from '../database/migrate.ts';
import { carryPhotos, checkPhotos, sayNotPutBack } from './photos.ts';
import { fingerprintOf, proveCopy, readSum } from './proof.ts';

/** Where a copy was put back, and where the book that lay there was moved. */
export interface PutBack {
  readonly file: string;
  /** null where there was none */
  readonly setAside: string | null;
  /** what is wrong with the photos of the copy, a sentence each */
  readonly photos: readonly string[];
}

/**
 * Puts a copy in the place of the book of a folder. It is copied and proved first, and the former book with all that
 * belongs to it is set aside, so that nothing is lost whatever comes in between; the copy itself is only read.
 *
 * @param at the instant, ISO 8601, by which what is set aside is named
 * @throws {CannotOpen} where the book is open, or the copy is none, is damaged or from a newer program; nothing is
 * changed then
 */
export function putBack(copy: string, named: string, at: string): PutBack {
  const folder = resolve(named);
  const source = resolve(copy);
  refuseWhatIsNoCopy(source);
  prepareFolder(folder);
  const release = holdLock(folder);
  const unfinished = join(folder, `${FILE}.put-back`);
  try {
    copyFileSync(source, unfinished);
    // A copy may be marked as one that nobody writes to.
    chmodSync(unfinished, 0o600);
    proveEqual(source, unfinished);
    // Photos are only added: those of the book that lies here stay for it.
    const damaged = carryPhotos(dirname(source), folder, { mends: true });
    const missing = readThrough(unfinished, TO_READ, (connection) =>
      checkPhotos({ connection, file: join(folder, FILE) }),
    );
    const setAside = setAsideIn(folder, at);
    const file = join(folder, FILE);
    putInPlace(unfinished, file);
    return { file, setAside, photos: [...sayNotPutBack(damaged), ...missing] };
  } finally {
    for (const path of [unfinished, `${unfinished}-journal`]) rmSync(path, { force: true });
    release();
  }
}

function refuseWhatIsNoCopy(source: string): void {
  if (!existsSync(source)) throw new CannotOpen(`there is no file ${source}`);
  if (sizeOf(`${source}-wal`) > 0)
    throw new CannotOpen(
      `${source} is a book with work in the write-ahead file beside it, and no copy: name its folder with --data instead`,
    );
  let version: number;
  try {
    const found = look(source);
    if (found.kind !== 'book') throw new CannotOpen(`${source} is not a Clothroom book`);
    version = found.version;
  } catch (error) {
    if (!isDamage(error)) throw error;
    throw damagedCopy(source, (error as Error).message);
  }
  if (version > readMigrationSteps().length)
    throw new CannotOpen(`${source} was made by a newer Clothroom; it was left untouched`);
}

/** The bytes are compared before the proof, which may write to the first page of the file that it is given. */
function proveEqual(source: string, unfinished: string): void {
  const { sha256 } = fingerprintOf(unfinished);
  const made = readSum(source);
  if (made !== null && made !== sha256)
    throw damagedCopy(source, 'its bytes are not those that it was made with');
  if (fingerprintOf(source).sha256 !== sha256)
    throw new CannotOpen(`${source} was not read alike twice; its disk may be failing. Nothing was changed`);
  const [finding] = proveCopy(unfinished, 'whole').findings;
  if (finding !== undefined) throw damagedCopy(source, finding);
}

function damagedCopy(source: string, finding: string): CannotOpen {
  return new CannotOpen(
    `${source} is damaged and was not put back (${finding}). Nothing was changed: take an older copy`,
  );
}

/** At every moment a whole book lies in one of the two places, with what was written to it last. */
function setAsideIn(folder: string, at: string): string | null {
  const isThere = (name: string) => existsSync(join(folder, name));
  const beside = ['-wal', '-journal', '-shm'].map((end) => `${FILE}${end}`).filter(isThere);
  if (!isThere(FILE) && beside.length === 0) return null;
  const place = join(folder, `${SET_ASIDE}${at.slice(0, 19).replaceAll(':', '-')}Z`);
  mkdirSync(place, { mode: 0o700 });
  // What the book needs is there before it comes, and goes from here once it is gone.
  for (const name of beside) {
    copyFileSync(join(folder, name), join(place, `${name}.part`));
    putInPlace(join(place, `${name}.part`), join(place, name));
  }
  if (isThere(FILE)) putInPlace(join(folder, FILE), join(place, FILE));
  for (const name of beside) rmSync(join(folder, name));
  return place;
}
