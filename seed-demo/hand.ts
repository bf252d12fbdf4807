import type { Answer, Book, Tx } from '../server/database/book.ts';
import type { Typed } from '../server/kit/typed.ts';
import { dayOf } from '../server/kit/when.ts';
import { undoRequest } from '../server/ledger/undo.ts';
import { readBody } from '../server/web/body.ts';
import { type Asker, readAsker } from '../server/web/house.ts';
import { type PostedForm, readForm } from '../server/web/post.ts';

/** One form of the app: how it is read, for whoever fills it in, and what it writes. */
export interface Task<T> {
  schema(asker: Asker): PostedForm<T>['schema'];
  write(tx: Tx, form: T, asker: Asker, typed: Typed): Answer;
}

/** Tables whose rows are called by name in the story. */
type Named =
  | 'person'
  | 'supplier'
  | 'place'
  | 'cloth'
  | 'shade'
  | 'vessel'
  | 'recipe'
  | 'tier'
  | 'dye'
  | 'supply'
  | 'garment';

const MINUTE = 60_000;

/**
 * The people of the invented workroom at work: fills in the app's own forms as somebody would type them, each at
 * its instant. The story has an order, so the keys of its forms are numbered.
 */
export class Hand {
  readonly book: Book;
  readonly #now: Date;
  #forms = 0;

  constructor(book: Book, now: Date) {
    this.book = book;
    this.#now = now;
  }

  /** An instant so many days ago, at an hour of the workroom's own clock: `before(3, '14:20')`. */
  before(days: number, time: string): string {
    const [hours = 0, minutes = 0] = time.split(':').map(Number);
    const day = this.#now;
    return new Date(day.getFullYear(), day.getMonth(), day.getDate() - days, hours, minutes).toISOString();
  }

  /** So many minutes ago, for what is happening today. */
  minutesAgo(minutes: number): string {
    return new Date(this.#now.getTime() - minutes * MINUTE).toISOString();
  }

  /** A day to come, or one gone by: `day(3)` is in three days. */
  day(days: number): string {
    return dayOf(this.before(-days, '12:00'));
  }

  /** Fills in a form and sends it. Gives the request's key, by which it can be undone. */
  fillsIn<T>(when: string, who: string, asked: object, task: Task<T>): string {
    const { body, typed } = readBody(asked);
    const form = readForm(task.schema(this.#asker(who)), body);
    return this.writes(when, who, asked, (tx, asker) => task.write(tx, form, asker, typed));
  }

  /** Carries out one request that is no form, such as a button. */
  writes(when: string, who: string, asked: object, work: (tx: Tx, asker: Asker) => Answer): string {
    this.#forms += 1;
    const key = `invented-${String(this.#forms).padStart(4, '0')}`;
    const asker = this.#asker(who);
    this.book.write({ key, asked, personId: asker.personId, at: when }, (tx) => work(tx, asker));
    return key;
  }

  undoes(when: string, who: string, key: string): void {
    this.writes(when, who, { undoes: key }, (tx) => undoRequest(tx, key));
  }

  /** The number of the row with a name, as a select sends it. */
  id(table: Named, name: string): string {
    const row = this.book.first(
      this.book.db.selectFrom(table).select('id').where('name', '=', name).orderBy('id', 'desc'),
    );
    if (!row) throw new Error(`the story knows no ${table} called ${name}`);
    return String(row.id);
  }

  #asker(who: string): Asker {
    return readAsker(this.book, Number(this.id('person', who)));
  }
}
