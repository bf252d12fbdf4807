import { sewingOf } from '../../src/garment/sewing.ts';
import { sewingTime, workOfJob } from '../../src/garment/sewing-work.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import { readGarment } from '../garments/garment/records.ts';
import { tiersIn, type WorkedGarment, workGarments } from '../garments/garment/worked.ts';
import { type WorkedPart, workKeptParts } from '../garments/parts/kept.ts';
import { sewnTier } from '../garments/sewing/sheet.ts';
import { countOf } from '../kit/words.ts';
import { ratesOf, readSewing, type Sewing } from '../setup/rates/store.ts';
import { tappedMinutes } from './measured.ts';
import { lastTap, readTaps } from './taps.ts';

/** Minutes of sewing of all tiers and parts by the workroom's own rates, rounded up. */
function sewingMinutes({ garment, tiers }: WorkedGarment, parts: readonly WorkedPart[], sewing: Sewing) {
  const ofTiers = tiersIn(garment).flatMap((tier) => {
    const found = tiers.find(({ tierId }) => tierId === tier.id);
    return found ? sewingOf(sewnTier(tier, found)).jobs : [];
  });
  const ofParts = parts.flatMap(({ kept, answer }) =>
    (answer?.sewn ?? []).map(({ job, ticks }) => ({ job, ticks: ticks * kept.pieces })),
  );
  const jobs = [...ofTiers, ...ofParts].filter(({ ticks }) => ticks > 0);
  const { seconds, complete } = sewingTime(
    jobs.map(({ job, ticks }) => workOfJob(job, ticks, ratesOf(sewing, job), 0)),
  );
  return { minutes: Math.ceil(seconds / 60), complete, withParts: ofParts.some(({ ticks }) => ticks > 0) };
}

/** Minutes of sewing of a garment: those that somebody set for it, else by the workroom's rates. */
export function sewingTimeOf(
  reader: Reader,
  worked: WorkedGarment,
  setMinutes: number | null,
  sewing: Sewing = readSewing(reader),
) {
  return setMinutes
    ? { minutes: setMinutes, complete: true, withParts: false, typed: true }
    : { ...sewingMinutes(worked, workKeptParts(reader, worked.garment.code), sewing), typed: false };
}

/** Garments that are looked at: older ones tell of another time. */
const MOST_SEWN = 10;

const lastSewn = prepared((db) =>
  db
    .selectFrom('work_tap')
    .select((of) => ['garment_id', of.fn.max('id').as('last')])
    .where('work', '=', 'sew')
    .where('tap', '=', 'done')
    .groupBy('garment_id')
    .orderBy('last', 'desc')
    .limit(MOST_SEWN),
);

const codesOf = prepared((db, ids: Param<readonly number[]>) =>
  db.selectFrom('garment').select('code').where('id', 'in', inList(ids)),
);

/**
 * "Measured: sewing took 1.2 × what your rates say, over 2 garments.", of garments whose sewing was tapped from its beginning
 * until it was done and whose every job has a rate; '' where there is none.
 */
export function sayMeasuredSewing(reader: Reader): string {
  const ids = reader.all(lastSewn()).map(({ garment_id: id }) => id);
  if (ids.length === 0) return '';
  const taps = readTaps(reader, ids);
  const garments = reader.all(codesOf(ids)).map(({ code }) => readGarment(reader, code));
  const sewing = readSewing(reader);
  const counted = workGarments(reader, garments).flatMap((worked) => {
    const { id } = worked.garment;
    const own = taps.filter(({ garment_id: of }) => of === id);
    const { minutes, complete } = sewingMinutes(worked, workKeptParts(reader, worked.garment.code), sewing);
    const tapped = tappedMinutes(own, 'sew');
    const isDone = lastTap(own, id, 'sew')?.tap === 'done';
    return isDone && complete && minutes > 0 && tapped > 0 ? [{ minutes, tapped }] : [];
  });
  if (counted.length === 0) return '';
  const sum = (of: (one: (typeof counted)[number]) => number) =>
    counted.reduce((total, one) => total + of(one), 0);
  const factor = (sum(({ tapped }) => tapped) / sum(({ minutes }) => minutes)).toFixed(1);
  return `Measured: sewing took ${factor} × what your rates say, over ${countOf(counted.length, 'garment', 'garments')}.`;
}
