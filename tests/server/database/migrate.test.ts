import { createHash } from 'node:crypto';
import { lstatSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import type { Book } from '../../../server/database/book.ts';
import { type MigrationStep, readMigrationSteps } from '../../../server/database/migrate.ts';
import { fingerprint, newFolder, open } from './folders.ts';

const steps = readMigrationSteps();

/** The program's own steps and more after them. */
function stepsWith(...sql: string[]): MigrationStep[] {
  const more = sql.map((text, index) => ({
    number: steps.length + index + 1,
    name: `9${index}.sql`,
    sql: text,
  }));
  return [...steps, ...more];
}

/** A book with a place in it, closed. */
async function makeBook(): Promise<string> {
  const folder = newFolder();
  const book = await open(folder);
  book.write({ key: 'first-key', asked: null, personId: 1 }, (tx) => {
    tx.run(tx.db.insertInto('place').values({ name: 'Rack A' }));
    return { location: '/', said: 'Rack A is there.' };
  });
  book.close();
  return folder;
}

const copiesIn = (folder: string) => readdirSync(folder).filter((name) => name.startsWith('before-'));
const placesOf = (book: Book) => book.all(book.db.selectFrom('place').select('name'));
const versionOf = (book: Book) => book.connection.pragma('user_version', { simple: true });

describe('bringing a book up to date', () => {
  it('runs the steps that it has not had, in order', async () => {
    const folder = await makeBook();
    const first = 'CREATE TABLE rack (name TEXT) STRICT';
    const book = await open(folder, { steps: stepsWith(first, 'INSERT INTO rack SELECT name FROM place') });
    expect(book.connection.prepare('SELECT name FROM rack').pluck().all()).toEqual(['Rack A']);
    expect(versionOf(book)).toBe(steps.length + 2);
    expect(book.connection.pragma('foreign_keys', { simple: true })).toBe(1);
    book.close();
    expect(versionOf(await open(folder, { steps: stepsWith(first, 'SELECT 1') }))).toBe(steps.length + 2);
    expect(copiesIn(folder)).toHaveLength(1);
  });

  it('copies it before, into one file that opens as the book it was', async () => {
    const folder = await makeBook();
    (await open(folder, { steps: stepsWith('DELETE FROM place') })).close();
    expect(readdirSync(folder).sort()).toEqual([
      `before-version-${steps.length + 1}-2026-03-02T12-00-00-000Z.db`,
      'clothroom.db',
      'lock.db',
    ]);
    const [copy = ''] = copiesIn(folder);
    expect(lstatSync(join(folder, copy)).mode & 0o777).toBe(0o600);
    const elsewhere = newFolder();
    renameSync(join(folder, copy), join(elsewhere, 'clothroom.db'));
    const book = await open(elsewhere);
    expect(versionOf(book)).toBe(steps.length);
    expect(placesOf(book)).toEqual([{ name: 'Rack A' }]);
    expect(book.answerOf('first-key')?.said).toBe('Rack A is there.');
  });

  it('says what room it needs where there is too little, and leaves all as it was', async () => {
    const folder = await makeBook();
    const before = fingerprint(folder);
    const size = lstatSync(join(folder, 'clothroom.db')).size;
    const needed = `${Math.ceil((3 * size + 4_000_000) / 100_000) / 10} MB`;
    const more = stepsWith('CREATE TABLE rack (name TEXT) STRICT');
    await expect(open(folder, { steps: more, room: () => 1_250_000 })).rejects.toThrow(
      `needs ${needed} of room in ${folder}, for a copy and for the work itself; 1.3 MB is free. Nothing was changed`,
    );
    expect(fingerprint(folder, /-shm$|-wal$/)).toEqual(before);
    const book = await open(folder, { steps: more, room: () => 3 * size + 4_100_000 });
    expect(versionOf(book)).toBe(steps.length + 1);
  });

  it('says so too where the room runs out in the middle', async () => {
    const folder = await makeBook();
    const full = stepsWith(
      'CREATE TABLE rack (name TEXT) STRICT; PRAGMA max_page_count = 1; ' +
        "INSERT INTO rack SELECT printf('%.*c', 100000, 'x') FROM (SELECT 1 UNION SELECT 2)",
    );
    await expect(open(folder, { steps: full })).rejects.toThrow(
      'Nothing was changed: make room and start again',
    );
    expect(versionOf(await open(folder))).toBe(steps.length);
  });

  it('copies nothing where there is nothing yet', async () => {
    const folder = newFolder();
    await open(folder);
    expect(copiesIn(folder)).toEqual([]);
  });

  it.each([
    [
      'a step fails',
      ['CREATE TABLE rack (name TEXT) STRICT; DELETE FROM place', 'SELECT missing FROM place'],
      'no such column',
    ],
    ['a step breaks off', ["UPDATE place SET name = 'Rack B'; INSERT INTO place"], 'incomplete input'],
    ['a rule of the book refuses', ['DELETE FROM request'], 'never removed'],
    [
      'rows are left that point nowhere',
      ["INSERT INTO lot (code, cloth_id, shade_id, origin) VALUES ('L1', 99, 99, 'mill')"],
      'the migration left rows that point nowhere',
    ],
  ])('leaves it as it was where %s', async (_, sql, said) => {
    const folder = await makeBook();
    const before = fingerprint(folder)['clothroom.db'];
    await expect(open(folder, { steps: stepsWith(...sql) })).rejects.toThrow(said);
    expect(fingerprint(folder)['clothroom.db']).toBe(before);
    expect(copiesIn(folder)).toHaveLength(1);
    const book = await open(folder);
    expect(versionOf(book)).toBe(steps.length);
    expect(placesOf(book)).toEqual([{ name: 'Rack A' }]);
    expect(
      book.connection.prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'rack'").pluck().get(),
    ).toBe(0);
  });
});

describe('the steps', () => {
  it('are read in the order of their numbers', () => {
    const numbers = steps.map(({ number }) => number);
    expect(numbers).toEqual(steps.map((_, index) => index + 1));
  });

  it('have no gap', () => {
    const folder = newFolder();
    mkdirSync(join(folder, 'steps'));
    for (const name of ['001-a.sql', '003-c.sql']) writeFileSync(join(folder, 'steps', name), 'SELECT 1;');
    expect(() => readMigrationSteps(pathToFileURL(join(folder, 'steps/')))).toThrow(
      'migration 003-c.sql is out of order',
    );
  });

  // A step that was released is never changed: books in use have run it, and a change is a step of its own.
  // The list is made anew by: (cd migrations && sha256sum *.sql) > tests/server/database/frozen-steps.txt
  it('are frozen', () => {
    const hash = (text: string) => createHash('sha256').update(text).digest('hex');
    const frozen = readFileSync(new URL('frozen-steps.txt', import.meta.url), 'utf8')
      .trim()
      .split('\n');
    expect(steps.map(({ name, sql }) => `${hash(sql)}  ${name}`)).toEqual(frozen);
  });
});
