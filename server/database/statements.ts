import type BetterSqlite3 from 'better-sqlite3';
import {
  type Compilable,
  DummyDriver,
  Kysely,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
} from 'kysely';
import type { Schema } from './schema.ts';

/** A typed query that Kysely has built and that nobody has run yet. */
export type Query<R> = Compilable<R>;

/** Builds typed queries; it has no connection and runs none of them. */
export const builder = new Kysely<Schema>({
  dialect: {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new DummyDriver(),
    createIntrospector: (db) => new SqliteIntrospector(db),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  },
});

export interface Ran {
  readonly changes: number;
  readonly lastId: number;
}

/**
 * Runs compiled queries at once, on one connection, through statements that are prepared once. There is no
 * await between two of them, so nothing else can come between a read and the write that relies on it.
 */
export class Statements {
  readonly #connection: BetterSqlite3.Database;
  readonly #prepared = new Map<string, BetterSqlite3.Statement>();

  constructor(connection: BetterSqlite3.Database) {
    this.#connection = connection;
  }

  all<R>(query: Query<R>): R[] {
    const { sql, parameters } = query.compile();
    return this.#prepare(sql).all(...parameters) as R[];
  }

  first<R>(query: Query<R>): R | undefined {
    const { sql, parameters } = query.compile();
    return this.#prepare(sql).get(...parameters) as R | undefined;
  }

  run(query: Query<unknown>): Ran {
    const { sql, parameters } = query.compile();
    const { changes, lastInsertRowid } = this.#prepare(sql).run(...parameters);
    return { changes, lastId: Number(lastInsertRowid) };
  }

  #prepare(sql: string): BetterSqlite3.Statement {
    const known = this.#prepared.get(sql);
    if (known) return known;
    // Lists of ids of every length make new texts; an old book that is open for months must not keep them all.
    if (this.#prepared.size >= 500) this.#prepared.clear();
    const prepared = this.#connection.prepare(sql);
    this.#prepared.set(sql, prepared);
    return prepared;
  }
}
