/** The byte order mark that tells a spreadsheet that the text is UTF-8. */
export const BYTE_ORDER_MARK = '\uFEFF';

/** What a spreadsheet takes for the start of a formula, full width too, also behind blanks (OWASP, CSV Injection). */
const FORMULA = /^[\s\p{Cf}]*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r]/u;

/**
 * Rows as a CSV text (RFC 4180): commas, CRLF, quotes where a cell needs them, UTF-8 with the mark in front.
 *
 * A cell that a spreadsheet would run as a formula gets an apostrophe before it; so does one that begins with an
 * apostrophe, so that `restoreCell` can take exactly one off. Plain negative numbers stay numbers.
 */
export function writeCsv(rows: readonly (readonly string[])[]): string {
  const lines = rows.map((cells) => cells.map((cell) => quoted(defuseCell(cell))).join(','));
  return `${BYTE_ORDER_MARK}${lines.map((line) => `${line}\r\n`).join('')}`;
}

/** A cell as it is written. */
export function defuseCell(cell: string): string {
  if (/^-\d+(\.\d+)?$/.test(cell)) return cell;
  return cell.startsWith("'") || FORMULA.test(cell) ? `'${cell}` : cell;
}

/** What `defuseCell` was given, from what it gave. */
export function restoreCell(cell: string): string {
  const inner = cell.slice(1);
  return cell.startsWith("'") && defuseCell(inner) === cell ? inner : cell;
}

function quoted(cell: string): string {
  return /[",\r\n]|^\s|\s$/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell;
}
