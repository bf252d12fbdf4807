import { createHash } from 'node:crypto';
import fs, { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { backUp } from '../../../server/copies/from-terminal.ts';
import { carryPhotos } from '../../../server/copies/photos.ts';
import { fingerprintOf } from '../../../server/copies/proof.ts';
import { putBack } from '../../../server/copies/put-back.ts';
import { carry, takeSecondPlace } from '../../../server/copies/second-place.ts';
import { openTestBook } from '../support.ts';

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});
const newFolder = () => {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-photos-'));
  made.push(folder);
  return folder;
};

/** Puts an invented photo beside a book, under the hash of its bytes. */
function putPhoto(folder: string, text: string): string {
  const name = `${createHash('sha256').update(text).digest('hex')}.jpg`;
  mkdirSync(join(folder, 'photos'), { recursive: true });
  writeFileSync(join(folder, 'photos', name), text);
  return name;
}
const photosIn = (folder: string) =>
  existsSync(join(folder, 'photos')) ? readdirSync(join(folder, 'photos')).sort() : [];

let folder: string;
beforeEach(async () => {
  const { putDown, close } = await openTestBook();
  folder = putDown();
  close();
  made.push(folder);
});

describe('photos beside a book', () => {
  it('go along with a copy, to the second place, and back with it', async () => {
    const names = [putPhoto(folder, 'one'), putPhoto(folder, 'two')].sort();
    const { path } = await backUp(folder, null, '2030-01-01T00:00:00.000Z');
    expect(photosIn(dirname(path))).toEqual(names);
    const second = newFolder();
    expect(takeSecondPlace(second, join(folder, 'clothroom.db'))).toBe('');
    expect(carry(path, fingerprintOf(path).sha256, second)).toBe('carried');
    expect(photosIn(second)).toEqual(names);
    const elsewhere = newFolder();
    const own = putPhoto(elsewhere, 'of the book that lies there');
    putBack(path, elsewhere, '2030-01-02T00:00:00.000Z');
    expect(photosIn(elsewhere)).toEqual([...names, own].sort());
  });

  it('that are damaged are told and not carried, and what is no photo is left', async () => {
    const good = putPhoto(folder, 'good');
    const bad = putPhoto(folder, 'bad');
    writeFileSync(join(folder, 'photos', bad), 'otherwise');
    writeFileSync(join(folder, 'photos', 'notes.txt'), 'left');
    const to = newFolder();
    expect(carryPhotos(folder, to)).toEqual([bad]);
    expect(photosIn(to)).toEqual([good]);
    await expect(backUp(folder, null, '2030-01-01T00:00:00.000Z')).rejects.toThrow(
      /is made and proven, but one photo is damaged/,
    );
    expect(carryPhotos(newFolder(), to)).toEqual([]);
  });

  it('that were damaged among the copies are told at the second place, where the copy itself is', async () => {
    putPhoto(folder, 'good');
    const { path } = await backUp(folder, null, '2030-01-01T00:00:00.000Z');
    const bad = putPhoto(dirname(path), 'bad');
    writeFileSync(join(dirname(path), 'photos', bad), 'otherwise');
    const second = newFolder();
    takeSecondPlace(second, join(folder, 'clothroom.db'));
    expect(() => carry(path, fingerprintOf(path).sha256, second)).toThrow(/^one photo is damaged/);
    expect(existsSync(join(second, basename(path)))).toBe(true);
  });

  it('are in no drive’s stead where it was pulled meanwhile, nor is the copy', async () => {
    putPhoto(folder, 'one');
    const { path } = await backUp(folder, null, '2030-01-01T00:00:00.000Z');
    const second = newFolder();
    takeSecondPlace(second, join(folder, 'clothroom.db'));
    const [mark = ''] = readdirSync(second);
    const { copyFileSync } = fs;
    fs.copyFileSync = (from, to, mode) => {
      // The folder in which the drive was found stays, without what says that it is the drive.
      if (String(to).includes('.jpg')) rmSync(join(second, mark));
      copyFileSync(from, to, mode);
    };
    syncBuiltinESMExports();
    try {
      expect(carry(path, fingerprintOf(path).sha256, second)).toBe('absent');
    } finally {
      fs.copyFileSync = copyFileSync;
      syncBuiltinESMExports();
    }
    expect(readdirSync(second)).toEqual(['photos']);
    expect(carry(path, fingerprintOf(path).sha256, newFolder())).toBe('absent');
  });
});
