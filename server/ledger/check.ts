import BetterSqlite3 from 'better-sqlite3';
import type { Book } from '../database/book.ts';
import { readSteps } from '../database/migrate.ts';
import { findUnevenBalances, findUnevenHolds } from './check-balances.ts';
import { findUnevenCosts } from './check-costs.ts';
import { findImpossibleDays, findNobody } from './check-days.ts';
import { findUnevenBatches, findUnevenEntries } from './check-entries.ts';
import { Findings } from './findings.ts';

/** What was read of the book, and every disagreement in it as a sentence for a person. */
export interface BookCheck {
  readonly findings: string[];
  readonly read: {
    readonly pieces: number;
    readonly entries: number;
    readonly holds: number;
    readonly requests: number;
  };
}

/**
 * Proves the whole book: the file itself, the guards in it, every balance and hold against the entries, and
 * that length and cost are conserved. Nothing is written or mended.
 */
export function checkBook(book: Book): BookCheck {
  const findings = new Findings(book);
  findDamage(book, findings);
  findLostGuards(book, findings);
  findOrphans(book, findings);
  findUnevenBalances(findings);
  findUnevenHolds(findings);
  findUnevenEntries(findings);
  findUnevenBatches(findings);
  findUnevenCosts(findings);
  findUnevenFibres(findings);
  findImpossibleDays(findings);
  findNobody(findings);
  return { findings: findings.sentences, read: countRows(book) };
}

/** Derives every balance and hold from the entries: cheap enough for every start. */
export function checkBalances(book: Book): string[] {
  const findings = new Findings(book);
  findUnevenBalances(findings);
  findUnevenHolds(findings);
  return findings.sentences;
}

/** The pages of the file, its indexes, and the checks of every row. */
function findDamage(book: Book, findings: Findings): void {
  const said = book.connection.pragma('integrity_check') as { integrity_check: string }[];
  for (const { integrity_check: line } of said) {
    if (line !== 'ok') findings.add(`The file is damaged: ${line}.`);
  }
}

/** A trigger or check that is missing from the file would let the next mistake through. */
function findLostGuards(book: Book, findings: Findings): void {
  made ??= makeSchema();
  const held = readSchema(book.connection);
  for (const [name, sql] of made) {
    if (!held.has(name)) findings.add(`The file has lost ${name}, which it was made with.`);
    else if (held.get(name) !== sql) findings.add(`The file has ${name} otherwise than it was made with.`);
  }
  for (const name of held.keys()) {
    if (!made.has(name)) findings.add(`The file has ${name}, which Clothroom did not make.`);
  }
}

/** What the frozen steps make. They do not change while the program runs, and carrying them out takes a while. */
let made: Map<string, string> | undefined;

function makeSchema(): Map<string, string> {
  const fresh = new BetterSqlite3(':memory:');
  for (const step of readSteps()) fresh.exec(step.sql);
  const schema = readSchema(fresh);
  fresh.close();
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
function findOrphans(book: Book, findings: Findings): void {
  const orphans = book.connection.pragma('foreign_key_check') as {
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
  for (const [what, { rowid, count }] of seen) {
    const row = rowid === null ? 'A row' : `Row ${rowid}`;
    const more = count > 1 ? ` So ${count === 2 ? 'does' : 'do'} ${count - 1} more.` : '';
    findings.add(`${row} of ${what} that is not in the book.${more}`);
  }
}

function findUnevenFibres(findings: Findings): void {
  findings.collect<{ name: string; shareBp: number }>(
    `SELECT cloth.name, sum(cloth_fibre.share_bp) AS shareBp
     FROM cloth JOIN cloth_fibre ON cloth_fibre.cloth_id = cloth.id
     GROUP BY cloth.id HAVING sum(cloth_fibre.share_bp) <> 10000`,
    ({ name, shareBp }) => `The fibres of ${name} add up to ${shareBp / 100} %, not 100 %.`,
  );
}

function countRows(book: Book): BookCheck['read'] {
  return book.connection
    .prepare(
      `SELECT (SELECT count(*) FROM piece) AS pieces, (SELECT count(*) FROM entry) AS entries,
         (SELECT count(*) FROM hold) AS holds, (SELECT count(*) FROM request) AS requests`,
    )
    .get() as BookCheck['read'];
}
