import { closeSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Book, Tx } from '../../../server/database/book.ts';
import { translateDriverError } from '../../../server/database/driver-errors.ts';
import { Refusal } from '../../../server/refusal.ts';
import { newKey } from '../support.ts';
import { folderWithNewBook, open } from './folders.ts';

const coded = (code: string) => Object.assign(new Error('driver'), { code });

function addPlaces(count: number) {
  return (tx: Tx) => {
    for (let at = 0; at < count; at += 1) tx.run(tx.db.insertInto('place').values({ name: `Rack ${at}` }));
    return { location: '/', said: 'Done.' };
  };
}

function write(book: Book, work: (tx: Tx) => { location: string; said: string }): string {
  try {
    return book.write({ key: newKey(), asked: null, personId: 1 }, work).said;
  } catch (error) {
    if (error instanceof Refusal) return `${error.status} ${error.message}`;
    throw error;
  }
}

const countPlaces = (book: Book) => book.all(book.db.selectFrom('place').select('id')).length;

describe('what a write says', () => {
  it('where the disk is full: nothing was saved, and it goes on when there is room', async () => {
    const book = await open(folderWithNewBook());
    const pages = Number(book.connection.pragma('page_count', { simple: true }));
    book.connection.pragma(`max_page_count = ${pages}`);
    expect(write(book, addPlaces(2000))).toMatch(/^503 The disk is full\. Nothing was saved/);
    expect(countPlaces(book)).toBe(0);
    expect(book.connection.inTransaction).toBe(false);
    book.connection.pragma('max_page_count = 1000000');
    expect(write(book, addPlaces(1))).toBe('Done.');
  });

  it('where the file cannot be written', async () => {
    const book = await open(folderWithNewBook());
    book.connection.pragma('query_only = ON');
    expect(write(book, addPlaces(1))).toMatch(/^503 The book cannot be written: .* Nothing was saved\.$/);
    expect(countPlaces(book)).toBe(0);
    book.connection.pragma('query_only = OFF');
    expect(write(book, addPlaces(1))).toBe('Done.');
  });

  it('where another program is writing', async () => {
    const book = await open(folderWithNewBook());
    const busy = () => {
      throw coded('SQLITE_BUSY');
    };
    expect(write(book, busy)).toMatch(/^503 Another program is writing to the book\. Nothing was saved/);
    expect(write(book, addPlaces(1))).toBe('Done.');
  });

  it('where the disk failed: it is not known what was saved, and nothing is written until it is opened again', async () => {
    const folder = folderWithNewBook();
    const book = await open(folder);
    const failing = (tx: Tx) => {
      addPlaces(1)(tx);
      throw coded('SQLITE_IOERR_FSYNC');
    };
    expect(write(book, failing)).toMatch(/^503 The disk failed .* it is not known whether it was\./);
    expect(write(book, addPlaces(1))).toMatch(/^503 The disk failed during an earlier write/);
    expect(countPlaces(book)).toBe(0);
    book.close();
    expect(write(await open(folder), addPlaces(1))).toBe('Done.');
  });

  it('where the book is damaged', async () => {
    const folder = folderWithNewBook();
    const book = await open(folder);
    const root = book.connection
      .prepare("SELECT rootpage FROM sqlite_schema WHERE name = 'sqlite_autoindex_place_1'")
      .pluck()
      .get() as number;
    const size = Number(book.connection.pragma('page_size', { simple: true }));
    book.close();
    const handle = openSync(join(folder, 'clothroom.db'), 'r+');
    writeSync(handle, Buffer.alloc(size, 0x5a), 0, size, (root - 1) * size);
    closeSync(handle);
    const damaged = await open(folder);
    expect(write(damaged, addPlaces(1))).toMatch(/^503 The book is damaged, so nothing more is written\./);
    expect(write(damaged, addPlaces(0))).toMatch(/^503 The book is damaged, so nothing more is written\./);
  });
});

describe('what the driver says', () => {
  it.each([
    ['SQLITE_IOERR_WRITE', true],
    ['SQLITE_IOERR_FSYNC', true],
    ['SQLITE_CORRUPT', true],
    ['SQLITE_CORRUPT_INDEX', true],
    ['SQLITE_NOTADB', true],
    ['SQLITE_FULL', false],
    ['SQLITE_READONLY_DBMOVED', false],
    ['SQLITE_BUSY_SNAPSHOT', false],
  ])('is told in words for %s', (code, doubtful) => {
    const translated = translateDriverError(coded(code));
    expect(translated.trouble !== null).toBe(doubtful);
    expect(translated.error).toMatchObject({ kind: 'not-saved' });
    const { message } = translated.error as Refusal;
    expect(message.includes('Nothing was saved')).toBe(!doubtful);
  });

  it.each([coded('SQLITE_CONSTRAINT_CHECK'), new Refusal('conflict', 'No.'), 'a string', undefined])(
    'is passed on as it is where it has no meaning for a person: %s',
    (error) => {
      expect(translateDriverError(error)).toEqual({ error, trouble: null });
    },
  );
});
