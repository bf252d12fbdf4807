import { sql } from 'kysely';
import { Book, type Reader } from './book.ts';
import { prepared } from './statements.ts';

/** Rows that were written through the connection so far, by triggers too; nobody else writes to an open book. */
const changesSoFar = prepared((db) => db.selectNoFrom(sql<number>`total_changes()`.as('changes')));

/**
 * Works something out of the book once and keeps it until anything is written. It must follow from the book alone, and
 * not from the time. Within a write it is worked out anew.
 */
export function keptUntilWritten<T>(work: (reader: Reader) => T): (reader: Reader) => T {
  const kept = new WeakMap<Book, { readonly changes: number; readonly value: T }>();
  return (reader) => {
    if (!(reader instanceof Book) || reader.connection.inTransaction) return work(reader);
    const { changes } = reader.first(changesSoFar()) ?? { changes: -1 };
    const known = kept.get(reader);
    if (known?.changes === changes) return known.value;
    const value = work(reader);
    kept.set(reader, { changes, value });
    return value;
  };
}
