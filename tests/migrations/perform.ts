import type BetterSqlite3 from 'better-sqlite3';

/** A statement that writes a row of plain values, and the values apart from it. */
interface Written {
  readonly sql: string;
  readonly values: readonly (string | bigint | null)[];
}

const ROW = /^(INSERT (?:OR \w+ )?INTO "\w+" \([^)]*\) VALUES) \((.*)\)$/s;
const VALUE = /(?:(NULL)|(-?\d+)|'((?:[^']|'')*)')(?:, |$)/y;

const known = new Map<string, Written | null>();
const compiled = new WeakMap<BetterSqlite3.Database, Map<string, BetterSqlite3.Statement>>();

/**
 * Carries out a statement. Most of the time of writing a row goes into compiling all triggers of its table: rows with
 * the same columns are written by one compiled statement.
 */
export function perform(db: BetterSqlite3.Database, statement: string): void {
  const written = takenApart(statement);
  if (!written) {
    db.exec(statement);
    return;
  }
  const ofBook = compiled.get(db) ?? new Map<string, BetterSqlite3.Statement>();
  const one = ofBook.get(written.sql) ?? db.prepare(written.sql);
  compiled.set(db, ofBook.set(written.sql, one));
  one.run(written.values);
}

/** Takes the values out of a statement; null where it does anything else, or one of them is no plain value. */
export function takenApart(statement: string): Written | null {
  const written = known.has(statement) ? known.get(statement) : readRow(statement);
  known.set(statement, written ?? null);
  return written ?? null;
}

function readRow(statement: string): Written | null {
  const [, into = '', list = ''] = ROW.exec(statement) ?? [];
  const values: (string | bigint | null)[] = [];
  VALUE.lastIndex = 0;
  while (VALUE.lastIndex < list.length) {
    const found = VALUE.exec(list);
    if (!found) return null;
    const [, nothing, whole, text = ''] = found;
    values.push(nothing ? null : whole ? BigInt(whole) : text.replaceAll("''", "'"));
  }
  return values.length === 0 ? null : { sql: `${into} (${values.map(() => '?').join(', ')})`, values };
}
