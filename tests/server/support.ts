import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { Agent } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import type { FastifyInstance } from 'fastify';
import supertest from 'supertest';
import { buildApp } from '../../server/app.ts';
import { type Answer, Book, type Tx } from '../../server/database/book.ts';
import { FILE } from '../../server/database/folder.ts';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { setUpConnection } from '../../server/database/open.ts';
import { type PieceRef, receivePiece } from '../../server/ledger/verbs.ts';
import type { Asker } from '../../server/web/house.ts';
import { readLength } from '../../src/quantity/length.ts';
import { IMPERIAL, METRIC } from '../../src/quantity/length-show.ts';
import { nextName } from './names.ts';

/** The instant at which every test happens, unless it says otherwise. */
export const NOON = new Date('2026-03-02T12:00:00.000Z');

export const units = { metric: METRIC, imperial: IMPERIAL };

/** The first person of a new book. */
export const asker: Asker = {
  personId: 1,
  deviceId: 1,
  mark: 'abc123',
  seesPrices: true,
  undoesOthers: true,
  units: METRIC,
  currency: 'EUR',
};

/** A length as the workroom writes it; a bare number is metres. */
export function length(text: string): number {
  const reading = readLength(text, 'm');
  if (!reading.ok) throw new Error(reading.reason);
  return reading.value;
}

let lastKey = 0;
let lastBook = 0;

/** A request key that no other test has. */
export function newKey(): string {
  lastKey += 1;
  return `test-key-${lastKey}-${process.pid}`;
}

export interface TestBook {
  readonly book: Book;
  /** Runs a write as person 1 with a new key. */
  write<T>(work: (tx: Tx) => T): T;
  /** Puts the book as it is now down in a folder of its own, from which it can be opened; gives the folder. */
  putDown(): string;
  close(): void;
}

/** A new book as it lies in its file, made once: making it takes most of a test's time. */
let newBook: Buffer | undefined;

function makeNewBook(): Buffer {
  const connection = new BetterSqlite3(':memory:');
  migrate(connection, readMigrationSteps(), 0);
  const bytes = connection.serialize();
  connection.close();
  return bytes;
}

/**
 * A new book of one's own, in memory: what is done to files and folders is tested with `openBook`. `bytes` are those of
 * a book to copy, where it is not to be an empty one.
 */
export async function openTestBook(clock = () => NOON, bytes?: Buffer): Promise<TestBook> {
  newBook ??= makeNewBook();
  const connection = new BetterSqlite3(bytes ?? newBook);
  setUpConnection(connection);
  lastBook += 1;
  // Only photos lie there, where a test keeps some.
  const besides = join(tmpdir(), `clothroom-in-memory-${process.pid}-${lastBook}`);
  const book = new Book(connection, join(besides, FILE), clock, () => undefined);
  return {
    book,
    write(work) {
      const kept: { value?: ReturnType<typeof work> } = {};
      book.write({ key: newKey(), asked: null, personId: 1 }, (tx): Answer => {
        kept.value = work(tx);
        return { location: '/', said: 'Done.' };
      });
      return kept.value as ReturnType<typeof work>;
    },
    putDown: () => putDownNow(book),
    close() {
      book.close();
      rmSync(besides, { recursive: true, force: true });
    },
  };
}

/** Puts a book down in a folder of its own as it is now; gives the folder. */
export function putDownNow({ connection }: Book): string {
  const folder = mkdtempSync(join(tmpdir(), 'clothroom-test-'));
  // The owner's alone, as the program keeps it.
  writeFileSync(join(folder, FILE), connection.serialize(), { mode: 0o600 });
  return folder;
}

/** Puts a new book down in a folder, as it lies there once it was opened and closed. */
export function putNewBook(folder: string): void {
  newBook ??= makeNewBook();
  writeFileSync(join(folder, FILE), newBook, { mode: 0o600 });
}

export interface TestHouse extends TestBook {
  readonly app: FastifyInstance;
  /** where it answers, as http://127.0.0.1:12345 */
  readonly origin: string;
  /** GET a page as HTML. */
  page(path: string): supertest.Test;
  /** GET a page's data. */
  data(path: string): supertest.Test;
  /** POST a form as a browser does; a request key is added unless one is given. */
  submit(path: string, fields: Record<string, string>): supertest.Test;
  /** POST JSON as a script does. */
  send(path: string, body: object): supertest.Test;
  shut(): Promise<void>;
}

