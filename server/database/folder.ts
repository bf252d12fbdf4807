import { chmodSync, existsSync, lstatSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

/** The book in its folder, and the files that are ours beside it. */
export const FILE = 'clothroom.db';
export const LOCK = 'lock.db';
/** A book is made under this name and gets its own when it is whole, so that half a book never passes for one. */
export const UNFINISHED = `${FILE}.part`;
const COPY = /^before-version-\d+-.*\.db$/;
const OURS = /^(clothroom\.db|lock\.db|before-version-\d+-.*\.db)/;

/** The book cannot be opened; the message is for the terminal. */
export class CannotOpen extends Error {}

/** A link could lead two processes to one book by two locks, or the book into a place that others write to. */
export function prepareFolder(folder: string): void {
  try {
    if (!isLink(folder)) mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new CannotOpen(`${folder} cannot be used as a data folder: ${(error as Error).message}`);
  }
  for (const path of [folder, join(folder, FILE), join(folder, LOCK)]) {
    if (isLink(path)) {
      throw new CannotOpen(`${path} is a link; the folder and its files must lie where they are named`);
    }
  }
}

function isLink(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
}

export function sizeOf(path: string): number {
  return lstatSync(path, { throwIfNoEntry: false })?.size ?? 0;
}

const OWN = 0o700;
const OTHERS = 0o077;

/** Closes a folder that others can read, since the book names people and prices; what was done, a sentence each. */
export function closeToOthers(folder: string): string[] {
  // Windows keeps no such marks.
  if (process.getuid === undefined) return [];
  const names = readdirSync(folder);
  const ours = names.filter((name) => OURS.test(name));
  // Who keeps other things in the folder may share them on purpose: then our files alone are closed.
  const mayClose = ours.length === names.length;
  const paths = [...(mayClose ? [folder] : []), ...ours.map((name) => join(folder, name))];
  const said: string[] = [];
  const open = paths.filter(othersCanRead);
  try {
    for (const path of open) chmodSync(path, lstatSync(path).mode & OWN);
    if (open.length > 0)
      said.push(
        `others on this machine could read ${mayClose ? folder : `the book in ${folder}`}; it is closed to them now`,
      );
  } catch {
    said.push(`others on this machine can read ${folder}, and it could not be closed to them`);
  }
  if (!mayClose && othersCanRead(folder))
    said.push(`${folder} holds other things too, so others on this machine can still look into it`);
  return said;
}

function othersCanRead(path: string): boolean {
  return (lstatSync(path).mode & OTHERS) !== 0;
}

/** What says that a book was here; nothing where the making of the first one was broken off. */
export function leftBehind(folder: string): string[] {
  if (!existsSync(folder) || existsSync(join(folder, UNFINISHED))) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map(({ name }) => name)
    .filter((name) => name === LOCK || name === `${FILE}-wal` || COPY.test(name));
}

/** The newest copy of the book that was kept in the folder; null where there is none. */
export function lastCopy(folder: string): { readonly path: string; readonly at: Date } | null {
  const copies = existsSync(folder) ? readdirSync(folder).filter((name) => COPY.test(name)) : [];
  const [newest] = copies
    .map((name) => ({ path: join(folder, name), at: lstatSync(join(folder, name)).mtime }))
    .sort((a, b) => b.at.getTime() - a.at.getTime());
  return newest ?? null;
}
