import { parse } from 'csv-parse/sync';
import { restoreCell } from '../../../../src/lists/csv.ts';

const SEPARATORS = [',', ';', '\t', '|'] as const;

/** The file cannot be read as a list; the message is a sentence for the person. */
export class Unreadable extends Error {}

/**
 * The rows of a list with separators (RFC 4180, loosely: quotes within a bare cell stand for themselves). What was
 * escaped when Clothroom wrote it is restored.
 */
export function readCsv(text: string): string[][] {
  try {
    const rows = parse(text, {
      bom: true,
      delimiter: guessSeparator(text),
      relax_column_count: true,
      relax_quotes: true,
      skip_empty_lines: true,
      max_record_size: 200_000,
    }) as string[][];
    return rows.map((row) => row.map(restoreCell));
  } catch (error) {
    throw new Unreadable(saidOf(error));
  }
}

function saidOf(error: unknown): string {
  const { code } = error as { code?: unknown };
  if (code === 'CSV_QUOTE_NOT_CLOSED')
    return 'A cell begins with a quotation mark that is closed nowhere: look for it, and hand the list in again.';
  if (code === 'CSV_MAX_RECORD_SIZE')
    return 'A row of this list is longer than 200,000 letters: a quotation mark may be left open in it.';
  return `This cannot be read as a list: ${error instanceof Error ? error.message : ''}`;
}

/** The separator that gives the heading the most cells, quotes minded; a comma where none gives more than one. */
export function guessSeparator(text: string): string {
  const heading =
    text
      .replace(/^\uFEFF/, '')
      .trimStart()
      .split(/\r\n|\n|\r/, 1)[0] ?? '';
  const bare = heading.replaceAll(/"(?:[^"]|"")*"/g, '""');
  const counted = SEPARATORS.map((separator) => ({ separator, cells: bare.split(separator).length }));
  return counted.reduce((best, each) => (each.cells > best.cells ? each : best)).separator;
}
