import { sayHours } from '../../src/by-when/hours.ts';
import { nearestRank } from '../../src/by-when/late-record.ts';
import {
  cutBetweenEntries,
  cutWithin,
  type MeasuredRate,
  minutesOf,
  stretchesOf,
  stripsAnHour,
  type TimedTap,
} from '../../src/by-when/own-rates.ts';
import type { Reader } from '../database/book.ts';
import { prepared } from '../database/statements.ts';
import { countOf } from '../kit/words.ts';
import { inForce } from '../ledger/standing.ts';
import type { WorkTap } from './taps.ts';

/** What was done lately tells how the workroom works now. */
const MOST_TAPS = 400;
const MOST_CUTS = 400;
const MOST_BATHS = 20;
/** Fewer tell nothing. */
const LEAST_STRIPS = 5;

const lastTaps = prepared((db) =>
  db.selectFrom('work_tap').selectAll().orderBy('id', 'desc').limit(MOST_TAPS),
);

const lastCuts = prepared((db) =>
  db
    .selectFrom('entry')
    .innerJoin('tier', 'tier.id', 'entry.tier_id')
    .select(['tier.garment_id as garmentId', 'entry.person_id as personId', 'entry.at', 'entry.strips'])
    .where('entry.kind', '=', 'cut')
    .where('entry.strips', '>', 0)
    .where(inForce('entry'))
    .orderBy('entry.id', 'desc')
    .limit(MOST_CUTS),
);

/** How many strips an hour were cut, by taps where there are some, else by the times of the ledger; null where too few were. */
export interface MeasuredStrips extends MeasuredRate {
  readonly by: 'taps' | 'ledger';
}

export function readMeasuredStrips(reader: Reader): MeasuredStrips | null {
  const taps = reader.all(lastTaps()).reverse().map(asTimed);
  const cuts = reader
    .all(lastCuts())
    .reverse()
    .map(({ at, strips, ...cut }) => ({ ...cut, strips: strips ?? 0, atMs: Date.parse(at) }));
  const byTaps = cutWithin(cuts, stretchesOf(taps));
  if (byTaps && byTaps.strips >= LEAST_STRIPS) return { ...byTaps, by: 'taps' };
  const byLedger = cutBetweenEntries(cuts);
  return byLedger && byLedger.strips >= LEAST_STRIPS ? { ...byLedger, by: 'ledger' } : null;
}

/** "Measured: 9 strips an hour, rounded down: 34 in 3 h 40 min between taps." */
export function sayMeasuredStrips(measured: MeasuredStrips | null): string {
  if (!measured) return '';
  const { strips, minutes, by } = measured;
  const from = by === 'taps' ? 'between taps' : 'between entries of the ledger';
  return `Measured: ${countOf(stripsAnHour(measured), 'strip', 'strips')} an hour, rounded down: ${strips} in ${sayHours(minutes)} ${from}.`;
}

function asTimed({ garment_id, person_id, work, tap, at }: Omit<WorkTap, 'person'>): TimedTap {
  return { garmentId: garment_id, personId: person_id, work, tap, atMs: Date.parse(at) };
}

/** Minutes that were tapped at one work of a garment. */
export function tappedMinutes(taps: readonly WorkTap[], work: WorkTap['work']): number {
  return minutesOf(stretchesOf(taps.filter((tap) => tap.work === work).map(asTimed)));
}

const bathTimes = prepared((db) =>
  db
    .selectFrom('batch_log')
    .select((of) => [of.fn.min('at').as('from'), of.fn.max('at').as('to')])
    .where('kind', '=', 'step')
    .groupBy(['batch_id', 'bath'])
    .orderBy('batch_id', 'desc')
    .limit(MOST_BATHS),
);

/** "Measured: a bath took 3 h 5 min from its beginning to its last step, the median of 8."; '' where none was logged. */
export function sayMeasuredBaths(reader: Reader): string {
  const minutes = reader
    .all(bathTimes())
    .map(({ from, to }) => (Date.parse(to) - Date.parse(from)) / 60_000)
    .filter((time) => time > 0);
  if (minutes.length === 0) return '';
  return `Measured: a bath took ${sayHours(nearestRank(minutes, 5000))} from its beginning to its last step, the median of ${minutes.length}.`;
}
