import { createHash } from 'node:crypto';
import type BetterSqlite3 from 'better-sqlite3';
import type { Kysely } from 'kysely';
import { z } from 'zod';
import { conflict } from '../refusal.ts';
import { MACHINE_ID } from './device-tables.ts';
import { translateDriverError } from './driver-errors.ts';
import type { FileWatch } from './file-watch.ts';
import type { Schema } from './schema.ts';
import { builder, insertInto, type Param, prepared, type Query, type Ran, Statements } from './statements.ts';
import { readStored } from './stored.ts';
import { type BookTrouble, moved, refusedFor } from './trouble.ts';

const ANSWER = z.object({ location: z.string(), said: z.string(), after: z.string().optional() });

/**
 * What a request came to: where to go next, one sentence that says what was done, and how things stood then, in a
 * sentence; an undo does not repeat the last, since it is no longer so.
 */
export type Answer = Readonly<z.output<typeof ANSWER>>;

export function readAnswer(json: string): Answer {
  return readStored(ANSWER, json);
}

/** One form or one script's call: `asked` is its content, `key` was minted when the form was drawn. */
export interface WriteRequest {
  readonly key: string;
  readonly asked: unknown;
  readonly personId: number;
  /** the device it was sent from; the machine itself where nothing is said */
  readonly deviceId?: number;
  /** the instant it happened, where that is not now: only the invented workroom has a past of its own */
  readonly at?: string;
  /** when it was done, where a device kept it and sends it later */
  readonly doneAt?: string | null;
}

/** Builds typed queries (`db`) and reads with them. */
export interface Reader {
  readonly db: Kysely<Schema>;
  all<R>(query: Query<R>): R[];
  first<R>(query: Query<R>): R | undefined;
}

/** An open transaction: the only thing that can write. One instant, one person, one request. */
export interface Tx extends Reader {
  run(query: Query<unknown>): Ran;
  readonly at: string;
  /** when it was done: `at`, or before it where it is entered late */
  readonly doneAt: string;
  readonly personId: number;
  readonly requestKey: string;
}

export type Clock = () => Date;

const requestOf = prepared((db, key: Param<string>) =>
  db.selectFrom('request').selectAll().where('key', '=', key),
);
const newRequest = insertInto('request');

/** The workroom's book: one SQLite file, read and written synchronously by this process alone. */
export class Book implements Reader {
  readonly db = builder;
  readonly file: string;
  readonly #connection: BetterSqlite3.Database;
  readonly #statements: Statements;
  readonly #clock: Clock;
  readonly #onClose: () => void;
  readonly #watch: FileWatch | null;
  #trouble: BookTrouble | null = null;

  constructor(
    connection: BetterSqlite3.Database,
    file: string,
    clock: Clock,
    onClose: () => void,
    watch: FileWatch | null = null,
  ) {
    this.#connection = connection;
    this.#watch = watch;
    this.#statements = new Statements(connection);
    this.file = file;
    this.#clock = clock;
    this.#onClose = onClose;
  }

  all<R>(query: Query<R>): R[] {
    return this.#read(() => this.#statements.all(query));
  }

  first<R>(query: Query<R>): R | undefined {
    return this.#read(() => this.#statements.first(query));
  }

  /** Why nothing is written any more, until the book was opened again; null where all is well. */
  get trouble(): BookTrouble | null {
    const gone = this.#trouble ? undefined : this.#watch?.gone();
    if (gone !== undefined) this.#trouble = moved(gone);
    return this.#trouble;
  }

  /** From here on the book is only read. */
  stopWriting(trouble: BookTrouble): void {
    this.#trouble ??= trouble;
  }

  now(): string {
    return this.#clock().toISOString();
  }

