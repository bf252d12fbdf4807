import { readCsv, Unreadable } from './csv.ts';
import { decodeText } from './text.ts';

export const MOST_LIST_ROWS = 100_000;
/** Lines are read before it is known which are blank, and a cell may have several. */
const MOST_LINES = 4 * MOST_LIST_ROWS;
/** Every column is asked for on one page. */
export const MOST_LIST_COLUMNS = 100;

/** The rows of a text that are not wholly blank, the heading first. @throws {Unreadable} */
export function rowsOf(bytes: Uint8Array): string[][] {
  if (OLD_WORKBOOK.every((byte, at) => bytes[at] === byte))
    throw new Unreadable('This is a workbook of the old kind, XLS: save it as XLSX or CSV.');
  const text = decodeText(bytes);
  if (!looksLikeText(text.slice(0, 1000)))
    throw new Unreadable('This is no list: it holds characters that no text has.');
  const lines = countLines(text);
  if (lines > MOST_LINES)
    throw new Unreadable(`This list has ${lines} lines, blank ones counted. A list takes ${MOST_LINES}.`);
  return filledRows(readCsv(text));
}

function countLines(text: string): number {
  let lines = 0;
  for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) lines += 1;
  return lines;
}

// What a file of the old kind begins with ([MS-CFB] 2.2).
const OLD_WORKBOOK = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];

/** One control character in a cell is the cell's fault; one in twenty letters is a picture, or the like. */
function looksLikeText(text: string): boolean {
  return (text.match(CONTROLS)?.length ?? 0) * 20 <= text.length;
}

const CONTROLS = /(?![\t\r\n])\p{Cc}/gu;

/**
 * Without blank rows, and without columns at the end that are blank throughout. @throws {Unreadable} where no row stands below
 * the heading, where there are too many rows or columns, or where the heading is no text
 */
export function filledRows(all: readonly string[][]): string[][] {
  const rows = all.filter((row) => row.some((cell) => cell.trim() !== ''));
  if (rows.length < 2) throw new Unreadable('A list has a heading and at least one row below it.');
  if (rows.length - 1 > MOST_LIST_ROWS)
    throw new Unreadable(
      `This list has ${rows.length - 1} rows. One list takes ${MOST_LIST_ROWS}: divide it.`,
    );
  const [heading = [], ...body] = rows;
  // Spreadsheets write blank columns beside the list; one without a name that holds something stays.
  const used = rows.reduce((most, row) => Math.max(most, lastFilled(row.slice(0, heading.length))), 0);
  const named = heading.slice(0, used + 1);
  if (named.some((cell) => cell.match(CONTROLS)))
    throw new Unreadable('This is no list: its first row holds characters that no text has.');
  if (named.length > MOST_LIST_COLUMNS)
    throw new Unreadable(
      `This list has ${named.length} columns. A list takes ${MOST_LIST_COLUMNS}: leave out what is no matter here.`,
    );
  return [named, ...body];
}

const lastFilled = (cells: readonly string[]) => cells.findLastIndex((cell) => cell.trim() !== '');
