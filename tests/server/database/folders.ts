import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Book } from '../../../server/database/book.ts';
import { openBook } from '../../../server/database/open.ts';
import { afterEachTest } from '../../after-each.ts';
import { NOON, putNewBook } from '../support.ts';

const folders: string[] = [];
const books: Book[] = [];

afterEachTest(() => {
  for (const book of books.splice(0)) book.close();
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** A folder of its own for one test, removed afterwards. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-test-'));
  folders.push(folder);
  return folder;
}

/** The same with a new book in it, which was made once. That one is made where nothing lies is tested on empty folders. */
export function folderWithNewBook(): string {
  const folder = newFolder();
  putNewBook(folder);
  return folder;
}

/** Opens a book that is closed after the test. */
export async function open(
  folder: string,
  options: Partial<Parameters<typeof openBook>[1]> = {},
): Promise<Book> {
  const book = await openBook(folder, { clock: () => NOON, ...options });
  books.push(book);
  return book;
}

/** Every file of a folder with a hash of its bytes. Never of an open book: reading its files would drop its locks. */
export function fingerprint(folder: string, without: RegExp = /$^/): Record<string, string> {
  const names = readdirSync(folder).filter((name) => !without.test(name));
  const hash = (name: string) =>
    createHash('sha256')
      .update(readFileSync(join(folder, name)))
      .digest('hex');
  return Object.fromEntries(names.map((name) => [name, hash(name)]));
}
