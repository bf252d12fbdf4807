import type { StockField } from '../../../src/lists/stock-list.ts';
import type { Reader } from '../../database/book.ts';
import type { ListState } from '../../database/list-tables.ts';
import { address } from '../../kit/address.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import type { Page } from '../../web/page-frame.ts';
import { COLUMNS_FIELDS, columnsAsTyped, MOST_CELL, TAKING_FIELDS } from './forms.ts';
import { type ListProgress, listPath } from './runner.ts';
import {
  countListRows,
  countWrongTo,
  type ListIn,
  type ListRow,
  type RowCounts,
  readList,
  readRows,
} from './store.ts';
import { FIELD_NAMES } from './words.ts';

const WRONG_SHOWN = 25;
const GOOD_SHOWN = 5;

const UNDER_WAY: readonly ListState[] = ['reading', 'checking', 'taking in', 'taking back'];
const NOT_COUNTED: RowCounts = { all: 0, wrong: 0, twins: 0, in: 0 };

/** Where a list stands: what is wrong with it first, then what would come in, or what came of it. */
export function listPage(
  reader: Reader,
  listId: number,
  asked: { readonly progress?: ListProgress | undefined; readonly typed: Typed; readonly after: number },
) {
  const { progress, typed, after } = asked;
  const list = readList(reader, listId);
  const isUnderWay = progress !== undefined && UNDER_WAY.includes(list.state);
  const counts = isUnderWay ? NOT_COUNTED : countListRows(reader, listId);
  const [sample] = readRows(reader, listId, { after: 0, most: 1, which: 'all' });
  const wrong = readRows(reader, listId, { after, most: WRONG_SHOWN, which: 'wrong' });
  const good = readRows(reader, listId, { after: 0, most: GOOD_SHOWN, which: 'good' });
  const { columns, ...writing } = drawFields(COLUMNS_FIELDS, { ...columnsAsTyped(list), ...typed });
  const data = {
    id: listId,
    state: list.state,
    /** true while rows are being read, checked, taken in or taken back */
    working: progress !== undefined,
    progress: progress ?? null,
    problem: list.problem,
    when: showMoment(list.at),
    /** nothing is counted while the rows are worked on: the page is asked for every second then */
    counts,
    /** rows that would come in now */
    wanted: counts.all - counts.wrong - (list.skipTwins ? counts.twins : 0) - counts.in,
    requestKey: mintKey(),
    columns: columns.slice(0, list.heading.length).map(({ field, index }) => {
      const label = list.heading[index] || `column ${index + 1}`;
      const example = (sample?.cells[index] ?? '').slice(0, 60);
      return { ...field, label, hint: example === '' ? 'Empty in the first row' : `Such as “${example}”` };
    }),
    writing,
    fields: drawFields(TAKING_FIELDS, { skip_twins: list.skipTwins ? 'yes' : '' }),
    wrong: list.state === 'ready' ? wrong.map((row, index) => shapeWrong(row, index, list, typed)) : [],
    ...spanOf(reader, list, { wrong, counts, after }),
    good: good.map(({ cells }) => list.heading.map((_, index) => (cells[index] ?? '').slice(0, 60))),
    came: list.state === 'in' ? readCame(reader, listId) : [],
    leftOutHref: counts.wrong > 0 ? `/setup/lists/${listId}/left-out.csv` : '',
  };
  return { view: 'lists/list', data, title: list.name, room: 'setup' } satisfies Page;
}

function spanOf(
  reader: Reader,
  list: ListIn,
  shown: { readonly wrong: readonly ListRow[]; readonly counts: RowCounts; readonly after: number },
) {
  const { wrong, counts, after } = shown;
  const before = after === 0 ? 0 : countWrongTo(reader, list.id, after);
  const upTo = before + wrong.length;
  const path = listPath(list.id);
  const isAll = wrong.length === counts.wrong;
  return {
    /** which of the rows with problems these are: "26 to 50 of 120", '' where they are all */
    wrongSpan: isAll || wrong.length === 0 ? '' : `${before + 1} to ${upTo} of ${counts.wrong}`,
    /** where they are mended: it leads back to these rows */
    wrongAction: address(`${path}/rows`, { after: after || null }),
    firstHref: before > 0 ? path : '',
    nextHref: upTo < counts.wrong ? address(path, { after: wrong.at(-1)?.number ?? null }) : '',
  };
}

function shapeWrong(row: ListRow, index: number, list: ListIn, typed: Typed) {
  const cellOf = (field: StockField | '') => list.columns.indexOf(field);
  const inCells = row.problems.filter(({ field }) => field !== '' && cellOf(field) >= 0);
  const fields = [...new Set(inCells.map(({ field }) => field))];
  return {
    number: row.number,
    /** what the row says, to know it by */
    said: row.cells
      .filter((cell) => cell.trim() !== '')
      .slice(0, 5)
      .join(' · ')
      .replaceAll(/\p{Cc}/gu, '\uFFFD')
      .slice(0, 120),
    cells: fields.map((field) => {
      const at = cellOf(field);
      const name = `rows.${index}.c${at}`;
      return {
        name,
        label: list.heading[at] ?? '',
        value: typed[name] ?? (row.cells[at] ?? '').slice(0, MOST_CELL),
        filter: true,
        maxlength: MOST_CELL,
        error: inCells
          .filter((problem) => problem.field === field)
          .map(({ message }) => message)
          .join(' '),
      };
    }),
    /** problems of the row as a whole, and of columns that the list does not have */
    problems: row.problems
      .filter(({ field }) => field === '' || cellOf(field) < 0)
      .map(({ field, message }) =>
        field === '' ? message : `${FIELD_NAMES[field]}: ${message} No column holds it.`,
      ),
  };
}

function readCame(reader: Reader, listId: number) {
  const rows = reader.all(
    reader.db
      .selectFrom('list_row')
      .innerJoin('piece', 'piece.id', 'list_row.piece_id')
      .select('piece.code')
      .where('list_row.list_in_id', '=', listId)
      .orderBy('list_row.row_number')
      .limit(20),
  );
  return rows.map(({ code }) => ({ code, href: piecePath(code) }));
}

/** The rows that cannot come in, as they were, each with the reasons, to be mended and handed in again. */
export function* leftOut(reader: Reader, listId: number): Generator<readonly string[]> {
  const list = readList(reader, listId);
  yield [...list.heading, 'Left out because'];
  for (let after = 0; ; ) {
    const rows = readRows(reader, listId, { after, most: 500, which: 'wrong' });
    for (const { cells, problems } of rows) {
      const reasons = problems.map(({ field, message }) =>
        field === '' ? message : `${FIELD_NAMES[field]}: ${message}`,
      );
      yield [...list.heading.map((_, at) => cells[at] ?? ''), reasons.join(' ')];
    }
    const last = rows.at(-1);
    if (!last) return;
    after = last.number;
  }
}
