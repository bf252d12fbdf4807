import { STOCK_FIELDS, type StockField } from '../../../src/lists/stock-list.ts';
import type { Reader } from '../../database/book.ts';
import type { ListState } from '../../database/list-tables.ts';
import { address } from '../../kit/address.ts';
import { piecePath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { showMoment } from '../../kit/when.ts';
import type { Page } from '../../web/page-frame.ts';
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

export interface ListPageData {
  readonly id: number;
  readonly state: ListState;
  /** true while rows are being read, checked, taken in or taken back */
  readonly working: boolean;
  readonly progress: ListProgress | null;
  readonly problem: string;
  readonly when: string;
  /** nothing is counted while the rows are worked on: the page is asked for every second then */
  readonly counts: RowCounts;
  /** rows that would come in now */
  readonly wanted: number;
  readonly requestKey: string;
  readonly columns: readonly ColumnChoice[];
  readonly fields: readonly { readonly value: string; readonly label: string }[];
  readonly writing: ListIn['writing'];
  readonly skipTwins: boolean;
  readonly wrong: readonly WrongRow[];
  /** which of the rows with problems these are: "26 to 50 of 120", '' where they are all */
  readonly wrongSpan: string;
  /** where they are mended: it leads back to these rows */
  readonly wrongAction: string;
  readonly firstHref: string;
  readonly nextHref: string;
  readonly good: readonly (readonly string[])[];
  readonly came: readonly { readonly code: string; readonly href: string }[];
  readonly leftOutHref: string;
}

interface ColumnChoice {
  readonly name: string;
  readonly heading: string;
  readonly example: string;
  readonly field: string;
}

interface WrongRow {
  readonly number: number;
  /** what the row says, to know it by */
  readonly said: string;
  readonly cells: readonly WrongCell[];
  /** problems of the row as a whole, and of columns that the list does not have */
  readonly problems: readonly string[];
}

interface WrongCell {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly problem: string;
}

/** Where a list stands: what is wrong with it first, then what would come in, or what came of it. */
export function listPage(
  reader: Reader,
  listId: number,
  asked: { readonly progress?: ListProgress | undefined; readonly typed: Typed; readonly after: number },
): Page {
  const { progress, typed, after } = asked;
  const list = readList(reader, listId);
  const isUnderWay = progress !== undefined && UNDER_WAY.includes(list.state);
  const counts = isUnderWay ? NOT_COUNTED : countListRows(reader, listId);
  const [sample] = readRows(reader, listId, { after: 0, most: 1, which: 'all' });
  const wrong = readRows(reader, listId, { after, most: WRONG_SHOWN, which: 'wrong' });
  const good = readRows(reader, listId, { after: 0, most: GOOD_SHOWN, which: 'good' });
  const data: ListPageData = {
    id: listId,
    state: list.state,
    working: progress !== undefined,
    progress: progress ?? null,
    problem: list.problem,
    when: showMoment(list.at),
    counts,
    wanted: counts.all - counts.wrong - (list.skipTwins ? counts.twins : 0) - counts.in,
    requestKey: mintKey(),
    columns: list.heading.map((heading, index) => ({
      name: `columns.${index}.field`,
      heading: heading || `column ${index + 1}`,
      example: (sample?.cells[index] ?? '').slice(0, 60),
      field: typed[`columns.${index}.field`] ?? list.columns[index] ?? '',
    })),
    fields: [
      { value: '', label: 'leave out' },
      ...STOCK_FIELDS.map((field) => ({ value: field, label: FIELD_NAMES[field] })),
    ],
    writing: list.writing,
    skipTwins: list.skipTwins,
    wrong: list.state === 'ready' ? wrong.map((row, index) => shapeWrong(row, index, list, typed)) : [],
    ...spanOf(reader, list, { wrong, counts, after }),
    good: good.map(({ cells }) => list.heading.map((_, index) => (cells[index] ?? '').slice(0, 60))),
    came: list.state === 'in' ? readCame(reader, listId) : [],
    leftOutHref: counts.wrong > 0 ? `/setup/lists/${listId}/left-out.csv` : '',
  };
  return { view: 'lists/list', data, title: list.name, room: 'setup' };
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
    wrongSpan: isAll || wrong.length === 0 ? '' : `${before + 1} to ${upTo} of ${counts.wrong}`,
    wrongAction: address(`${path}/rows`, { after: after || null }),
    firstHref: before > 0 ? path : '',
    nextHref: upTo < counts.wrong ? address(path, { after: wrong.at(-1)?.number ?? null }) : '',
  };
}

function shapeWrong(row: ListRow, index: number, list: ListIn, typed: Typed): WrongRow {
  const cellOf = (field: StockField | '') => list.columns.indexOf(field);
  const inCells = row.problems.filter(({ field }) => field !== '' && cellOf(field) >= 0);
  const fields = [...new Set(inCells.map(({ field }) => field))];
  return {
    number: row.number,
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
        value: typed[name] ?? (row.cells[at] ?? '').slice(0, 500),
        problem: inCells
          .filter((problem) => problem.field === field)
          .map(({ message }) => message)
          .join(' '),
      };
    }),
    problems: row.problems
      .filter(({ field }) => field === '' || cellOf(field) < 0)
      .map(({ field, message }) =>
        field === '' ? message : `${FIELD_NAMES[field]}: ${message} No column holds it.`,
      ),
  };
}

function readCame(reader: Reader, listId: number): ListPageData['came'] {
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
