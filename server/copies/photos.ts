import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Book } from '../database/book.ts';
import { PHOTOS, sizeOf } from '../database/folder.ts';
import { putInPlace } from '../database/make.ts';
import { fileOfPhoto, photosNamedIn } from '../database/photo-files.ts';
import { wordFor } from '../kit/words.ts';
import { fingerprintOf } from './proof.ts';

/** A photo is named by its own hash, so that a name that is there already has the same bytes. */
const PHOTO = /^([0-9a-f]{64})\.jpg$/;

/**
 * Takes the photos of one folder along to another, each that is not there yet; none is ever taken away there. Gives the
 * names of those whose bytes are not those of their name any more: they are left where they lie.
 *
 * @param how whether those that are there already are looked at too, and put right where they were damaged
 * @throws {Error} where the disk refuses
 */
export function carryPhotos(
  from: string,
  to: string,
  { mends = false }: { readonly mends?: boolean } = {},
): readonly string[] {
  const [source, target] = [join(from, PHOTOS), join(to, PHOTOS)];
  if (!existsSync(source)) return [];
  const names = readdirSync(source).filter((name) => PHOTO.test(name));
  if (names.length === 0) return [];
  // Once: where a drive is pulled meanwhile, the folder in which it was found is not filled in its place.
  mkdirSync(target, { recursive: true, mode: 0o700 });
  const there = new Set(readdirSync(target));
  const damaged: string[] = [];
  for (const name of names) {
    if (there.has(name) && !(mends && isDamaged(join(target, name)))) continue;
    const part = join(target, `${name}.part`);
    try {
      copyFileSync(join(source, name), part);
      if (isDamaged(part, name)) damaged.push(name);
      else putInPlace(part, join(target, name));
    } finally {
      rmSync(part, { force: true });
    }
  }
  return damaged;
}

function isDamaged(path: string, name = path): boolean {
  return `${fingerprintOf(path).sha256}.jpg` !== name.slice(-'.jpg'.length - 64);
}

/** "one photo is damaged and not in the copy, first 0af….jpg"; '' where none is. */
export function sayDamagedPhotos(damaged: readonly string[]): string {
  return sayOf(damaged, 'damaged and not in the copy');
}

/**
 * Reads every photo that a book names and compares it with its name: what is missing or damaged, a sentence each.
 *
 * @param file that of the book, beside which they lie
 */
export function checkPhotos({ connection, file }: Pick<Book, 'connection' | 'file'>): string[] {
  const place = join(dirname(file), PHOTOS);
  const names = photosNamedIn(connection).map(fileOfPhoto);
  const missing = names.filter((name) => sizeOf(join(place, name)) === 0);
  const damaged = names.filter((name) => !missing.includes(name) && isDamaged(join(place, name)));
  return [sayOf(missing, 'missing'), sayOf(damaged, 'damaged')].filter(Boolean).map(asSentence);
}

/** The same of photos that lie damaged beside a copy, and were not put back. */
export function sayNotPutBack(damaged: readonly string[]): string[] {
  return [sayOf(damaged, 'damaged among those of the copy')].filter(Boolean).map(asSentence);
}

function sayOf(names: readonly string[], what: string): string {
  if (names.length === 0) return '';
  return `${wordFor(names.length, 'one photo is', `${names.length} photos are`)} ${what}, first ${names[0]}`;
}

function asSentence(said: string): string {
  return `${said.charAt(0).toUpperCase()}${said.slice(1)}.`;
}
