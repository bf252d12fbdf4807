import { guessColumns, type ListWriting, unitInHeading } from '../../../src/lists/stock-list.ts';
import type { Tx } from '../../database/book.ts';
import type { RowChecker } from './checking.ts';
import { type ListRow, readList, rememberedColumns } from './store.ts';

/** Writes the heading down, with what its columns hold: as the last time it came, else by their words. */
export function writeHeading(tx: Tx, listId: number, heading: readonly string[]): void {
  const { writing } = readList(tx, listId);
  const before = rememberedColumns(tx, heading, listId);
  const columns = before?.columns ?? guessColumns(heading);
  const unit = (field: 'length' | 'usable_width') => unitInHeading(heading[columns.indexOf(field)] ?? '');
  const guessed: ListWriting = {
    ...writing,
    lengthUnit: unit('length') ?? writing.lengthUnit,
    sizeUnit: unit('usable_width') ?? writing.sizeUnit,
  };
  tx.run(
    tx.db
      .updateTable('list_in')
      .set({
        heading: JSON.stringify(heading),
        columns: JSON.stringify(columns),
        writing: JSON.stringify(before ? { ...before.writing, currency: writing.currency } : guessed),
      })
      .where('id', '=', listId),
  );
}

/** Writes rows down as they are, after the first `before` ones, each with what was found about it. */
export function addRows(
  tx: Tx,
  listId: number,
  before: number,
  checker: RowChecker,
  rows: readonly (readonly string[])[],
): void {
  rows.forEach((cells, index) => {
    const row = { list_in_id: listId, row_number: before + index + 1, cells: JSON.stringify(cells) };
    const values = { ...row, ...found(checker, cells), piece_id: null, request_key: null };
    tx.run(tx.db.insertInto('list_row').values(values));
  });
}

/** Says anew of each row what is wrong with it, and whether an earlier list brought it. */
export function checkRows(tx: Tx, listId: number, checker: RowChecker, rows: readonly ListRow[]): void {
  for (const { number, cells } of rows) {
    tx.run(
      tx.db
        .updateTable('list_row')
        .set(found(checker, cells))
        .where('list_in_id', '=', listId)
        .where('row_number', '=', number),
    );
  }
}

function found(checker: RowChecker, cells: readonly string[]) {
  const { problems, mark, twin } = checker.check(cells);
  return { problems: JSON.stringify(problems), mark, twin: twin ? 1 : 0 };
}
