import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import type { Book } from '../../../server/database/book.ts';
import { copiesIn } from '../../../server/database/folder.ts';
import { openBook } from '../../../server/database/open.ts';
import { openCopy } from '../../../server/database/open-copy.ts';
import { exportWorkroom } from '../../../server/ledger/whole-workroom.ts';
import { afterEachTest } from '../../after-each.ts';
import { makeBolt, makeStock, openTestBook } from '../support.ts';

export const AT = '2026-03-02T12:00:00.000Z';

/** The time of the books that are opened here; each test begins at noon. */
export const time = { now: Date.parse(AT) };
const clock = () => new Date(time.now);

const opened: Book[] = [];
afterEachTest(() => {
  time.now = Date.parse(AT);
  for (const book of opened.splice(0)) book.close();
});

export async function open(folder: string): Promise<Book> {
  const book = await openBook(folder, { clock });
  opened.push(book);
  return book;
}

/** A folder with a book that has a bolt in it. */
export async function folderWithBolt(): Promise<string> {
  const test = await openTestBook();
  test.write((tx) => makeBolt(tx, makeStock(tx).lotId, '12 m'));
  const folder = test.putDown();
  test.close();
  return folder;
}

export function exported(folder: string): string {
  const copy = openCopy(folder, { clock });
  try {
    return [...exportWorkroom(copy.book)].join('');
  } finally {
    copy.close();
  }
}

export const copiesOf = (folder: string) =>
  copiesIn(join(folder, 'copies')).map(({ name }) => join(folder, 'copies', name));

/** Puts an invented photo beside a book, under the hash of its bytes. */
export function putPhoto(folder: string, text: string): string {
  const name = `${createHash('sha256').update(text).digest('hex')}.jpg`;
  mkdirSync(join(folder, 'photos'), { recursive: true });
  writeFileSync(join(folder, 'photos', name), text);
  return name;
}
/** Puts a photo beside a closed book with a row that names it. */
export function putNamedPhoto(folder: string, text: string): string {
  const name = putPhoto(folder, text);
  const raw = new BetterSqlite3(join(folder, 'clothroom.db'));
  const lot = raw.prepare('SELECT id FROM lot').pluck().get();
  const setId = raw
    .prepare(
      "INSERT INTO photo_set (kind, lot_id, layers, state, light, card_bp, backing, at, person_id) VALUES ('alone', ?, 4, 'dry', 'daylight', 1800, 'white', '2026-03-02T12:00:00.000Z', 1)",
    )
    .run(lot).lastInsertRowid;
  raw
    .prepare(
      "INSERT INTO photo (set_id, sha256, width_px, height_px, at, person_id) VALUES (?, ?, 1600, 1200, '2026-03-02T12:00:00.000Z', 1)",
    )
    .run(setId, name.slice(0, 64));
  raw.close();
  return name;
}
