import { z } from 'zod';
import { STOCK_FIELDS } from '../../../src/lists/stock-list.ts';
import type { Reader, Tx } from '../../database/book.ts';
import type { ListState } from '../../database/list-tables.ts';
import { readStored } from '../../database/stored.ts';
import { unknown } from '../../refusal.ts';

export const TEXTS = z.array(z.string());
const COLUMNS = z.array(z.enum(['', ...STOCK_FIELDS]));
const WRITING = z.object({
  lengthUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft', 'yd']),
  sizeUnit: z.enum(['mm', 'cm', 'm', 'in', 'ft', 'yd']),
  massUnit: z.enum(['g/m²', 'oz/yd²', 'momme']),
  decimals: z.enum(['either', 'point', 'comma']),
  currency: z.string(),
});
const PROBLEMS = z.array(z.object({ field: z.enum(['', ...STOCK_FIELDS]), message: z.string() }));

/** @throws {Refusal} unknown */
export function readList(reader: Reader, id: number) {
  const row = reader.first(reader.db.selectFrom('list_in').selectAll().where('id', '=', id));
  if (!row) throw unknown('such list');
  return {
    id: row.id,
    name: row.name,
    at: row.at,
    personId: row.person_id,
    state: row.state,
    problem: row.problem,
    heading: readStored(TEXTS, row.heading),
    columns: readStored(COLUMNS, row.columns),
    writing: readStored(WRITING, row.writing),
    skipTwins: row.skip_twins === 1,
  };
}

/** A list that came in, without its rows. */
export type ListIn = ReturnType<typeof readList>;

/** Rows of a list in their order after one of them: all, those with problems, or those that wait to come in. */
export function readRows(
  reader: Reader,
  listId: number,
  asked: { readonly after: number; readonly most: number; readonly which: 'all' | 'wrong' | 'good' },
) {
  let query = reader.db
    .selectFrom('list_row')
    .select(['row_number', 'cells', 'problems', 'mark', 'twin', 'piece_id'])
    .where('list_in_id', '=', listId)
    .where('row_number', '>', asked.after)
    .orderBy('row_number')
    .limit(asked.most);
  if (asked.which === 'wrong') query = query.where('problems', '<>', '[]');
  if (asked.which === 'good') query = query.where('problems', '=', '[]');
  return reader.all(query).map((row) => ({
    number: row.row_number,
    cells: readStored(TEXTS, row.cells),
    problems: readStored(PROBLEMS, row.problems),
    /** what the row says, hashed, with its number among equal rows */
    mark: row.mark,
    twin: row.twin === 1,
    pieceId: row.piece_id,
  }));
}

export type ListRow = ReturnType<typeof readRows>[number];

export function countListRows(reader: Reader, listId: number) {
  const counted = reader.first(
    reader.db
      .selectFrom('list_row')
      .select((e) => [
        e.fn.countAll<number>().as('n'),
        e.fn.countAll<number>().filterWhere('problems', '<>', '[]').as('wrong'),
        e.fn.countAll<number>().filterWhere('twin', '=', 1).filterWhere('problems', '=', '[]').as('twins'),
        e.fn.count<number>('piece_id').as('came'),
      ])
      .where('list_in_id', '=', listId),
  );
  return {
    all: counted?.n ?? 0,
    wrong: counted?.wrong ?? 0,
    twins: counted?.twins ?? 0,
    in: counted?.came ?? 0,
  };
}

export type RowCounts = ReturnType<typeof countListRows>;

/** How many rows up to this one have problems. */
export function countWrongTo(reader: Reader, listId: number, rowNumber: number): number {
  const counted = reader.first(
    reader.db
      .selectFrom('list_row')
      .select((e) => e.fn.countAll<number>().as('n'))
      .where('list_in_id', '=', listId)
      .where('row_number', '<=', rowNumber)
      .where('problems', '<>', '[]'),
  );
  return counted?.n ?? 0;
}

export function setState(tx: Tx, listId: number, state: ListState, problem = ''): void {
  tx.run(
    tx.db
      .updateTable('list_in')
      .set({ state, problem: problem.slice(0, 500) })
      .where('id', '=', listId),
  );
}

/** How the columns of the same heading were read the last time, or nothing where it never came before. */
export function rememberedColumns(reader: Reader, heading: readonly string[], except: number) {
  const before = reader.first(
    reader.db
      .selectFrom('list_in')
      .select(['columns', 'writing'])
      .where('heading', '=', JSON.stringify(heading))
      .where('id', '<>', except)
      .where('state', 'in', ['in', 'taken back'])
      .orderBy('id', 'desc'),
  );
  return (
    before && {
      columns: readStored(COLUMNS, before.columns),
      writing: readStored(WRITING, before.writing),
    }
  );
}
