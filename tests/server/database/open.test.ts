import { copyFileSync, lstatSync, mkdirSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { describe, expect, it } from 'vitest';
import { CannotOpen } from '../../../server/database/folder.ts';
import { readMigrationSteps } from '../../../server/database/migrate.ts';
import { openCopy } from '../../../server/database/open-copy.ts';
import { startChild } from '../../child.ts';
import { NOON } from '../support.ts';
import { fingerprint, folderWithNewBook, newFolder, open } from './folders.ts';

const answer = { location: '/', said: 'Done.' };

describe('a book that is opened again', () => {
  it('is written through to the disk at every commit, and guards itself', async () => {
    const folder = folderWithNewBook();
    (await open(folder)).close();
    const { connection } = await open(folder);
    const pragma = (name: string) => connection.pragma(name, { simple: true });
    expect(pragma('journal_mode')).toBe('wal');
    expect(pragma('synchronous')).toBe(2);
    expect(pragma('foreign_keys')).toBe(1);
    expect(pragma('recursive_triggers')).toBe(1);
    expect(pragma('trusted_schema')).toBe(0);
    expect(pragma('cell_size_check')).toBe(1);
    // No other program can hold the file while it is open, so nothing waits for one.
    expect(pragma('busy_timeout')).toBe(0);
    expect(pragma('locking_mode')).toBe('exclusive');
  });

  it('would not be by itself: the driver opens a write-ahead file at NORMAL', async () => {
    const folder = folderWithNewBook();
    (await open(folder)).close();
    const plain = new BetterSqlite3(join(folder, 'clothroom.db'));
    expect(plain.pragma('synchronous', { simple: true })).toBe(1);
    plain.close();
  });

  it('has what was written, and closes as often as it is told to', async () => {
    const folder = folderWithNewBook();
    const first = await open(folder);
    first.write({ key: 'first-key', asked: null, personId: 1 }, () => answer);
    first.close();
    first.close();
    const second = await open(folder);
    expect(second.answerOf('first-key')).toMatchObject(answer);
  });
});

describe('the files of a book', () => {
  it("are the owner's alone", async () => {
    const folder = join(newFolder(), 'new', 'data');
    await open(folder);
    const mode = (path: string) => lstatSync(path).mode & 0o777;
    expect(mode(folder)).toBe(0o700);
    const files = readdirSync(folder).sort();
    expect(files).toEqual([
      // No memory is shared with other programs: the book is held by this one alone.
      'clothroom.db',
      'clothroom.db-wal',
      'lock.db',
      'lock.db-journal',
    ]);
    for (const file of files) expect(mode(join(folder, file)), file).toBe(0o600);
  });

  it('are not made by who only reads a copy', async () => {
    const folder = newFolder();
    const copy = () => openCopy(folder, { clock: () => NOON });
    expect(copy).toThrow(`there is no book in ${folder}`);
    expect(readdirSync(folder)).toEqual([]);
    const book = await open(folder);
    expect(copy).toThrow(`another Clothroom has the book in ${folder} open; stop it first`);
    book.close();
    const before = fingerprint(folder);
    copy().close();
    expect(fingerprint(folder)).toEqual(before);
  });
});

describe('one process a book', () => {
  it('is the rule within a process', async () => {
    const folder = folderWithNewBook();
    const first = await open(folder);
    await expect(open(folder)).rejects.toThrow(
      new CannotOpen(`another Clothroom has the book in ${folder} open; stop it first`),
    );
    first.write({ key: 'first-key', asked: null, personId: 1 }, () => answer);
    first.close();
    await open(folder);
  });

  it('is the rule between processes, and ends with the process, however it ends', async () => {
    const folder = folderWithNewBook();
    const child = startChild(new URL('holder.child.ts', import.meta.url), [folder]);
    expect(await child.line()).toBe('open');
    await expect(open(folder)).rejects.toThrow('another Clothroom has the book');
    await child.kill();
    const book = await open(folder);
    expect(book.first(book.db.selectFrom('person').select('name'))).toEqual({ name: 'Maker' });
  });
});

describe('a file that is not to be opened', () => {
  // What SQLite and the lock keep beside it; the write-ahead file is empty where the book was closed well.
  const files = /-shm$|^lock\.db/;
  const beside = /-shm$|-wal$|^lock\.db/;

  it('is refused untouched where a newer program made it', async () => {
    const folder = folderWithNewBook();
    (await open(folder)).close();
    const before = fingerprint(folder, beside);
    const older = readMigrationSteps().slice(0, -1);
    await expect(open(folder, { steps: older })).rejects.toThrow(
      `${join(folder, 'clothroom.db')} was made by a newer Clothroom; it was left untouched`,
    );
    expect(fingerprint(folder, beside)).toEqual(before);
    await open(folder);
  });

  it('is refused untouched even where a crash left work beside it that is not in it yet', async () => {
    const [folder, crashed] = [folderWithNewBook(), newFolder()];
    const book = await open(folder);
    book.write({ key: 'first-key', asked: null, personId: 1 }, () => answer);
    book.connection.pragma('wal_checkpoint(PASSIVE)');
    book.write({ key: 'second-key', asked: null, personId: 1 }, () => answer);
    await copyOpenFiles(folder, crashed, 'clothroom.db', 'clothroom.db-wal');
    const before = fingerprint(crashed);
    await expect(open(crashed, { steps: readMigrationSteps().slice(0, -1) })).rejects.toThrow(
      'newer Clothroom',
    );
    expect(fingerprint(crashed, files)).toEqual(before);
    expect((await open(crashed)).answerOf('second-key')).toMatchObject(answer);
  });

  it.each([
    ['text', (file: string) => writeFileSync(file, 'Twelve metres of organza. '.repeat(100))],
    ['few bytes', (file: string) => writeFileSync(file, 'x')],
    [
      'a file of some other program',
      (file: string) => new BetterSqlite3(file).exec('CREATE TABLE t (a)').close(),
    ],
    [
      "a file that bears another program's mark",
      (file: string) => new BetterSqlite3(file).exec('PRAGMA application_id = 7').close(),
    ],
  ])('is refused untouched where it is %s', async (_, make) => {
    const folder = newFolder();
    make(join(folder, 'clothroom.db'));
    const before = fingerprint(folder);
    await expect(open(folder)).rejects.toThrow(`${join(folder, 'clothroom.db')} is not a Clothroom book`);
    expect(fingerprint(folder, files)).toEqual(before);
  });

  it('is not an empty one: that is where a book begins', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'clothroom.db'), '');
    const book = await open(folder);
    expect(book.connection.pragma('user_version', { simple: true })).toBe(readMigrationSteps().length);
  });
});

