import type { Book, Tx } from '../../database/book.ts';
import { mintKey } from '../../kit/request-key.ts';
import { inForce } from '../../ledger/standing.ts';
import { canUndo, type Undoer, undoRequest } from '../../ledger/undo.ts';
import { conflict } from '../../refusal.ts';
import { RowChecker } from './checking.ts';
import { type FileReading, readListFile } from './reading/read-file.ts';
import { addRows, checkRows, writeHeading } from './staging.ts';
import { countListRows, readList, readRows, setState } from './store.ts';
import { TakingIn } from './taking-in.ts';

const READ_AT_ONCE = 500;
const TAKEN_AT_ONCE = 200;
/** Only keepers take a list in or back. */
const KEEPER: Undoer = { personId: 0, undoesOthers: true };

/** How far the work on a list has come. */
export interface ListProgress {
  readonly done: number;
  readonly of: number;
}

interface Running {
  progress: ListProgress;
  stopped: boolean;
  reading: FileReading | null;
  readonly ended: Promise<void>;
}

/**
 * Works on lists that came in, some rows at a time, so that other pages are answered in between. What was done of a
 * list stands in the book, so an interrupted one is gone on with or taken back.
 */
export class ListRunner {
  readonly #book: Book;
  readonly #log: (error: unknown) => void;
  readonly #running = new Map<number, Running>();
  #isClosing = false;

  /** @param log is told what could not be written down, so that it is not lost with the work */
  constructor(book: Book, log: (error: unknown) => void) {
    this.#book = book;
    this.#log = log;
  }

  /** The progress of a list that is being worked on, else nothing. */
  progressOf(listId: number): ListProgress | undefined {
    return this.#running.get(listId)?.progress;
  }

