import readWorkbookFile from 'read-excel-file/node';
import { Unreadable } from './csv.ts';
import { unpackedZip } from './zip.ts';

const MB = 1024 * 1024;
const MOST_UNPACKED = 128 * MB;
/** A sheet of 100,000 equal rows packed to a seventeenth; what packs to a 250th is made to. */
const MOST_TIMES_PACKED = 250;
const ALWAYS_UNPACKED = 4 * MB;

/** The rows of the first sheet of an XLSX workbook (ECMA-376) as texts; of a formula, what it came to. */
export async function readWorkbook(bytes: Uint8Array): Promise<string[][]> {
  const most = Math.min(MOST_UNPACKED, Math.max(ALWAYS_UNPACKED, MOST_TIMES_PACKED * bytes.length));
  let sheets: Awaited<ReturnType<typeof readWorkbookFile>>;
  try {
    sheets = await readWorkbookFile(unpackedZip(bytes, most, refuseFarCells));
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    if ((error as { code?: unknown }).code === 'ERR_BUFFER_TOO_LARGE')
      throw new Unreadable(
        `This workbook unpacks to more than ${Math.round(most / MB)} MB: save the one sheet as CSV instead.`,
      );
    throw new Unreadable('This is no XLSX workbook that can be read: save the sheet as CSV instead.');
  }
  return (sheets[0]?.data ?? []).map((row) => row.map(cellText));
}

/** Cells of a sheet from its first to its outermost: each takes memory, blank or not. */
const MOST_CELLS = 20_000_000;
/** The outermost cell as the sheet says it, and each cell's own place (ECMA-376, 18.3.1.35 and 18.3.1.4). */
const PLACE =
  /<(?:\w+:)?(?:dimension\s[^>]*?ref=["'](?:[A-Z]+\d+:)?|c\s[^>]*?r=["'])([A-Z]{1,3})(\d{1,10})["']/g;
const LOOKED_AT_ONCE = MB;
const LONGEST_TAG = 300;

/** One cell far out makes a sheet of a thousand bytes as large as one that is full up to there. */
function refuseFarCells(name: string, data: Buffer): void {
  if (!/^xl\/worksheets\/[^/]+\.xml$/i.test(name)) return;
  let [columns, rows] = [0, 0];
  for (let from = 0; from < data.length; from += LOOKED_AT_ONCE) {
    const text = data.toString('latin1', from, from + LOOKED_AT_ONCE + LONGEST_TAG);
    for (const [, letters = '', row = ''] of text.matchAll(PLACE)) {
      columns = Math.max(columns, columnOf(letters));
      rows = Math.max(rows, Number(row));
    }
    if (columns * rows > MOST_CELLS)
      throw new Unreadable(
        `This sheet reaches to column ${columns} and row ${rows}: clear what stands far out, or save the list as CSV.`,
      );
  }
}

/** A is 1, Z 26, AA 27. */
function columnOf(letters: string): number {
  return [...letters].reduce((number, letter) => number * 26 + letter.charCodeAt(0) - 64, 0);
}

function cellText(value: unknown): string {
  if (value === null || value === undefined) return '';
  if (value instanceof Date) return value.toISOString().slice(0, 10);
  if (typeof value === 'number') return plainNumber(value);
  return String(value);
}

/** A spreadsheet keeps 0.1 + 0.2 as 0.30000000000000004: fifteen figures are all it means. */
function plainNumber(value: number): string {
  const rounded = Number(value.toPrecision(15));
  const text = String(rounded);
  return text.includes('e') ? rounded.toFixed(10).replace(/\.?0+$/, '') : text;
}
