import { createHash } from 'node:crypto';
import { sql } from 'kysely';
import { type RowProblem, readStockRow, type StockRow } from '../../../src/lists/stock-list.ts';
import type { Reader } from '../../database/book.ts';
import { nameKey } from '../../kit/same-name.ts';
import { findPiece } from '../../shelf/piece/facts.ts';
import type { ListIn } from './store.ts';

/**
 * Checks the rows of one list, one after the other: each by itself, against what the book knows, and against the rows
 * before it. Names are looked up once.
 */
export class RowChecker {
  readonly #reader: Reader;
  readonly #list: Pick<ListIn, 'id' | 'columns' | 'writing'>;
  readonly #cloths: Set<string>;
  /** whether any other list came in, so that a row can have a twin at all */
  readonly #anyBefore: boolean;
  readonly #codes = new Set<string>();
  readonly #marks = new Map<string, number>();

  constructor(reader: Reader, list: Pick<ListIn, 'id' | 'columns' | 'writing'>) {
    this.#reader = reader;
    this.#list = list;
    const names = reader.all(reader.db.selectFrom('cloth').select('name'));
    this.#cloths = new Set(names.map(({ name }) => nameKey(name)));
    this.#anyBefore = areOthersIn(reader, list.id);
  }

  check(cells: readonly string[]) {
    const read = readStockRow(cells, this.#list.columns, this.#list.writing);
    if (!read.ok) return { problems: read.problems, mark: '', twin: false };
    const mark = this.#markOf(read.row);
    const twin = this.#anyBefore && isTwin(this.#reader, this.#list.id, mark);
    const problems = [...this.#clothProblems(read.row), ...(twin ? [] : this.#codeProblems(read.row))];
    return { problems, mark, twin };
  }

  #clothProblems(row: StockRow): RowProblem[] {
    const name = nameKey(row.cloth);
    if (this.#cloths.has(name)) return [];
    if (row.clothWidthTicks === null) {
      const message = `There is no cloth ${row.cloth}, and the row gives no width to describe it by.`;
      return [{ field: 'cloth', message }];
    }
    if ((row.clothUsableWidthTicks ?? row.usableWidthTicks ?? 0) > row.clothWidthTicks)
      return [
        { field: 'cloth_width', message: 'The usable width cannot be more than the width: enter less.' },
      ];
    this.#cloths.add(name);
    return [];
  }

  #codeProblems({ code }: StockRow): RowProblem[] {
    if (code === '') return [];
    const plain = code.toLowerCase();
    if (this.#codes.has(plain))
      return [{ field: 'code', message: `${code} stands twice in this list: give each piece its own code.` }];
    this.#codes.add(plain);
    return isTaken(this.#reader, code) ? [codeTaken(code)] : [];
  }

  /** Two bolts may be alike in all that a list says, so equal rows are told apart by their number. */
  #markOf(row: StockRow): string {
    const { typed: _, ...said } = row;
    const hash = createHash('sha256').update(JSON.stringify(said)).digest('hex').slice(0, 40);
    const before = this.#marks.get(hash) ?? 0;
    this.#marks.set(hash, before + 1);
    return `${hash}-${before}`;
  }
}

/** Another list is in or is being taken in, so that a row can have a twin at all. */
export function areOthersIn(reader: Reader, listId: number): boolean {
  const other = reader.first(
    reader.db
      .selectFrom('list_in')
      .select('id')
      .where('state', 'in', ['in', 'taking in'])
      .where('id', '<>', listId),
  );
  return other !== undefined;
}

/** Another list that is in, or is being taken in, brought this row. */
export function isTwin(reader: Reader, listId: number, mark: string): boolean {
  const twin = reader.first(
    reader.db
      .selectFrom('list_row')
      .innerJoin('list_in', 'list_in.id', 'list_row.list_in_id')
      .select('list_row.row_number')
      .where('list_row.mark', '=', mark)
      .where('list_row.piece_id', 'is not', null)
      .where('list_in.state', 'in', ['in', 'taking in'])
      .where('list_in.id', '<>', listId),
  );
  return twin !== undefined;
}

export function codeTaken(code: string): RowProblem {
  return { field: 'code', message: `There is a piece ${code} already: give this one another code.` };
}

/** A piece on the shelf has this code. One that came with a list that was taken back is gone, and no hindrance. */
export function isTaken(reader: Reader, code: string): boolean {
  const piece = findPiece(reader, code);
  if (!piece) return false;
  const gone = reader.first(
    reader.db
      .selectFrom('list_row')
      .innerJoin('list_in', 'list_in.id', 'list_row.list_in_id')
      .innerJoin('piece', 'piece.id', 'list_row.piece_id')
      .select(sql`1`.as('one'))
      .where('piece.id', '=', piece.id)
      .where('piece.on_hand_ticks', '=', 0)
      .where('list_in.state', '=', 'taken back'),
  );
  return gone === undefined;
}