  read(listId: number, bytes: Uint8Array): void {
    this.#begin(listId, async (running) => {
      running.reading = readListFile(bytes);
      await this.#readRows(listId, running, running.reading);
    });
  }

  check(listId: number): void {
    this.#begin(listId, (running) => this.#checkRows(listId, running));
  }

  takeIn(listId: number): void {
    this.#begin(listId, async (running) => {
      await this.#takeIn(listId, running);
      // Nothing stays half taken in: stopped, what came is taken back.
      if (running.stopped) await this.#takeBack(listId, running);
    });
  }

  takeBack(listId: number): void {
    this.#begin(listId, (running) => this.#takeBack(listId, running));
  }

  stop(listId: number): void {
    const running = this.#running.get(listId);
    if (!running) return;
    running.stopped = true;
    running.reading?.stop();
  }

  /** Until the work on a list ends, or so many milliseconds have passed. */
  async waitFor(listId: number, mostMs: number): Promise<void> {
    const running = this.#running.get(listId);
    if (!running) return;
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, mostMs);
    });
    await Promise.race([running.ended, late]);
    clearTimeout(timer);
  }

  /** Ends between two chunks. Taking in stands as far as it came, to be gone on with. */
  async close(): Promise<void> {
    this.#isClosing = true;
    for (const { reading } of this.#running.values()) reading?.stop();
    await Promise.all([...this.#running.values()].map(({ ended }) => ended));
  }

  #begin(listId: number, work: (running: Running) => Promise<void>): void {
    if (this.#running.has(listId))
      throw conflict('This list is being worked on: wait until that is done, or stop it.');
    let ends: () => void = () => undefined;
    const ended = new Promise<void>((resolve) => {
      ends = resolve;
    });
    const running: Running = { progress: { done: 0, of: 0 }, stopped: false, reading: null, ended };
    this.#running.set(listId, running);
    work(running)
      .catch((error: unknown) => this.#fail(listId, running, error))
      // The disk may refuse to keep even that: the list stands where it was, and its page offers to go on.
      .catch((error: unknown) => this.#log(error))
      .finally(() => {
        this.#running.delete(listId);
        ends();
      });
  }

  #fail(listId: number, running: Running, error: unknown): void {
    if (this.#isClosing) return;
    const { state } = readList(this.#book, listId);
    const said = error instanceof Error ? error.message : 'It failed.';
    const isEarly = state === 'reading' || state === 'checking';
    // Taking in and taking back stand where they are; the page says so and offers to go on.
    const next = isEarly ? (running.stopped ? 'stopped' : 'failed') : state;
    this.#write(listId, (tx) => setState(tx, listId, next, next === 'stopped' ? '' : said));
  }

  async #readRows(listId: number, running: Running, reading: FileReading): Promise<void> {
    let number = 0;
    let checker: RowChecker | null = null;
    for await (const rows of reading.rows()) {
      if (running.stopped) throw new Error('Reading was stopped.');
      const [heading = []] = checker ? [] : rows;
      const body = checker ? rows : rows.slice(1);
      this.#write(listId, (tx) => {
        if (!checker) writeHeading(tx, listId, heading);
        checker ??= new RowChecker(this.#book, readList(tx, listId));
        addRows(tx, listId, number, checker, body);
      });
      number += body.length;
      running.progress = { done: number, of: 0 };
      await letPagesBeAnswered();
    }
    this.#write(listId, (tx) => setState(tx, listId, 'ready'));
  }

  async #checkRows(listId: number, running: Running): Promise<void> {
    const checker = new RowChecker(this.#book, readList(this.#book, listId));
    const of = countOf(this.#book, listId);
    for (let after = 0; ; ) {
      if (running.stopped) throw new Error('Checking was stopped.');
      const rows = readRows(this.#book, listId, { after, most: READ_AT_ONCE, which: 'all' });
      if (rows.length === 0) break;
      this.#write(listId, (tx) => {
        checkRows(tx, listId, checker, rows);
      });
      after = rows.at(-1)?.number ?? after;
      running.progress = { done: after, of };
      await letPagesBeAnswered();
    }
    this.#write(listId, (tx) => setState(tx, listId, 'ready'));
  }

  async #takeIn(listId: number, running: Running): Promise<void> {
    const list = readList(this.#book, listId);
    const taking = new TakingIn(list);
    const of = countOf(this.#book, listId);
    for (let after = 0; ; ) {
      if (running.stopped || this.#isClosing) return;
      const rows = readRows(this.#book, listId, { after, most: TAKEN_AT_ONCE, which: 'good' });
      if (rows.length === 0) break;
      const wanted = rows.filter(({ pieceId }) => pieceId === null);
      if (wanted.length > 0) this.#write(listId, (tx) => taking.take(tx, wanted));
      after = rows.at(-1)?.number ?? after;
      running.progress = { done: after, of };
      await letPagesBeAnswered();
    }
    this.#write(listId, (tx) => setState(tx, listId, 'in'));
  }

  async #takeBack(listId: number, running: Running): Promise<void> {
    const { state } = readList(this.#book, listId);
    const keys = this.#requestsOf(listId);
    // Each request is looked at and then undone; told in rows, as everywhere.
    const { in: rows } = countListRows(this.#book, listId);
    const tell = (steps: number) => {
      running.progress = { done: Math.floor((steps * rows) / (keys.length * 2)), of: rows };
    };
    for (const [at, key] of keys.entries()) {
      if (this.#isClosing) return;
      if (!canUndo(this.#book, key, KEEPER) && !isUndone(this.#book, key)) {
        throw conflict(
          'Some of these pieces were used since: undo that first, or write the pieces off one by one.',
        );
      }
      tell(at);
      await letPagesBeAnswered();
    }
    if (state !== 'taking back') this.#write(listId, (tx) => setState(tx, listId, 'taking back'));
    for (const [at, key] of keys.entries()) {
      if (this.#isClosing) return;
      if (!isUndone(this.#book, key)) this.#write(listId, (tx) => void undoRequest(tx, key));
      tell(keys.length + at);
      await letPagesBeAnswered();
    }
    this.#write(listId, (tx) => setState(tx, listId, 'taken back'));
  }

  /** The requests that brought pieces of the list, the last first. */
  #requestsOf(listId: number): string[] {
    const rows = this.#book.all(
      this.#book.db
        .selectFrom('list_row')
        .select((e) => ['request_key', e.fn.max('row_number').as('last')])
        .where('list_in_id', '=', listId)
        .where('request_key', 'is not', null)
        .groupBy('request_key')
        .orderBy('last', 'desc'),
    );
    return rows.map(({ request_key }) => request_key ?? '');
  }

  /** One chunk in one transaction, as the person whose list it is. */
  #write(listId: number, work: (tx: Tx) => void): void {
    const { personId, name } = readList(this.#book, listId);
    this.#book.write({ key: mintKey(), asked: { list: listId }, personId }, (tx) => {
      work(tx);
      return { location: listPath(listId), said: `The list ${name} was worked on.` };
    });
  }
}

export const listPath = (listId: number) => `/setup/lists/${listId}`;

function countOf(book: Book, listId: number): number {
  const last = book.first(
    book.db
      .selectFrom('list_row')
      .select('row_number')
      .where('list_in_id', '=', listId)
      .orderBy('row_number', 'desc'),
  );
  return last?.row_number ?? 0;
}

function isUndone(book: Book, key: string): boolean {
  const standing = book.first(
    book.db.selectFrom('entry').select('id').where('request_key', '=', key).where(inForce('entry')),
  );
  return standing === undefined;
}

/** Lets other pages be answered between two chunks. */
function letPagesBeAnswered(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}
