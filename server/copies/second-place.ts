import { copyFileSync, existsSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative } from 'node:path';
import { whichStay } from '../../src/copies/which-stay.ts';
import { driverCode } from '../database/driver-errors.ts';
import { copiesIn } from '../database/folder.ts';
import { putInPlace, writeInPlace } from '../database/make.ts';
import { carryPhotos, sayDamagedPhotos } from './photos.ts';
import { fingerprintOf, removeCopy, writeSum } from './proof.ts';

/**
 * Says that a folder is the second place. Without it the drive is not there: the folder in which a drive is found stays
 * when the drive is pulled, and a copy in it would lie on the same disk as the book.
 */
const MARK = 'clothroom-second-place.txt';

/** Takes a folder as the second place of a book; what is wrong with it, in a sentence, where it cannot be. */
export function takeSecondPlace(folder: string, book: string): string {
  if (!isAbsolute(folder)) return 'Write the whole path of the folder, from its beginning.';
  const own = relative(dirname(book), folder);
  if (own === '' || !(own.startsWith('..') || isAbsolute(own)))
    return 'That folder lies with the book: a second place is another drive or another machine.';
  const mark = join(folder, MARK);
  const written = `Clothroom puts copies of its book here. Without this file it takes the drive for unplugged.\n${book}\n`;
  try {
    if (!statSync(folder).isDirectory()) return 'That is a file. Name a folder.';
  } catch {
    return 'There is no such folder now. Plug the drive in, or make the folder, and save again.';
  }
  try {
    // Copies of two books in one folder would push each other out.
    if (existsSync(mark) && readFileSync(mark, 'utf8') !== written)
      return `That folder is the second place of another book: its ${MARK} says which. Make a folder of its own for this one.`;
    writeInPlace(mark, written);
    return '';
  } catch (error) {
    return `Nothing can be written into that folder (${driverCode(error) || (error as Error).message}).`;
  }
}

export type Carried = 'carried' | 'absent';

/**
 * Carries a proven copy to the second place and reads it back; the copies there go by the same rule as at home. Where the
 * drive is pulled meanwhile, nothing of ours stays in the folder in which it was found.
 *
 * @throws {Error} where the disk refuses or gives back something else
 */
export function carry(copy: string, sha256: string, folder: string): Carried {
  const isThere = () => existsSync(join(folder, MARK));
  if (!isThere()) return 'absent';
  try {
    carryAll(copy, sha256, folder);
    if (isThere()) return 'carried';
  } catch (error) {
    if (isThere()) throw error;
  }
  for (const name of [basename(copy), `${basename(copy)}.part`]) removeCopy(join(folder, name));
  return 'absent';
}

function carryAll(copy: string, sha256: string, folder: string): void {
  const name = basename(copy);
  const part = join(folder, `${name}.part`);
  try {
    copyFileSync(copy, part);
    if (fingerprintOf(part).sha256 !== sha256)
      throw new Error('what was read back there is not what was written: the drive may be failing');
    putInPlace(part, join(folder, name));
    writeSum(join(folder, name), sha256);
  } finally {
    rmSync(part, { force: true });
  }
  letGo(folder);
  const damaged = sayDamagedPhotos(carryPhotos(dirname(copy), folder));
  if (damaged !== '') throw new Error(damaged);
}

/** Lets the copies go that stand for no day, week, month or year any more, and what was left half made. */
export function letGo(folder: string): void {
  const copies = copiesIn(folder);
  const stay = new Set(whichStay(copies.map(({ at }) => at)));
  for (const { name, at } of copies) if (!stay.has(at)) removeCopy(join(folder, name));
  for (const name of readdirSync(folder))
    if (/^copy-.*\.part$/.test(name)) rmSync(join(folder, name), { force: true });
}
