import { copyFileSync, existsSync, mkdirSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { PHOTOS } from '../database/folder.ts';
import { putInPlace } from '../database/make.ts';
import { wordFor } from '../kit/words.ts';
import { fingerprintOf } from './proof.ts';

/** A photo is named by its own hash, so that a name that is there already has the same bytes. */
const PHOTO = /^([0-9a-f]{64})\.jpg$/;

/**
 * Takes the photos of one folder along to another, each that is not there yet; none is ever taken away there. Gives the
 * names of those whose bytes are not those of their name any more: they are left where they lie.
 *
 * @throws {Error} where the disk refuses
 */
export function carryPhotos(from: string, to: string): readonly string[] {
  const [source, target] = [join(from, PHOTOS), join(to, PHOTOS)];
  if (!existsSync(source)) return [];
  const names = readdirSync(source).filter((name) => PHOTO.test(name));
  if (names.length === 0) return [];
  // Once: where a drive is pulled meanwhile, the folder in which it was found is not filled in its place.
  mkdirSync(target, { recursive: true, mode: 0o700 });
  const there = new Set(readdirSync(target));
  const damaged: string[] = [];
  for (const name of names) {
    if (there.has(name)) continue;
    const part = join(target, `${name}.part`);
    try {
      copyFileSync(join(source, name), part);
      if (fingerprintOf(part).sha256 === PHOTO.exec(name)?.[1]) putInPlace(part, join(target, name));
      else damaged.push(name);
    } finally {
      rmSync(part, { force: true });
    }
  }
  return damaged;
}

/** "one photo is damaged and not in the copy, first 0af….jpg"; '' where none is. */
export function sayDamagedPhotos(damaged: readonly string[]): string {
  if (damaged.length === 0) return '';
  const photos = wordFor(damaged.length, 'one photo is', `${damaged.length} photos are`);
  return `${photos} damaged and not in the copy, first ${damaged[0]}`;
}
