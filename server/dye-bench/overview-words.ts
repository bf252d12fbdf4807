import type { Reader } from '../database/book.ts';
import { hasBegun } from './pot/bath-state.ts';
import { readAtThePot } from './pot/log-verbs.ts';
import { clockOf } from './pot/step.ts';

/** Where each bath of a batch in the pot stands: "Bath 1: Hold 98 °C, until 15:22". */
export function sayPots(reader: Reader, code: string): string[] {
  const { baths } = readAtThePot(reader, code);
  return baths.map((state) => {
    const name = baths.length === 1 ? '' : `Bath ${state.number}: `;
    const { now, untilMs } = state.clock;
    if (!hasBegun(state)) return `${name}not begun`;
    if (!now) return `${name}all steps done`;
    return `${name}${now.step.title}${untilMs === null ? '' : `, until ${clockOf(untilMs)}`}`;
  });
}

/** How the shades of these batches were judged last, by number. */
export function readVerdicts(reader: Reader, ids: readonly number[]): ReadonlyMap<number, string> {
  if (ids.length === 0) return new Map();
  const rows = reader.all(
    reader.db
      .selectFrom('batch_log')
      .leftJoin('batch_log as undone', 'undone.undoes_id', 'batch_log.id')
      .select(['batch_log.batch_id as id', 'batch_log.what'])
      .where('batch_log.kind', '=', 'result')
      .where('batch_log.batch_id', 'in', [...ids])
      .where('undone.id', 'is', null)
      .orderBy('batch_log.id'),
  );
  return new Map(rows.map(({ id, what }) => [id, what]));
}
