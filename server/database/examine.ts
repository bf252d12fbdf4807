import { createHash } from 'node:crypto';
import BetterSqlite3 from 'better-sqlite3';
import { driverCode } from './driver-errors.ts';
import type { MigrationStep } from './migrate.ts';

/** How the pages of a file are looked through: all that is in them, or without comparing indexes to their rows. */
export type Thoroughness = 'whole' | 'quick';

/** What is wrong with the file itself, a sentence each: its pages, its guards, and rows that point nowhere. */
export function examine(
  connection: BetterSqlite3.Database,
  steps: readonly MigrationStep[],
  how: Thoroughness,
): string[] {
  return [
    ...orUnread('The pages of the file', () => findDamage(connection, how)),
    ...orUnread('The form of the file', () => findLostGuards(connection, steps)),
    ...orUnread('The references between rows', () => findOrphans(connection)),
  ];
}

/** What some check finds; one that a damaged file breaks off is a finding itself. */
export function orUnread(what: string, look: () => string[]): string[] {
  try {
    return look();
  } catch (error) {
    if (!driverCode(error).startsWith('SQLITE_')) throw error;
    return [`${what} could not be read, so the file is damaged: ${(error as Error).message}.`];
  }
}

/** The pages of the file, its indexes, and the checks of every row. */
function findDamage(connection: BetterSqlite3.Database, how: Thoroughness): string[] {
  const said = connection.prepare(how === 'whole' ? 'PRAGMA integrity_check' : 'PRAGMA quick_check').pluck();
  return (said.all() as string[]).filter((line) => line !== 'ok').map(tellDamage);
}

// SQLite begins a report with its own heading, and tells several things in one row.
function tellDamage(line: string): string {
  return `The file is damaged: ${line.replace(/^\*\*\* in database main \*\*\*\s*/, '').replaceAll('\n', '; ')}.`;
}

/** A trigger or check that is missing from the file would let the next mistake through. */
function findLostGuards(connection: BetterSqlite3.Database, steps: readonly MigrationStep[]): string[] {
  const made = schemaOfSteps(steps);
  const held = readSchema(connection);
  const findings: string[] = [];
  for (const [name, sql] of made) {
    if (!held.has(name)) findings.push(`The file has lost ${name}, which it was made with.`);
    else if (held.get(name) !== sql) findings.push(`The file has ${name} changed since it was made.`);
  }
  for (const name of held.keys()) {
    if (!made.has(name)) findings.push(`The file has ${name}, which Clothroom did not make.`);
  }
  return findings;
}

const made = new Map<string, ReadonlyMap<string, string>>();

/** What the steps make, worked out once for the same steps. */
function schemaOfSteps(steps: readonly MigrationStep[]): ReadonlyMap<string, string> {
  const hash = createHash('sha256');
  for (const { sql } of steps) hash.update(sql).update('\0');
  const key = hash.digest('hex');
  const known = made.get(key);
  if (known) return known;
  const fresh = new BetterSqlite3(':memory:');
  for (const step of steps) fresh.exec(step.sql);
  const schema = readSchema(fresh);
  fresh.close();
  made.set(key, schema);
  return schema;
}

/** Every table, index and trigger by type and name; those that SQLite keeps for itself are left out. */
function readSchema(connection: BetterSqlite3.Database): Map<string, string> {
  const rows = connection
    .prepare("SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite~_%' ESCAPE '~'")
    .all() as { type: string; name: string; sql: string }[];
  return new Map(rows.map(({ type, name, sql }) => [`the ${type} ${name}`, sql]));
}

/** Rows that point to a row that is not there; the integrity check does not look at them. */
function findOrphans(connection: BetterSqlite3.Database): string[] {
  const orphans = connection.pragma('foreign_key_check') as {
    table: string;
    rowid: number | null;
    parent: string;
  }[];
  const seen = new Map<string, { rowid: number | null; count: number }>();
  for (const { table, rowid, parent } of orphans) {
    const key = `${table} points to ${/^[aeiou]/.test(parent) ? 'an' : 'a'} ${parent.replaceAll('_', ' ')}`;
    const first = seen.get(key);
    seen.set(key, { rowid: first?.rowid ?? rowid, count: (first?.count ?? 0) + 1 });
  }
  return [...seen].map(([what, { rowid, count }]) => {
    const row = rowid === null ? 'A row' : `Row ${rowid}`;
    const more = count > 1 ? ` So ${count === 2 ? 'does' : 'do'} ${count - 1} more.` : '';
    return `${row} of ${what} that is not in the book.${more}`;
  });
}
