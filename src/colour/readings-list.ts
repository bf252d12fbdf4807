import { checkLab } from './check-lab.ts';
import { PLACES_ON_PIECE, type PlaceOnPiece } from './colour-reading.ts';
import type { Lab } from './lab.ts';

/** A reading as it stands in a list. */
export interface ListedReading {
  /** from 1, blank lines counted */
  readonly line: number;
  /** the lot's code as it was written; '' where the list has none */
  readonly lot: string;
  readonly place: PlaceOnPiece | null;
  readonly lab: Lab;
  readonly note: string;
}

export interface ReadingsList {
  readonly readings: readonly ListedReading[];
  /** sentences, each with its line */
  readonly problems: readonly string[];
}

export const MOST_READINGS = 500;

/**
 * A list of readings as an instrument or a spreadsheet gives it: columns by tabs, semicolons, commas or blanks; L*, a*, b* in this
 * order with the lot's code before them, or under headings (L*, a*, b*, lot, place, note) in any order. A comma may stand for the
 * decimal point where it does not part columns. All that is wrong is told together.
 */
export function readReadingsList(text: string): ReadingsList {
  const lines = text
    .replace(/^\uFEFF/, '')
    .split(/\r\n|\r|\n/)
    .map((line, at) => ({ line: at + 1, text: line }))
    .filter((each) => each.text.trim() !== '');
  const [first] = lines;
  if (!first) return { readings: [], problems: ['The list is empty: paste readings, a line each.'] };
  const separator = separatorOf(first.text);
  const cells = lines.map((each) => ({ line: each.line, cells: cellsOf(each.text, separator) }));
  const heading = headingOf(cells[0]?.cells ?? []);
  const rows = heading ? cells.slice(1) : cells;
  if (rows.length === 0)
    return { readings: [], problems: ['The list has a heading and no reading below it.'] };
  if (rows.length > MOST_READINGS)
    return {
      readings: [],
      problems: [`The list has ${rows.length} readings: divide it, ${MOST_READINGS} at a time.`],
    };
  const read = rows.map((row) => readRow(row, heading ?? columnsWithout(row.cells)));
  return {
    readings: read.flatMap(({ reading }) => reading ?? []),
    problems: read.flatMap(({ problems }) => problems),
  };
}

type Separator = '\t' | ';' | ',' | ' ';

function separatorOf(line: string): Separator {
  if (line.includes('\t')) return '\t';
  if (line.includes(';')) return ';';
  return (line.match(/,/g)?.length ?? 0) >= 2 && !/\d,\d+\s+\S/.test(line) ? ',' : ' ';
}

function cellsOf(line: string, separator: Separator): string[] {
  if (separator === ' ') return line.trim().split(/\s+/);
  const cells: string[] = [];
  let cell = '';
  let isQuoted = false;
  for (const letter of line) {
    if (letter === '"') isQuoted = !isQuoted;
    else if (letter === separator && !isQuoted) {
      cells.push(cell.trim());
      cell = '';
    } else cell += letter;
  }
  return [...cells, cell.trim()];
}

const COLUMNS = ['lot', 'l', 'a', 'b', 'place', 'note'] as const;
type Columns = Readonly<Record<(typeof COLUMNS)[number], number>>;

/** A heading may tell more, such as "L*(D65, 10°)". */
const HEADINGS: Readonly<Record<(typeof COLUMNS)[number], RegExp>> = {
  lot: /^lot\b/i,
  l: /^(l|l\*)(\W.*)?$/i,
  a: /^(a|a\*)(\W.*)?$/i,
  b: /^(b|b\*)(\W.*)?$/i,
  place: /^(place|where)\b/i,
  note: /^(note|name|sample)\b/i,
};

/** null where the first row is no heading */
function headingOf(cells: readonly string[]): Columns | null {
  const at = (column: (typeof COLUMNS)[number]) => cells.findIndex((cell) => HEADINGS[column].test(cell));
  const columns = {
    lot: at('lot'),
    l: at('l'),
    a: at('a'),
    b: at('b'),
    place: at('place'),
    note: at('note'),
  };
  return columns.l >= 0 && columns.a >= 0 && columns.b >= 0 ? columns : null;
}

/** Without a heading: three figures, or the lot and three figures. */
function columnsWithout(cells: readonly string[]): Columns {
  const from = cells.length >= 4 ? 1 : 0;
  return {
    lot: from - 1,
    l: from,
    a: from + 1,
    b: from + 2,
    place: from === 1 && cells.length > 4 ? 4 : -1,
    note: -1,
  };
}

function readRow(
  { line, cells }: { readonly line: number; readonly cells: readonly string[] },
  columns: Columns,
): { readonly reading: ListedReading | null; readonly problems: readonly string[] } {
  const cell = (column: keyof Columns) => cells[columns[column]] ?? '';
  const wrong = (message: string) => `Line ${line}: ${message}`;
  const problems: string[] = [];
  const [l, a, b] = (['l', 'a', 'b'] as const).map((axis) => {
    const figure = figureOf(cell(axis));
    if (figure === null)
      problems.push(
        wrong(
          `${axis === 'l' ? 'L' : axis}*: ${cell(axis) === '' ? 'nothing is there' : `“${cell(axis).slice(0, 20)}” is no figure`}. Write it as 52.3.`,
        ),
      );
    return figure ?? 0;
  });
  const lab = { l: l ?? 0, a: a ?? 0, b: b ?? 0 };
  if (problems.length === 0) problems.push(...checkLab(lab).map(({ message }) => wrong(message)));
  const place = placeOf(cell('place'));
  if (place === undefined)
    problems.push(
      wrong(`Place: “${cell('place').slice(0, 20)}” is none. Write begin, middle, end, left or right.`),
    );
  if (problems.length > 0 || place === undefined) return { reading: null, problems };
  const note = cell('note').slice(0, 200);
  return { reading: { line, lot: cell('lot').slice(0, 80), place, lab, note }, problems: [] };
}

function figureOf(text: string): number | null {
  const plain = text.replace(/^[−–]/u, '-').replace(',', '.');
  return /^[+-]?\d{1,3}(\.\d{1,12})?$/.test(plain) ? Math.round(Number(plain) * 10_000) / 10_000 : null;
}

/** undefined where it is no place */
function placeOf(text: string): PlaceOnPiece | null | undefined {
  const asked = text.trim().toLowerCase();
  return asked === '' ? null : PLACES_ON_PIECE.find((place) => place === asked);
}
