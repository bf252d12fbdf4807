import { createHash } from 'node:crypto';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readSteps } from '../../../server/database/migrate.ts';
import { CannotOpen, openBook } from '../../../server/database/open.ts';
import { NOON } from '../support.ts';

const clock = () => NOON;
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clothroom-open-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const file = () => join(folder, 'clothroom.db');
const open = (options: Partial<Parameters<typeof openBook>[1]> = {}) =>
  openBook(folder, { clock, ...options });

/** What a plain connection does to the file while no book is open. */
function raw<T>(work: (connection: BetterSqlite3.Database) => T): T {
  const connection = new BetterSqlite3(file());
  try {
    return work(connection);
  } finally {
    connection.close();
  }
}

describe('a book that is opened again', () => {
  it('still waits for the disk at every commit, and keeps every guard switched on', async () => {
    (await open()).close();
    const book = await open();
    const read = (name: string) => book.connection.pragma(name, { simple: true });
    expect({
      journal: read('journal_mode'),
      // 2 is FULL: a write-ahead file that is opened again would run at NORMAL by itself.
      synchronous: read('synchronous'),
      foreignKeys: read('foreign_keys'),
      recursiveTriggers: read('recursive_triggers'),
      trustedSchema: read('trusted_schema'),
      cellSizeCheck: read('cell_size_check'),
    }).toEqual({
      journal: 'wal',
      synchronous: 2,
      foreignKeys: 1,
      recursiveTriggers: 1,
      trustedSchema: 0,
      cellSizeCheck: 1,
    });
    book.close();
  });

  it('is the owner’s alone', async () => {
    const book = await open();
    for (const name of readdirSync(folder)) expect(statSync(join(folder, name)).mode & 0o077).toBe(0);
    book.close();
  });
});

describe('what cannot be opened', () => {
  it('is a book that is open already; it can be once that is closed', async () => {
    const first = await open();
    await expect(open()).rejects.toThrow(/another Clothroom has the book in .* open/);
    first.close();
    (await open()).close();
  });

  it('is a book of a newer program, which stays as it is to the byte', async () => {
    (await open()).close();
    raw((connection) => connection.pragma('user_version = 999'));
    const before = readFileSync(file());
    await expect(open()).rejects.toThrow(/made by a newer Clothroom; it was left untouched/);
    expect(readFileSync(file()).equals(before)).toBe(true);
  });

  it('is a file of another program, and what is no database', async () => {
    raw((connection) => connection.exec('CREATE TABLE recipes (name TEXT)'));
    await expect(open()).rejects.toThrow(/is not a Clothroom book/);
    expect(raw((connection) => connection.prepare('SELECT name FROM sqlite_schema').pluck().all())).toEqual([
      'recipes',
    ]);
    writeFileSync(
      file(),
      'a letter to the supplier, long enough to be no header of any database file at all',
    );
    await expect(open()).rejects.toThrow(/is not a Clothroom book/);
  });

  it('is a link in the place of the folder, and a book that must be there and is not', async () => {
    const real = join(folder, 'real');
    mkdirSync(real);
    const link = join(folder, 'link');
    symlinkSync(real, link);
    await expect(openBook(link, { clock })).rejects.toThrow(CannotOpen);
    await expect(open({ make: false })).rejects.toThrow(/there is no book in/);
  });
});

describe('bringing a book up to date', () => {
  const steps = readSteps();
  const good = {
    number: steps.length + 1,
    name: '999-good.sql',
    sql: 'CREATE TABLE extra (id INTEGER) STRICT;',
  };

  it('copies it first, and the copy is the book as it was', async () => {
    (await open()).close();
    const book = await open({ steps: [...steps, good] });
    expect(book.connection.pragma('user_version', { simple: true })).toBe(steps.length + 1);
    book.close();
    const [copy] = readdirSync(folder).filter((name) => name.startsWith('before-version-'));
    const before = new BetterSqlite3(join(folder, copy ?? ''), { readonly: true });
    expect(before.pragma('user_version', { simple: true })).toBe(steps.length);
    expect(before.pragma('integrity_check', { simple: true })).toBe('ok');
    before.close();
  });

  it('leaves it as it was when a step fails, the steps before it included', async () => {
    (await open()).close();
    const bad = {
      number: steps.length + 2,
      name: '999-bad.sql',
      sql: 'CREATE TABLE more (id INTEGER); SELECT nothing;',
    };
    await expect(open({ steps: [...steps, good, bad] })).rejects.toThrow();
    const book = await open();
    const tables = book.connection.prepare('SELECT name FROM sqlite_schema').pluck().all();
    expect(tables).not.toContain('extra');
    expect(tables).not.toContain('more');
    book.close();
  });

  it('takes steps in their order, without a gap', () => {
    expect(steps.map(({ number }) => number)).toEqual(steps.map((_, index) => index + 1));
  });

  // A step that was released is never changed: books in use have run it. A change is a step of its own.
  // For a new step, add its line, the first 16 digits of: sha256sum migrations/*.sql
  it('runs frozen steps', () => {
    const seen = Object.fromEntries(
      steps.map(({ name, sql }) => [name, createHash('sha256').update(sql).digest('hex').slice(0, 16)]),
    );
    expect(seen).toEqual(FROZEN);
  });
});

const FROZEN = {
  '001-workroom.sql': '70b7fbf8cfe3a9f2',
  '002-shelf.sql': '054685891af5041d',
  '003-garments.sql': '23f6db3cd23ac1e2',
  '004-orders.sql': '3c3b9b4d361f7d23',
  '005-dye-bench.sql': '7d2120140518dc76',
  '006-ledger.sql': '7ccb5f447ace8597',
};
