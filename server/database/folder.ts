import { chmodSync, existsSync, lstatSync, mkdirSync, readdirSync } from 'node:fs';
import { join } from 'node:path';

/** The book in its folder, and the files that are ours beside it. */
export const FILE = 'clothroom.db';
export const LOCK = 'lock.db';
/** A book is made under this name and gets its own when it is whole, so that half a book never passes for one. */
export const UNFINISHED = `${FILE}.part`;
/** Where the copies of the book are kept, and what a book is moved into when a copy takes its place. */
export const COPIES = 'copies';
/** Where photos of cloth are kept, each as its hash and `.jpg`. */
export const PHOTOS = 'photos';
export const SET_ASIDE = 'set-aside-';
const BEFORE_VERSION = /^before-version-\d+-.*\.db$/;
const COPY = /^copy-\d{4}-\d\d-\d\dT\d\d-\d\d-\d\dZ\.db$/;
const OURS = /^(clothroom\.db|lock\.db|before-version-\d+-.*\.db|copies$|photos$|set-aside-)/;

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
    .filter((name) => name === LOCK || name === `${FILE}-wal` || BEFORE_VERSION.test(name));
}

/** The newest copy of the book that was kept in the folder; null where there is none. */
export function lastCopy(folder: string): { readonly path: string; readonly at: Date } | null {
  const found = [
    ...namesIn(folder, BEFORE_VERSION).map((name) => join(folder, name)),
    ...namesIn(join(folder, COPIES), COPY).map((name) => join(folder, COPIES, name)),
  ];
  const [newest] = found
    .map((path) => ({ path, at: lstatSync(path).mtime }))
    .sort((a, b) => b.at.getTime() - a.at.getTime());
  return newest ?? null;
}

/** The name of a copy that is made at an instant (ISO 8601, UTC), to the second. */
export function nameOfCopy(at: string): string {
  return `copy-${at.slice(0, 19).replaceAll(':', '-')}Z.db`;
}

/** The copies in a folder, newest first, with the instant at which each was begun. */
export function copiesIn(folder: string): { readonly name: string; readonly at: string }[] {
  const at = (name: string) => `${name.slice(5, 15)}T${name.slice(16, 24).replaceAll('-', ':')}Z`;
  return namesIn(folder, COPY)
    .sort()
    .reverse()
    .map((name) => ({ name, at: at(name) }));
}

function namesIn(folder: string, wanted: RegExp): string[] {
  return existsSync(folder) ? readdirSync(folder).filter((name) => wanted.test(name)) : [];
}
