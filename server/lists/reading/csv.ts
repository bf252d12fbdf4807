import { parse } from 'csv-parse/sync';
import { restoreCell } from '../../../src/csv.ts';

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
    throw new Unreadable(`This cannot be read as a list: ${error instanceof Error ? error.message : ''}`);
  }
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