export async function openTestHouse(clock = () => NOON): Promise<TestHouse> {
  const opened = await openTestBook(clock);
  const app = buildApp(opened.book, process.env.CLOTHROOM_LOG ? { level: 'error' } : false);
  await app.listen({ host: '127.0.0.1', port: 0 });
  const address = app.server.address();
  if (typeof address !== 'object' || address === null) throw new Error('the server has no address');
  const origin = `http://127.0.0.1:${address.port}`;
  const { get, post, hangUp } = keptConnection(origin);
  return {
    ...opened,
    app,
    origin,
    page: (path) => get(path).set('Accept', 'text/html'),
    data: (path) => get(path).set('Accept', 'application/json'),
    submit: (path, fields) =>
      post(path)
        .type('form')
        .send({ request_key: newKey(), ...fields }),
    send: (path, body) =>
      post(path)
        .set('Accept', 'application/json')
        .send({ request_key: newKey(), ...body }),
    async shut() {
      hangUp();
      await app.close();
      opened.close();
    },
  };
}

/** Asks a server over connections that stay open, as a browser does: making them takes a good part of a small test. */
export function keptConnection(origin: string) {
  const connections = new Agent({ keepAlive: true });
  const client = supertest(origin);
  return {
    get: (path: string) => client.get(path).agent(connections),
    post: (path: string) => client.post(path).agent(connections).set('Origin', origin),
    hangUp: () => connections.destroy(),
  };
}

export interface Stock {
  readonly clothId: number;
  readonly shadeId: number;
  readonly lotId: number;
}

/** A nylon organza of 150 cm (147 cm usable, 30 g/m²) in one shade and lot, with names of their own. */
export function makeStock(tx: Tx, options: { ground?: boolean; usableWidth?: string } = {}): Stock {
  const named = nextName('thing');
  const { lastId: clothId } = tx.run(
    tx.db.insertInto('cloth').values({
      name: `Organza ${named}`,
      construction: 'organza',
      width_ticks: length('150 cm'),
      usable_width_ticks: length(options.usableWidth ?? '147 cm'),
      mass_per_area_mg_m2: 30_000,
      supplier_id: null,
    }),
  );
  tx.run(tx.db.insertInto('cloth_fibre').values({ cloth_id: clothId, fibre: 'nylon', share_bp: 10_000 }));
  const { lastId: shadeId } = tx.run(
    tx.db.insertInto('shade').values({
      name: `Shade ${named}`,
      ground: options.ground ? 1 : 0,
      lab_l: null,
      lab_a: null,
      lab_b: null,
      lab_how: null,
    }),
  );
  return { clothId, shadeId, lotId: makeLot(tx, clothId, shadeId) };
}

export function makeLot(tx: Tx, clothId: number, shadeId: number): number {
  const named = nextName('thing');
  return tx.run(
    tx.db.insertInto('lot').values({
      code: `L${named}`,
      cloth_id: clothId,
      shade_id: shadeId,
      origin: 'mill',
      supplier_id: null,
      batch_id: null,
    }),
  ).lastId;
}

/** A bolt of a lot, as long as said, for the cost said in minor units. */
export function makeBolt(tx: Tx, lotId: number, text: string, costMinor = 0, width = '147 cm'): PieceRef {
  return receivePiece(tx, {
    kind: 'bolt',
    lotId,
    usableWidthTicks: length(width),
    placeId: null,
    lengthTicks: length(text),
    typed: text,
    costMinor,
  });
}

/** A garment with one tier of a cloth, for holds and cuts; gives the tier's id. */
export function makeTier(tx: Tx, stock: Stock): number {
  const named = nextName('thing');
  const { lastId: garmentId } = tx.run(
    tx.db
      .insertInto('garment')
      .values({ code: `G${named}`, name: 'Petticoat', due_on: null, finished_at: null }),
  );
  const girth = { garment_id: garmentId, typed: '{}' };
  tx.run(tx.db.insertInto('girth').values({ ...girth, drop_ticks: 0, girth_ticks: length('70 cm') }));
  tx.run(
    tx.db.insertInto('girth').values({ ...girth, drop_ticks: length('1 m'), girth_ticks: length('3 m') }),
  );
  const { lastId: tierId } = tx.run(
    tx.db.insertInto('tier').values({
      garment_id: garmentId,
      position: 1,
      name: 'Tier 1',
      drop_ticks: length('20 cm'),
      hangs: 'form',
      on_tier_id: null,
      cloth_id: stock.clothId,
      depth_ticks: length('30 cm'),
      fullness_milli: 3000,
      ring: 1,
      seam_ticks: length('1 cm'),
      end_ticks: 0,
      heading_ticks: length('1 cm'),
      hem_ticks: length('1 cm'),
      strip_length_ticks: null,
      finish_repeat: 0,
      taken_out_at: null,
      typed: '{}',
    }),
  );
  tx.run(
    tx.db
      .insertInto('colour_block')
      .values({ tier_id: tierId, position: 1, shade_id: stock.shadeId, strips: 2 }),
  );
  return tierId;
}
