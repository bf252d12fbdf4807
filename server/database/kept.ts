import { sql } from 'kysely';
import { Book, type Reader } from './book.ts';
import { prepared } from './statements.ts';

/** Rows that were written through the connection so far, by triggers too; nobody else writes to an open book. */
const changesSoFar = prepared((db) => db.selectNoFrom(sql<number>`total_changes()`.as('changes')));

/** Of so many keys each answer is kept: who goes through the whole book between two writes does not fill the memory. */
const MOST_KEPT = 100;

/**
 * Works something out of the book once for each key and keeps it until anything is written. It must follow from the book
 * and the key alone, and not from the time. Within a write it is worked out anew.
 */
export function keptUntilWritten<Key extends readonly (string | number)[], T>(
  work: (reader: Reader, ...key: Key) => T,
): (reader: Reader, ...key: Key) => T {
  const kept = new WeakMap<Book, { readonly changes: number; readonly byKey: Map<string, T> }>();
  return (reader, ...key) => {
    if (!(reader instanceof Book) || reader.connection.inTransaction) return work(reader, ...key);
    const { changes } = reader.first(changesSoFar()) ?? { changes: -1 };
    const before = kept.get(reader);
    const { byKey } = before?.changes === changes ? before : { byKey: new Map<string, T>() };
    const name = key.join(' ');
    const known = byKey.get(name);
    if (known !== undefined) return known;
    const value = work(reader, ...key);
    const [first] = byKey.keys();
    if (byKey.size >= MOST_KEPT && first !== undefined) byKey.delete(first);
    kept.set(reader, { changes, byKey: byKey.set(name, value) });
    return value;
  };
}
