import type BetterSqlite3 from 'better-sqlite3';
import {
  type Compilable,
  type CompiledQuery,
  DummyDriver,
  type Expression,
  type Insertable,
  Kysely,
  type RawBuilder,
  SqliteAdapter,
  SqliteIntrospector,
  SqliteQueryCompiler,
  sql,
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

/** Stands in a query for a value that is known when it is run. */
export type Param<T> = RawBuilder<T>;

type ValuesOf<Params extends readonly unknown[]> = {
  [Place in keyof Params]: Params[Place] extends Expression<infer T> ? T : never;
};

/**
 * A query that is built and compiled once, when it is first asked for, and given its values each time. `build` sees its
 * parameters only as places, so it cannot choose by what they are; `inList` makes a list of one.
 */
export function prepared<Params extends readonly Param<unknown>[], R>(
  build: (db: Kysely<Schema>, ...params: Params) => Compilable<R>,
): (...values: ValuesOf<Params>) => Query<R> {
  return preparedOf(build.length - 1, (db, places) => build(db, ...(places as unknown as Params)));
}

function preparedOf<Values extends readonly unknown[], R>(
  count: number,
  build: (db: Kysely<Schema>, places: readonly Param<unknown>[]) => Compilable<R>,
): (...values: Values) => Query<R> {
  let compiled: CompiledQuery<R> | null = null;
  return (...values) => ({
    compile() {
      compiled ??= build(
        builder,
        Array.from({ length: count }, (_, at) => sql.val(new Place(at))),
      ).compile();
      return { ...compiled, parameters: compiled.parameters.map((value) => given(value, values)) };
    },
  });
}

/** What was asked, as a query is built of it: null where nothing was asked, a place where a value was. */
export type ShapeOf<Asked> = {
  readonly [Name in keyof Asked]: Asked[Name] extends boolean
    ? Asked[Name]
    : Param<NonNullable<Asked[Name]>> | (null extends Asked[Name] ? null : never);
};

type AskedBy<Shape> = {
  readonly [Name in keyof Shape]: Shape[Name] extends boolean
    ? boolean
    :
        | (NonNullable<Shape[Name]> extends Expression<infer T> ? T : never)
        | (null extends Shape[Name] ? null : never);
};

/** The same for a query with parts that may be left out: it is built and compiled once for each choice of them. */
export function preparedByShape<Shape extends object, R>(
  build: (db: Kysely<Schema>, asked: Shape) => Compilable<R>,
): (asked: AskedBy<Shape>) => Query<R> {
  const byShape = new Map<string, (...values: never[]) => Query<R>>();
  return (asked) => {
    const all = Object.entries(asked);
    const isChoice = (value: unknown) => value === null || typeof value === 'boolean';
    const given = all.filter(([, value]) => !isChoice(value));
    const shape = all.map(([name, value]) => `${name} ${isChoice(value) ? value : 'given'}`).join();
    const known =
      byShape.get(shape) ??
      preparedOf(given.length, (db, places) => {
        const named = given.map(([name], at) => [name, places[at]]);
        return build(db, { ...asked, ...Object.fromEntries(named) } as Shape);
      });
    byShape.set(shape, known);
    return known(...(given.map(([, value]) => value) as never[]));
  };
}

/** Adds rows to a table by a statement that is compiled once for each set of columns. */
export function insertInto<Table extends keyof Schema>(
  table: Table,
): (row: Insertable<Schema[Table]>) => Query<unknown> {
  const bySet = new Map<string, CompiledQuery>();
  return (row) => ({
    compile() {
      const columns = Object.keys(row).join();
      const compiled = bySet.get(columns) ?? builder.insertInto(table).values(row).compile();
      bySet.set(columns, compiled);
      return { ...compiled, parameters: Object.values(row) };
    },
  });
}

/** For `in`: a list of any length as one value, so that its query is one text. */
export function inList<T>(list: Param<readonly T[]>): RawBuilder<T> {
  return sql<T>`(select value from json_each(${list}))`;
}

class Place {
  readonly at: number;

  constructor(at: number) {
    this.at = at;
  }
}

function given(parameter: unknown, values: readonly unknown[]): unknown {
  const value = parameter instanceof Place ? values[parameter.at] : parameter;
  return Array.isArray(value) ? JSON.stringify(value) : value;
}

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
