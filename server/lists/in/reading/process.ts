import { answerQuestions } from '../../../process.ts';
import { Unreadable } from './csv.ts';
import { filledRows, rowsOf } from './rows.ts';
import { readWorkbook } from './workbook.ts';
import { isWorkbook } from './zip.ts';

/** Rows of a file, some hundreds at a time. */
export type SomeRows = readonly (readonly string[])[];

/** Why a file gives no rows, in a sentence; '' where all were told. */
export type WhyUnreadable = string;

const AT_ONCE = 500;

answerQuestions(async (bytes: Uint8Array, tell: (rows: SomeRows) => void): Promise<WhyUnreadable> => {
  try {
    const rows = isWorkbook(bytes) ? filledRows(await readWorkbook(bytes)) : rowsOf(bytes);
    for (let from = 0; from < rows.length; from += AT_ONCE) tell(rows.slice(from, from + AT_ONCE));
    return '';
  } catch (error) {
    if (error instanceof Unreadable) return error.message;
    throw error;
  }
});
