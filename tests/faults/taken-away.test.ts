import { execFileSync } from 'node:child_process';
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { isStrangeWriteAhead } from '../../server/database/write-ahead.ts';
import { copyFiles, folderAfterCrash, folderWith, newFolder, otherProgram, serveFolder } from './door.ts';

describe('a book that goes while it is open', () => {
  it.each([
    ['is deleted', (folder: string) => rmSync(join(folder, 'clothroom.db'))],
    ['is moved with its folder', (folder: string) => renameSync(folder, `${folder}-moved`)],
    ['loses its write-ahead file', (folder: string) => rmSync(join(folder, 'clothroom.db-wal'))],
    [
      'is replaced by another',
      (folder: string) => {
        rmSync(join(folder, 'clothroom.db'));
        writeFileSync(join(folder, 'clothroom.db'), 'another');
      },
    ],
  ])(
    'takes no more work where it %s, says so on every page, and gives out all that it holds',
    async (_, take) => {
      const folder = await folderWith('Ilse');
      const serving = await serveFolder(folder);
      expect((await serving.addPerson('Jonas')).status).toBe(200);
      take(folder);
      const refused = await serving.addPerson('Lost');
      expect(refused.status).toBe(503);
      expect(refused.text).toContain('was moved, deleted or replaced while it was open');
      for (const path of ['/', '/shelf', '/setup/people', '/no-such-page']) {
        const { text } = await serving.page(path);
        expect(text, path).toContain('was moved, deleted or replaced while it was open');
        expect(text, path).toContain('href="/trouble"');
      }
      const { text } = await serving.page('/trouble');
      expect(text).toContain('Download the whole workroom');
      const { status, text: whole } = await serving.page('/trouble/workroom.json');
      expect(status).toBe(200);
      expect(JSON.stringify(JSON.parse(whole).tables.person.rows)).toContain('Jonas');
      expect(whole).not.toContain('Lost');
      rmSync(`${folder}-moved`, { recursive: true, force: true });
    },
  );

  it('is left alone where only its lock is deleted, and lets no second server in', async () => {
    const folder = await folderWith('Ilse');
    const first = await serveFolder(folder);
    for (const name of ['lock.db', 'lock.db-journal']) rmSync(join(folder, name), { force: true });
    await expect(serveFolder(folder)).rejects.toThrow(/another (Clothroom|program) .* stop it first/);
    expect((await first.addPerson('Jonas')).status).toBe(200);
    expect((await first.page('/setup/people')).text).toContain('Jonas');
  });
});

describe('another program at the file', () => {
  it.each(['BEGIN IMMEDIATE', 'BEGIN EXCLUSIVE', 'BEGIN; SELECT count(*) FROM person'])(
    'holds nobody up with %s, since the book is held already',
    async (sql) => {
      const folder = await folderWith('Ilse');
      const serving = await serveFolder(folder);
      const other = otherProgram(folder, sql);
      expect(await other.line()).toBe('SQLITE_BUSY');
      const from = performance.now();
      expect((await serving.addPerson('Jonas')).status).toBe(200);
      // Waiting for the other program used to take five seconds.
      expect(performance.now() - from).toBeLessThan(4500);
      await other.kill();
    },
  );

  it('that was there first is named, and nothing is opened', async () => {
    const folder = await folderWith('Ilse');
    const other = otherProgram(folder, 'PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE');
    expect(await other.line()).toBe('held');
    await expect(serveFolder(folder)).rejects.toThrow(/another (Clothroom|program) .* stop it first/);
    await other.kill();
    expect((await (await serveFolder(folder)).addPerson('Jonas')).status).toBe(200);
  });
});

