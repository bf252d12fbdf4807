import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { backUp } from '../../server/copies/from-terminal.ts';
import { takeSecondPlace } from '../../server/copies/second-place.ts';
import { FILE, PHOTOS } from '../../server/database/folder.ts';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { openTestBook } from '../server/support.ts';
import { newFolder } from './door.ts';
import { leftToChance, SYNC_CALLS } from './synced.ts';
import { canTrace, trace } from './traced.ts';

// A file that gets its name before its bytes are on the disk is empty after a power cut, and a name that was not synced is
// gone: fsync(2), rename(2). Every way in which the program writes a file beside its book is watched.

const SCRIPT = new URL('work.child.ts', import.meta.url);

async function folderWithBook(): Promise<string> {
  const { putDown, close } = await openTestBook();
  const folder = putDown();
  close();
  return folder;
}

function olderBook(): string {
  const folder = newFolder();
  const raw = new BetterSqlite3(join(folder, FILE));
  raw.pragma('journal_mode = WAL');
  migrate(raw, readMigrationSteps().slice(0, 22), 0);
  raw.close();
  return folder;
}

/** A book with a photo beside it, below a folder that also has room for a second place. */
async function bookWithPhoto(): Promise<string> {
  const folder = await folderWithBook();
  mkdirSync(join(folder, PHOTOS));
  const name = createHash('sha256').update('photo').digest('hex');
  writeFileSync(join(folder, PHOTOS, `${name}.jpg`), 'photo');
  return folder;
}

/** What is done, and where: the folder that is watched, and the arguments for the script. */
const WORKS: Readonly<Record<string, () => Promise<{ watched: string; args: string[] }>>> = {
  'making the first book': async () => {
    const folder = newFolder();
    return { watched: folder, args: ['begin', folder] };
  },
  'bringing an older book up to date': async () => {
    const folder = olderBook();
    return { watched: folder, args: ['newer', folder] };
  },
  'making a copy': async () => {
    const folder = await bookWithPhoto();
    return { watched: folder, args: ['copy', folder] };
  },
  'carrying a copy to the second place': async () => {
    const [folder, second] = [await bookWithPhoto(), newFolder()];
    takeSecondPlace(second, join(folder, FILE));
    return { watched: second, args: ['copy', folder, second] };
  },
  'putting a copy back': async () => {
    const folder = await bookWithPhoto();
    const { path } = await backUp(folder, newFolder(), '2030-01-01T00:00:00.000Z');
    return { watched: folder, args: ['restore', folder, path] };
  },
  'making a certificate': async () => {
    const folder = newFolder();
    return { watched: folder, args: ['certify', folder] };
  },
  'keeping a photo': async () => {
    const folder = await folderWithBook();
    return { watched: folder, args: ['photo', folder] };
  },
};

describe.skipIf(!canTrace)('a file that the program writes', () => {
  it.each(Object.keys(WORKS))('is on the disk before it has its name, while %s', async (name) => {
    const { watched, args } = await (WORKS[name] as (typeof WORKS)[string])();
    const options = ['-f', '-y', '-s', '8', '--seccomp-bpf', '-e', `trace=${SYNC_CALLS}`];
    const { log, lines, err } = await trace(options, SCRIPT, args);
    expect({ lines, err }).toEqual({ lines: ['done'], err: '' });
    expect(log.split(watched).length).toBeGreaterThan(5);
    expect(leftToChance(log, watched)).toEqual([]);
  });
});

describe('the reader of what was synced', () => {
  const OPEN = '1 openat(AT_FDCWD, "/f/a.part", O_WRONLY|O_CREAT|O_TRUNC, 0600) = 17</f/a.part>';
  const WRITE = '1 write(17</f/a.part>, "x", 1) = 1';
  const SYNC = '1 fsync(17</f/a.part>) = 0';
  const NAME = '1 rename("/f/a.part", "/f/a") = 0';
  const FOLDER = '1 fsync(18</f>) = 0';
  const read = (...lines: string[]) => leftToChance(lines.join('\n'), '/f');

  it('finds each step that is left out, or done too early', () => {
    expect(read(OPEN, WRITE, SYNC, NAME, FOLDER)).toEqual([]);
    expect(read(OPEN, WRITE, NAME, FOLDER)).toEqual(['a got its name before it was on the disk']);
    expect(read(OPEN, SYNC, WRITE, NAME, FOLDER)).toEqual(['a got its name before it was on the disk']);
    expect(read(OPEN, WRITE, SYNC, NAME)).toEqual(['the name of a was never synced']);
    expect(read(OPEN, WRITE, SYNC, FOLDER, NAME)).toEqual(['the name of a was never synced']);
    expect(read('1 openat(AT_FDCWD, "/f/a", O_WRONLY|O_CREAT, 0600) = 17</f/a>')).toEqual([
      'a was written and never synced',
    ]);
  });
});