describe('a file whose making was broken off', () => {
  it('is made anew', async () => {
    const [folder, crashed] = [newFolder(), newFolder()];
    const raw = new BetterSqlite3(join(folder, 'clothroom.db'));
    // Little memory, so that the transaction is in the file and its journal before it is over.
    raw.exec('PRAGMA cache_size = 1; BEGIN; CREATE TABLE half (a)');
    for (let row = 0; row < 500; row += 1) raw.prepare('INSERT INTO half VALUES (?)').run('x'.repeat(500));
    await copyOpenFiles(folder, crashed, 'clothroom.db', 'clothroom.db-journal');
    raw.close();
    const look = new BetterSqlite3(join(crashed, 'clothroom.db'), { readonly: true });
    expect(() => look.prepare('SELECT * FROM half')).toThrow(
      expect.objectContaining({ code: 'SQLITE_READONLY_ROLLBACK' }),
    );
    look.close();
    const book = await open(crashed);
    expect(book.connection.pragma('user_version', { simple: true })).toBe(readMigrationSteps().length);
    expect(book.connection.pragma('integrity_check', { simple: true })).toBe('ok');
  });
});

/** Copies files in a process of its own: reading them here would drop the locks of their connection. */
async function copyOpenFiles(from: string, to: string, ...names: string[]): Promise<void> {
  const child = startChild(new URL('copier.child.ts', import.meta.url), [from, to, ...names]);
  expect(await child.rest()).toEqual(names);
}

describe('a folder that is not to be used', () => {
  it.each(['', '/', '/.'])('is a link, named with "%s" behind it', async (ending) => {
    const [folder, place] = [newFolder(), newFolder()];
    const link = join(place, 'link');
    symlinkSync(folder, link);
    await expect(open(`${link}${ending}`)).rejects.toThrow(`${link} is a link`);
    expect(readdirSync(folder)).toEqual([]);
  });

  it.each(['clothroom.db', 'lock.db'])('has a link for its %s', async (name) => {
    const [folder, place] = [folderWithNewBook(), newFolder()];
    (await open(folder)).close();
    copyFileSync(join(folder, 'clothroom.db'), join(place, 'elsewhere.db'));
    const linked = newFolder();
    symlinkSync(join(place, 'elsewhere.db'), join(linked, name));
    await expect(open(linked)).rejects.toThrow(`${join(linked, name)} is a link`);
  });

  it('is a file, or lies under one', async () => {
    const file = join(newFolder(), 'file');
    writeFileSync(file, '');
    for (const folder of [file, join(file, 'data')]) await expect(open(folder)).rejects.toThrow(CannotOpen);
  });

  it('has something else for a lock', async () => {
    const folder = newFolder();
    mkdirSync(join(folder, 'lock.db'));
    await expect(open(folder)).rejects.toThrow(`${join(folder, 'lock.db')} cannot be locked`);
  });
});
