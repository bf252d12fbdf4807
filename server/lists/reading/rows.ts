import { readCsv, Unreadable } from './csv.ts';
import { decodeText } from './text.ts';

export const MOST_LIST_ROWS = 100_000;

/** The rows of a text that are not wholly blank, the heading first. @throws {Unreadable} */
export function rowsOf(bytes: Uint8Array): string[][] {
  return filledRows(readCsv(decodeText(bytes)));
}

/** Without blank rows. @throws {Unreadable} where no row stands below the heading, or too many */
export function filledRows(all: readonly string[][]): string[][] {
  const rows = all.filter((row) => row.some((cell) => cell.trim() !== ''));
  if (rows.length < 2) throw new Unreadable('A list has a heading and at least one row below it.');
  if (rows.length - 1 > MOST_LIST_ROWS)
    throw new Unreadable(
      `This list has ${rows.length - 1} rows. One list takes ${MOST_LIST_ROWS}: divide it.`,
    );
  return rows;
}
