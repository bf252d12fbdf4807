import { parentPort, workerData } from 'node:worker_threads';
import { Unreadable } from './csv.ts';
import { filledRows, rowsOf } from './rows.ts';
import { readWorkbook } from './workbook.ts';
import { isWorkbook } from './zip.ts';

/** What the thread tells of a file: its rows, some hundreds at a time, then that this was all or why there is none. */
export type ReadTold =
  | { readonly kind: 'rows'; readonly rows: readonly (readonly string[])[] }
  | { readonly kind: 'done' }
  | { readonly kind: 'failed'; readonly message: string };

const AT_ONCE = 500;

const tell = (told: ReadTold) => parentPort?.postMessage(told);

try {
  const { bytes } = workerData.given as { bytes: Uint8Array };
  const rows = isWorkbook(bytes) ? filledRows(await readWorkbook(bytes)) : rowsOf(bytes);
  for (let from = 0; from < rows.length; from += AT_ONCE)
    tell({ kind: 'rows', rows: rows.slice(from, from + AT_ONCE) });
  tell({ kind: 'done' });
} catch (error) {
  if (!(error instanceof Unreadable)) throw error;
  tell({ kind: 'failed', message: error.message });
}
