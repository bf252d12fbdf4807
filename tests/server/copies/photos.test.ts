import fs, { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { drill } from '../../../server/copies/drill.ts';
import { exportTo } from '../../../server/copies/export-to.ts';
import { backUp } from '../../../server/copies/from-terminal.ts';
import { carryPhotos, checkPhotos } from '../../../server/copies/photos.ts';
import { fingerprintOf } from '../../../server/copies/proof.ts';
import { putBack } from '../../../server/copies/put-back.ts';
import { carry, takeSecondPlace } from '../../../server/copies/second-place.ts';
import { openCopy } from '../../../server/database/open-copy.ts';
import { makeStock, openTestBook } from '../support.ts';
import { AT, exported, putNamedPhoto, putPhoto } from './opened.ts';

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});
const newFolder = () => {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-photos-'));
  made.push(folder);
  return folder;
};

const photosIn = (folder: string) =>
  existsSync(join(folder, 'photos')) ? readdirSync(join(folder, 'photos')).sort() : [];

let folder: string;
beforeEach(async () => {
  const { write, putDown, close } = await openTestBook();
  write((tx) => makeStock(tx));
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

  it('are read in the trial of a copy, which tells of one that is damaged or missing', async () => {
    const name = putNamedPhoto(folder, 'one');
    const { path } = await backUp(folder, null, '2030-01-01T00:00:00.000Z');
    expect(drill(path, AT)).toEqual([]);
    const kept = join(dirname(path), 'photos', name);
    writeFileSync(kept, 'onE');
    expect(drill(path, AT)).toEqual([
      `One photo is damaged among those of the copy, first ${name}.`,
      `One photo is missing, first ${name}.`,
    ]);
    rmSync(kept);
    expect(drill(path, AT)).toEqual([`One photo is missing, first ${name}.`]);
    // With the next copy they are put right, since the book's own is whole.
    writeFileSync(kept, 'onE');
    expect(carryPhotos(folder, dirname(path), { mends: true })).toEqual([]);
    expect(drill(path, AT)).toEqual([]);
  });

  it('are put back where they were damaged, and what cannot be is told', async () => {
    const [one, two] = [putNamedPhoto(folder, 'one'), putNamedPhoto(folder, 'two')];
    const { path } = await backUp(folder, null, '2030-01-01T00:00:00.000Z');
    writeFileSync(join(folder, 'photos', one), 'spoilt');
    expect(putBack(path, folder, '2030-01-02T00:00:00.000Z').photos).toEqual([]);
    expect(readFileSync(join(folder, 'photos', one), 'utf8')).toBe('one');
    writeFileSync(join(folder, 'photos', two), 'spoilt');
    writeFileSync(join(dirname(path), 'photos', two), 'spoilt too');
    expect(putBack(path, folder, '2030-01-03T00:00:00.000Z').photos).toEqual([
      `One photo is damaged among those of the copy, first ${two}.`,
      `One photo is damaged, first ${two}.`,
    ]);
  });

  it('stand in an export with their bytes, and go along into a folder', async () => {
    const names = [putNamedPhoto(folder, 'one'), putNamedPhoto(folder, 'three')].sort();
    const listed = () => (JSON.parse(exported(folder)) as { photos: unknown }).photos;
    const bytesOf = (name: string) => readFileSync(join(folder, 'photos', name)).length;
    expect(listed()).toEqual(names.map((file) => ({ file, bytes: bytesOf(file) })));
    const to = newFolder();
    const opened = openCopy(folder, { clock: () => new Date() });
    try {
      expect(exportTo(opened.book, to)).toEqual({ path: join(to, 'workroom.json'), photos: 2, wrong: [] });
      expect(checkPhotos(opened.book)).toEqual([]);
      rmSync(join(folder, 'photos', names[0] ?? ''));
      expect(checkPhotos(opened.book)).toEqual([`One photo is missing, first ${names[0]}.`]);
    } finally {
      opened.close();
    }
    expect(photosIn(to)).toEqual(names);
    expect(listed()).toEqual([
      { file: names[0], bytes: null },
      { file: names[1], bytes: bytesOf(names[1] ?? '') },
    ]);
    expect(() => exportTo(opened.book, join(to, 'nowhere'))).toThrow('there is no folder');
  });
});