  /**
   * Carries out `work` in one immediate transaction. A key that was seen before gets its first answer and
   * changes nothing; the same key with other content is refused.
   *
   * @throws {Refusal} conflict for a key used for something else, not-saved where the disk refused, and
   * whatever `work` refuses.
   */
  write(request: WriteRequest, work: (tx: Tx) => Answer): Answer {
    const { trouble } = this;
    if (trouble) throw refusedFor(trouble);
    if (this.#connection.inTransaction) throw new Error('a write must not be begun within a write');
    const hash = contentHash(request.asked);
    try {
      return this.#connection.transaction(() => this.#carryOut(request, hash, work)).immediate();
    } catch (error) {
      throw this.#translate(error);
    }
  }

  /**
   * Carries out what no form asked for and nobody undoes, as a count of failures, in one immediate transaction.
   *
   * @throws {Refusal} not-saved where the disk refused
   */
  writeAside<T>(work: (run: (query: Query<unknown>) => Ran) => T): T {
    const { trouble } = this;
    if (trouble) throw refusedFor(trouble);
    try {
      return this.#connection.transaction(() => work((query) => this.#statements.run(query))).immediate();
    } catch (error) {
      throw this.#translate(error);
    }
  }

  /** Where the answer of an earlier request is wanted, to show what was done. */
  answerOf(key: string): (Answer & { at: string; personId: number }) | undefined {
    const row = this.first(requestOf(key));
    return row && { ...readAnswer(row.answer), at: row.at, personId: row.person_id };
  }

  /** For the checks and the backup, which look at the file itself. */
  get connection(): BetterSqlite3.Database {
    return this.#connection;
  }

  close(): void {
    if (!this.#connection.open) return;
    this.#connection.close();
    this.#onClose();
  }

  #read<R>(work: () => R): R {
    try {
      return work();
    } catch (error) {
      // Inside a write it is translated once, by the write.
      throw this.#connection.inTransaction ? error : this.#translate(error);
    }
  }

  /** After a failed write nobody knows whether the commit stands, and a damaged page may be any page: reading goes on. */
  #translate(error: unknown): unknown {
    const translated = translateDriverError(error);
    if (translated.trouble) this.stopWriting(translated.trouble);
    return translated.error;
  }

  #carryOut(request: WriteRequest, hash: string, work: (tx: Tx) => Answer): Answer {
    const seen = this.first(requestOf(request.key));
    if (seen) {
      if (seen.asked_hash === hash) return readAnswer(seen.answer);
      const { location } = readAnswer(seen.answer);
      throw conflict(
        'This form was sent before with other content. Nothing was changed: look at what was saved then, and send this only if it is something further.',
        { href: location, text: 'See what was saved' },
      );
    }
    const at = request.at ?? this.now();
    const late = request.doneAt && request.doneAt < at ? request.doneAt : null;
    const tx: Tx = {
      db: this.db,
      all: (query) => this.#statements.all(query),
      first: (query) => this.#statements.first(query),
      run: (query) => this.#statements.run(query),
      at,
      doneAt: late ?? at,
      personId: request.personId,
      requestKey: request.key,
    };
    const answer = work(tx);
    tx.run(
      newRequest({
        key: request.key,
        asked_hash: hash,
        at: tx.at,
        person_id: request.personId,
        device_id: request.deviceId ?? MACHINE_ID,
        done_at: late,
        answer: JSON.stringify(ANSWER.parse(answer)),
      }),
    );
    return answer;
  }
}

const lastIdOf = prepared((db, table: Param<string>) =>
  db
    .withTables<{ sqlite_sequence: { name: string; seq: number } }>()
    .selectFrom('sqlite_sequence')
    .select('seq')
    .where('name', '=', table),
);

/** The next id of an AUTOINCREMENT table, for rows whose code is made from their number. */
export function nextId(tx: Tx, table: keyof Schema): number {
  const row = tx.first(lastIdOf(table));
  return (row?.seq ?? 0) + 1;
}

function contentHash(asked: unknown): string {
  return createHash('sha256')
    .update(JSON.stringify(sorted(asked)))
    .digest('hex');
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== 'object') return value ?? null;
  return Object.entries(value)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, item]) => [name, sorted(item)]);
}
