import type { Reader } from '../../database/book.ts';
import { wordFor } from '../../kit/words.ts';
import { type LogRow, readLog, sinceStart } from '../pot/log-store.ts';
import { readSentLengths } from './store.ts';

/** What the dyeing of a lot is to be remembered for: how its shade was judged, and what was added to its bath. */
export function sayDyeing(reader: Reader, batchId: number): string[] {
  const log = sinceStart(readLog(reader, batchId), readSentLengths(reader, batchId));
  const verdict = log.findLast(({ kind }) => kind === 'result');
  const additions = new Set(log.filter(isAddition).map(({ requestKey }) => requestKey)).size;
  const count = wordFor(additions, 'one addition', `${additions} additions`);
  return [
    ...(verdict ? [`Shade ${verdict.what}${verdict.note === '' ? '.' : `: ${verdict.note}`}`] : []),
    ...(additions === 0 ? [] : [`Shaded again with ${count}.`]),
  ];
}

function isAddition({ kind }: LogRow): boolean {
  return kind === 'addition';
}
