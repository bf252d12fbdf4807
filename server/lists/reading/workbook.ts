import readWorkbookFile from 'read-excel-file/node';
import { Unreadable } from './csv.ts';
import { unpackedZip } from './zip.ts';

const MOST_UNPACKED = 128 * 1024 * 1024;

/** The rows of the first sheet of an XLSX workbook (ECMA-376) as texts; of a formula, what it came to. */
export async function readWorkbook(bytes: Uint8Array): Promise<string[][]> {
  let sheets: Awaited<ReturnType<typeof readWorkbookFile>>;
  try {
    sheets = await readWorkbookFile(unpackedZip(bytes, MOST_UNPACKED));
  } catch (error) {
    if ((error as { code?: unknown }).code === 'ERR_BUFFER_TOO_LARGE')
      throw new Unreadable('This workbook unpacks to more than 128 MB: save the one sheet as CSV instead.');
    throw new Unreadable('This is no XLSX workbook that can be read: save the sheet as CSV instead.');
  }
  return (sheets[0]?.data ?? []).map((row) => row.map(cellText));
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