describe('a book that is not where it was', () => {
  it.each([
    ['empty', (file: string) => writeFileSync(file, '')],
    ['missing', (file: string) => rmSync(file)],
  ])('is not begun anew beside a full write-ahead file where it is %s', async (_, lose) => {
    const folder = await folderAfterCrash(await folderWith('Ilse'), 'Jonas', 'Maren');
    const kept = newFolder();
    copyFiles(folder, kept, 'clothroom.db');
    lose(join(folder, 'clothroom.db'));
    await expect(serveFolder(folder)).rejects.toThrow('clothroom.db-wal');
    // Put back, it has everything that was answered.
    copyFiles(kept, folder, 'clothroom.db');
    const { text } = await (await serveFolder(folder)).page('/setup/people');
    for (const name of ['Ilse', 'Jonas', 'Maren']) expect(text).toContain(name);
  });

  it.each(['lock.db', 'before-version-9-2026-03-02T12-00-00-000Z.db'])(
    'is not begun anew beside %s, and the words say how a copy is put back',
    async (name) => {
      const folder = newFolder();
      writeFileSync(join(folder, name), '');
      const refused = serveFolder(folder);
      await expect(refused).rejects.toThrow(name);
      await expect(refused).rejects.toThrow('clothroom.db is missing');
    },
  );

  it('is begun where the first start was broken off', async () => {
    const folder = newFolder();
    for (const name of ['clothroom.db.part', 'clothroom.db.part-journal', 'lock.db'])
      writeFileSync(join(folder, name), '');
    expect((await (await serveFolder(folder)).addPerson('Jonas')).status).toBe(200);
  });
});

describe("an older book beside a crash's write-ahead file", () => {
  it('is refused with what to do, and opens once that is done', async () => {
    const folder = await folderWith('Ilse');
    const older = newFolder();
    copyFiles(folder, older, 'clothroom.db');
    // What came between is in the book; what came last is in the write-ahead file alone.
    const between = Array.from({ length: 400 }, (_, at) => `Hand ${at} ${'x'.repeat(40)}`);
    const serving = await serveFolder(folder);
    for (const name of between) await serving.addPerson(name);
    await serving.stop();
    const crashed = await folderAfterCrash(folder, 'Jonas');
    copyFiles(older, crashed, 'clothroom.db');
    const refused = serveFolder(crashed);
    await expect(refused).rejects.toThrow('does not belong to the write-ahead file beside it');
    await expect(refused).rejects.toThrow('Move clothroom.db-wal');
    for (const name of ['clothroom.db-wal', 'clothroom.db-shm']) rmSync(join(crashed, name), { force: true });
    const { text } = await (await serveFolder(crashed)).page('/setup/people');
    expect(text).toContain('Ilse');
    expect(text).not.toContain('Jonas');
  });

  it('is told from two crashes in a row, the first just after the write-ahead file began anew', async () => {
    const folder = await folderWith('Ilse');
    const first = await serveFolder(folder);
    await first.addPerson('Jonas');
    first.book.connection.pragma('wal_checkpoint(PASSIVE)');
    // It begins anew with this, which leaves the first page as it is.
    first.book.connection.exec("UPDATE person SET name = 'Jona' WHERE name = 'Jonas'");
    const crashed = newFolder();
    execFileSync('cp', ['-r', `${folder}/.`, crashed]);
    await first.stop();
    const again = await folderAfterCrash(crashed);
    const { text } = await (await serveFolder(again)).page('/setup/people');
    expect(text).toContain('Jona<');
  });

  it('is told from an honest crash, after a crash or two, and from every copy but the one that it began with', async () => {
    let folder = await folderWith('Ilse');
    const copies: string[] = [];
    const told: boolean[][] = [];
    // Enough to move the write-ahead file into the book in the middle, and to begin it anew.
    for (const [session, count] of [1, 150, 1, 1].entries()) {
      const copy = newFolder();
      copyFiles(folder, copy, 'clothroom.db');
      copies.push(copy);
      const names = Array.from({ length: count }, (_, at) => `Hand ${session} ${at} ${'x'.repeat(45)}`);
      const crashed = await folderAfterCrash(folder, ...names);
      expect(isStrangeWriteAhead(join(crashed, 'clothroom.db'))).toBe(false);
      told.push(
        copies.map((from) => {
          const mixed = newFolder();
          copyFiles(crashed, mixed, 'clothroom.db-wal');
          copyFiles(from, mixed, 'clothroom.db');
          return isStrangeWriteAhead(join(mixed, 'clothroom.db'));
        }),
      );
      if (session === 2) folder = crashed;
    }
    expect(told[0]).toEqual([false]);
    expect(told[2]).toEqual([true, true, false]);
  });
});
