import type BetterSqlite3 from 'better-sqlite3';
import { z } from 'zod';
import type { Book } from '../database/book.ts';
import { SECRET_TABLES } from '../database/device-tables.ts';
import { photoFilesOf } from '../database/photo-files.ts';
import { checkBook } from './check.ts';

/** What an import says when it does not take a file; a sentence for the terminal. */
export class NotTaken extends Error {}

const CELL = z.union([z.string(), z.number(), z.null()]);
const WHOLE = z.strictObject({
  clothroom: z.literal('whole workroom'),
  version: z.number().int(),
  tables: z.record(
    z.string(),
    z.strictObject({ columns: z.array(z.string()), rows: z.array(z.array(CELL)) }),
  ),
  sequences: z.record(z.string(), z.number().int()),
  /** the files of photos that the rows name, which are carried beside; null where one was missing already */
  photos: z.array(z.strictObject({ file: z.string(), bytes: z.number().int().nullable() })).optional(),
});

/**
 * The whole workroom as one JSON text, a row a line: every table with its columns and its rows in the order of their
 * keys, and the last number that each table gave out. Rows are told as the file has them: lengths in ticks of 1/160 mm,
 * masses in milligrams, money in minor units. What lets somebody in stays in the book: those tables are told empty. Photos
 * are named with their bytes, and lie beside the book.
 */
export function* exportWorkroom(book: Book): Generator<string> {
  const { connection } = book;
  yield `{"clothroom":"whole workroom","version":${connection.pragma('user_version', { simple: true })},"tables":{`;
  for (const [place, table] of tablesOf(connection).entries()) {
    const columns = columnsOf(connection, table);
    yield `${place === 0 ? '' : ','}\n${JSON.stringify(table)}:{"columns":${JSON.stringify(columns)},"rows":[`;
    const read = connection
      .prepare(
        `SELECT * FROM ${quoted(table)} ${SECRET_TABLES.includes(table) ? 'WHERE FALSE ' : ''}ORDER BY ${keyOf(connection, table)}`,
      )
      .raw();
    let before = '\n';
    for (const row of read.iterate()) {
      yield `${before}${JSON.stringify(row)}`;
      before = ',\n';
    }
    yield ']}';
  }
  const sequences = connection.prepare('SELECT name, seq FROM sqlite_sequence ORDER BY name').raw().all();
  yield `\n},"sequences":${JSON.stringify(Object.fromEntries(sequences as [string, number][]))},"photos":${JSON.stringify(photoFilesOf(book))}}\n`;
}

/**
 * Fills an empty book with an exported workroom, all or nothing. The guards of the ledger stand aside while its rows
 * are put down as they were, and the whole is then proved as "check" proves it.
 *
 * @throws {NotTaken} where the text is no export of this version, the book is not empty, or the rows do not agree
 */
export function importWorkroom(book: Book, text: string): void {
  const whole = readWhole(text);
  const { connection } = book;
  const version = connection.pragma('user_version', { simple: true });
  if (whole.version !== version)
    throw new NotTaken(
      `this was exported from a book of version ${whole.version}, and this program keeps version ${version}`,
    );
  if (connection.prepare('SELECT 1 FROM request LIMIT 1').get())
    throw new NotTaken('a whole workroom goes into an empty book only: name a new folder with --data');
  connection.pragma('foreign_keys = OFF');
  try {
    connection
      .transaction(() => {
        putDown(connection, whole);
        const orphans = connection.pragma('foreign_key_check') as unknown[];
        if (orphans.length > 0) throw new NotTaken('some of its rows point nowhere');
        const [finding] = checkBook(book).findings;
        if (finding !== undefined) throw new NotTaken(`its rows do not agree with each other: ${finding}`);
      })
      .immediate();
  } finally {
    connection.pragma('foreign_keys = ON');
  }
}

function readWhole(text: string): z.output<typeof WHOLE> {
  let given: unknown;
  try {
    given = JSON.parse(text);
  } catch {
    throw new NotTaken('the file is no JSON');
  }
  const read = WHOLE.safeParse(given);
  if (!read.success) throw new NotTaken('the file is no exported workroom');
  return read.data;
}

function putDown(connection: BetterSqlite3.Database, whole: z.output<typeof WHOLE>): void {
  const tables = tablesOf(connection);
  const told = Object.keys(whole.tables);
  if (told.length !== tables.length || told.some((table) => !tables.includes(table)))
    throw new NotTaken('its tables are not those of a workroom');
  const triggers = connection
    .prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY rowid")
    .all() as { name: string; sql: string }[];
  for (const { name } of triggers) connection.exec(`DROP TRIGGER ${quoted(name)}`);
  for (const table of tables) {
    connection.exec(`DELETE FROM ${quoted(table)}`);
    putRows(connection, table, whole.tables[table] ?? { columns: [], rows: [] });
  }
  const sequence = connection.prepare('UPDATE sqlite_sequence SET seq = ? WHERE name = ?');
  const begin = connection.prepare('INSERT INTO sqlite_sequence (seq, name) VALUES (?, ?)');
  for (const [name, seq] of Object.entries(whole.sequences))
    if (sequence.run(seq, name).changes === 0) begin.run(seq, name);
  for (const { sql } of triggers) connection.exec(sql);
}

function putRows(
  connection: BetterSqlite3.Database,
  table: string,
  given: {
    readonly columns: readonly string[];
    readonly rows: readonly (readonly (string | number | null)[])[];
  },
): void {
  const columns = columnsOf(connection, table);
  if (given.columns.join() !== columns.join()) throw new NotTaken(`its table ${table} has other columns`);
  const insert = connection.prepare(
    `INSERT INTO ${quoted(table)} (${columns.map(quoted).join()}) VALUES (${columns.map(() => '?').join()})`,
  );
  for (const [at, row] of given.rows.entries()) {
    try {
      insert.run(...row);
    } catch (error) {
      throw new NotTaken(`row ${at + 1} of its table ${table} is not lawful: ${(error as Error).message}`);
    }
  }
}

function tablesOf(connection: BetterSqlite3.Database): string[] {
  const sql =
    "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY name";
  return connection.prepare(sql).pluck().all() as string[];
}

interface Column {
  readonly name: string;
  readonly pk: number;
}

function infoOf(connection: BetterSqlite3.Database, table: string): Column[] {
  return connection.pragma(`table_info(${quoted(table)})`) as Column[];
}

function columnsOf(connection: BetterSqlite3.Database, table: string): string[] {
  return infoOf(connection, table).map(({ name }) => name);
}

/** The columns of the primary key in their order, or the number of the row where a table has none. */
function keyOf(connection: BetterSqlite3.Database, table: string): string {
  const key = infoOf(connection, table)
    .filter(({ pk }) => pk > 0)
    .sort((a, b) => a.pk - b.pk);
  return key.length === 0 ? 'rowid' : key.map(({ name }) => quoted(name)).join();
}

function quoted(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
