import { type SqlBool, sql } from 'kysely';

/** What queries call the rows of `entry` that they ask it of. */
type EntryName = 'entry' | 'sent' | 'back' | 'kept' | 'cut';

/** For queries over `entry`, under the name that it has there: the entry was not undone. */
export function inForce(name: EntryName) {
  return sql<SqlBool>`NOT EXISTS (
    SELECT 1 FROM entry AS undoing WHERE undoing.reverses_id = ${sql.ref(`${name}.id`)})`;
}

/** The same for the checks of a book, which are written as they are sent to the file. */
export function inForceText(name: EntryName | 'made' | 'other'): string {
  return `NOT EXISTS (SELECT 1 FROM entry AS undoing WHERE undoing.reverses_id = ${name}.id)`;
}
