import { showLength } from '../../src/quantity/length-show.ts';
import { showMoney } from '../../src/quantity/money.ts';
import type { Book } from '../database/book.ts';
import { readWorkroom, type Workroom } from '../kit/workroom.ts';

/** Of one kind of disagreement so many are told; a book that was damaged throughout would fill pages. */
const MOST_OF_A_KIND = 20;

/** The disagreements found in a book, as sentences, and the units and the currency to tell them in. */
export class Findings {
  readonly sentences: string[] = [];
  readonly #book: Book;
  #known: Workroom | undefined;

  constructor(book: Book) {
    this.#book = book;
  }

  add(sentence: string): void {
    this.sentences.push(sentence);
  }

  /** Runs one statement that finds disagreements, and tells each. */
  collect<R>(sql: string, tell: (row: R) => string): void {
    const rows = this.read<R>(`${sql} LIMIT ${MOST_OF_A_KIND + 1}`);
    for (const row of rows.slice(0, MOST_OF_A_KIND)) this.add(tell(row));
    if (rows.length > MOST_OF_A_KIND) this.add('There are more of this kind.');
  }

  read<R>(sql: string): R[] {
    return this.#book.connection.prepare(sql).all() as R[];
  }

  // Read where it is wanted: in a damaged book this may be the very row that cannot be read.
  get #workroom(): Workroom {
    this.#known ??= readWorkroom(this.#book);
    return this.#known;
  }

  get units(): Workroom['units'] {
    return this.#workroom.units;
  }

  /** A length; one that the shown step rounds is given in ticks too, so that two of them can be told apart. */
  length(ticks: number): string {
    const shown = showLength(ticks, this.#workroom.units, 'near');
    return ticks % this.#workroom.units.stepTicks === 0 ? shown : `${shown} (${ticks} ticks)`;
  }

  money(minor: number): string {
    return showMoney(minor, this.#workroom.currency);
  }
}
