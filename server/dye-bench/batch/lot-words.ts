import type { Reader } from '../../database/book.ts';
import { listed, wordFor } from '../../kit/words.ts';
import { type LogRow, readLog, sinceStart } from '../pot/log-store.ts';
import { readSentLengths } from './store.ts';

/**
 * What the dyeing of a lot is to be remembered for: the undyed lots that went into its bath, how its shade was judged,
 * and what was added to its bath. `bath` is null of a lot of all baths.
 */
export function sayDyeing(reader: Reader, batchId: number, bath: number | null): string[] {
  const sent = readSentLengths(reader, batchId);
  const log = sinceStart(readLog(reader, batchId), sent).filter(
    (row) => bath === null || row.bath === 0 || row.bath === bath,
  );
  const own = sent.filter((length) => length.bath === bath);
  const undyed = [...new Set(own.map(({ lotCode }) => lotCode))];
  const verdict = log.findLast(({ kind }) => kind === 'result');
  const additions = new Set(log.filter(isAddition).map(({ requestKey }) => requestKey)).size;
  const count = wordFor(additions, 'one addition', `${additions} additions`);
  return [
    ...(undyed.length === 0
      ? []
      : [
          `From undyed ${wordFor(undyed.length, 'lot', 'lots')} ${listed(undyed)}${undyed.length > 1 ? ', in one bath' : ''}.`,
        ]),
    ...(verdict ? [`Shade ${verdict.what}${verdict.note === '' ? '.' : `: ${verdict.note}`}`] : []),
    ...(additions === 0 ? [] : [`Shaded again with ${count}.`]),
  ];
}

function isAddition({ kind }: LogRow): boolean {
  return kind === 'addition';
}
