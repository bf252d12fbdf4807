import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Book } from '../../../server/database/book.ts';
import { exportWorkroom, importWorkroom } from '../../../server/ledger/whole-workroom.ts';
import { openDemo } from '../../seed-demo/demo.ts';
import { openTestBook, type TestBook } from '../support.ts';

let demo: TestBook;
let text: string;
const whole = (book: Book) => [...exportWorkroom(book)].join('');
beforeAll(async () => {
  demo = await openDemo();
  text = whole(demo.book);
});
afterAll(() => demo.close());

/** Imports into a new book, does something with it, and throws it away. */
async function into<T>(given: string, then: (book: Book) => T): Promise<T> {
  const fresh = await openTestBook();
  try {
    importWorkroom(fresh.book, given);
    return then(fresh.book);
  } finally {
    fresh.close();
  }
}

describe('the whole workroom', () => {
  it('goes into an empty book and comes out the same, letter by letter', async () => {
    expect(JSON.parse(text).tables.entry.rows.length).toBeGreaterThan(50);
    expect(await into(text, whole)).toBe(text);
  });

  it('keeps the guards of the ledger', async () => {
    await into(text, ({ connection }) => {
      expect(() => connection.exec('DELETE FROM entry')).toThrow('an entry is never removed');
      expect(() => connection.exec('UPDATE piece SET on_hand_ticks = on_hand_ticks + 1')).toThrow();
    });
  });

  it('goes on giving out numbers where the other stopped', async () => {
    await into(text, (book) => {
      book.write({ key: 'after-import', asked: null, personId: 1 }, (tx) => {
        const made = tx.run(tx.db.insertInto('place').values({ name: 'Rack Z' }));
        expect(made.lastId).toBe(JSON.parse(text).sequences.place + 1);
        return { location: '/', said: 'Done.' };
      });
    });
  });

  it.each([
    ['no JSON', () => '{"clothroom"', 'is no JSON'],
    ['another file', () => '{"name":"x"}', 'is no exported workroom'],
    ['another version', () => text.replace(/"version":\d+/, '"version":3'), 'of version 3'],
    ['another table', () => text.replace('\n"place":{', '\n"platz":{'), 'not those of a workroom'],
    ['a balance by hand', () => changed('piece', 'on_hand_ticks', 1), 'do not agree'],
    ['an entry changed', () => changed('entry', 'length_ticks', 160), 'do not agree'],
    ['a row that points nowhere', () => changed('entry', 'piece_id', 99_999), 'point nowhere'],
    ['a day that does not exist', () => changed('garment', 'due_on', '2026-02-30'), 'no such day'],
    ['a time that does not exist', () => changed('entry', 'at', '2026-02-28T25:00:00.000Z'), 'no such day'],
    ['nobody left', () => everybodyGone(), 'Everybody in the book has left'],
    ['a row that is not lawful', () => changed('place', 'name', ''), 'is not lawful'],
  ])('is refused whole: %s', async (_, make, message) => {
    const fresh = await openTestBook();
    const before = whole(fresh.book);
    expect(() => importWorkroom(fresh.book, make())).toThrow(message);
    expect(whole(fresh.book)).toBe(before);
    fresh.close();
  });

  it('goes into no book that was written in', () => {
    expect(() => importWorkroom(demo.book, text)).toThrow('into an empty book only');
  });
});

/** The export with one cell of a table's last row changed. */
function changed(table: string, column: string, value: string | number): string {
  const all = JSON.parse(text);
  const { columns, rows } = all.tables[table];
  const row = rows.at(-1);
  const at = columns.indexOf(column);
  row[at] = typeof value === 'number' && column.endsWith('_ticks') ? row[at] + value : value;
  return JSON.stringify(all);
}

function everybodyGone(): string {
  const all = JSON.parse(text);
  const { columns, rows } = all.tables.person;
  for (const row of rows) row[columns.indexOf('left_at')] = '2026-03-01T12:00:00.000Z';
  return JSON.stringify(all);
}
