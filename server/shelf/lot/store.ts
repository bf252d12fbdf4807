import { type LotColour, lotsThatMeet } from '../../../src/fit/lots.ts';
import type { Reader } from '../../database/book.ts';
import { readReadingsOfLots } from '../colour/readings.ts';

/** The colours of lots: the last reading of each. */
export function readLotColours(reader: Reader, lotIds: readonly number[]): LotColour[] {
  const last = new Map<number, LotColour>();
  for (const { lotId, lab } of readReadingsOfLots(reader, lotIds)) {
    if (lotId !== null) last.set(lotId, { lotId, lab });
  }
  return [...last.values()];
}

/** Which of some lots may meet in a garment. */
export function readMeets(reader: Reader, lotIds: readonly number[], mostCentiDeltaE: number) {
  return lotsThatMeet(readLotColours(reader, lotIds), mostCentiDeltaE);
}
