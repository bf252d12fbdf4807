import { type GarmentWork, PEOPLE, POTS, stepsOfGarment, TABLE } from '../../src/by-when/garment-steps.ts';
import { planDays } from '../../src/by-when/plan-days.ts';
import { dayNumber } from '../../src/by-when/work-days.ts';
import { sewingOf } from '../../src/garment/sewing.ts';
import { sewingTime, workOfJob } from '../../src/garment/sewing-work.ts';
import type { Reader } from '../database/book.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import type { Garment } from '../garments/garment/records.ts';
import { tiersIn, type WorkedGarment } from '../garments/garment/worked.ts';
import { sewnTier } from '../garments/sewing/sheet.ts';
import { grouped } from '../kit/grouped.ts';
import { ratesOf, readSewing, type Sewing } from '../setup/rates/store.ts';
import { type Needs, readNeeds } from '../short/queries.ts';
import { type ClothToCome, readClothToCome } from './cloth-to-come.ts';
import { waitsOf } from './deliveries.ts';
import { type Capacity, readCapacity } from './settings.ts';
import { lastTap, readTaps, type WorkTap } from './taps.ts';

/** What is left of a garment, and what its days are worked out from. */
export interface GarmentFacts {
  readonly garment: Garment;
  readonly cloth: ClothToCome | null;
  readonly strips: { readonly wanted: number; readonly cut: number };
  /** minutes of sewing; `complete` is false where a rate is missing */
  readonly sewing: { readonly minutes: number; readonly complete: boolean; readonly typed: boolean };
  readonly sewingDone: boolean;
  readonly fittingOn: string | null;
  readonly work: GarmentWork | null;
  readonly taps: readonly WorkTap[];
  readonly troubles: number;
}

export type WorkroomPlan = ReturnType<typeof readWorkroomPlan>;
export type GarmentDays = WorkroomPlan['garments'][number];

/** All open garments planned together from today on; what has no due day has facts and no days. */
export function readWorkroomPlan(reader: Reader, today: string, needs: Needs = readNeeds(reader)) {
  const capacity = readCapacity(reader);
  const facts = readGarmentFacts(reader, today, needs, capacity);
  const planned = facts.flatMap((one) => {
    const found = one.work && stepsOfGarment(one.work);
    return found?.job ? [{ facts: one, kinds: found.kinds, job: found.job }] : [];
  });
  const days = planDays({
    fromDay: dayNumber(today),
    workDays: capacity.workDays,
    capacity: capacity.units,
    jobs: planned.map(({ job }) => job),
  });
  return {
    capacity,
    proved: days.proved,
    waiting: needs.waiting,
    garments: facts.map((one) => {
      const at = planned.findIndex(({ facts: of }) => of === one);
      const { kinds, job } = planned[at] ?? { kinds: [], job: null };
      const found = days.jobs[at];
      return {
        ...one,
        job,
        readyDay: found?.readyDay ?? null,
        lateDays: found?.lateDays ?? 0,
        steps: kinds.flatMap((kind, place) => {
          const step = found?.steps[place];
          return step ? [{ kind, ...step }] : [];
        }),
      };
    }),
  };
}

const garmentWorks = prepared((db, garmentIds: Param<readonly number[]>) =>
  db.selectFrom('garment_work').selectAll().where('garment_id', 'in', inList(garmentIds)),
);

function readGarmentFacts(reader: Reader, today: string, needs: Needs, capacity: Capacity): GarmentFacts[] {
  const { settings, workDays, units } = capacity;
  const ids = needs.garments.map(({ id }) => id);
  const typed = new Map(
    ids.length === 0 ? [] : reader.all(garmentWorks(ids)).map((row) => [row.garment_id, row]),
  );
  const taps = readTaps(reader, ids);
  const sewing = readSewing(reader);
  const cloths = readClothToCome(reader, { needs, today, settings, workDays });
  const shares = grouped(
    needs.lines.flatMap((line) => line.shares),
    ({ garment }) => garment.code,
  );
  const without = new Set([PEOPLE, TABLE, POTS].filter((name) => !units.has(name)));
  return needs.worked.map((worked) => {
    const { garment } = worked;
    const own = typed.get(garment.id);
    const cloth = cloths.get(garment.code) ?? null;
    const strips = (shares.get(garment.code) ?? []).reduce(
      (sum, { short }) => ({ wanted: sum.wanted + short.wantedStrips, cut: sum.cut + short.cutStrips }),
      { wanted: 0, cut: 0 },
    );
    const isDone = (work: WorkTap['work']) => lastTap(taps, garment.id, work)?.tap === 'done';
    const time = own?.sewing_minutes
      ? { minutes: own.sewing_minutes, complete: true, typed: true }
      : { ...sewingMinutes(worked, sewing), typed: false };
    const fittingOn = own?.fitting_on ?? null;
    const left = strips.wanted - strips.cut;
    const sewingDone = isDone('sew');
    const baths = (cloth?.batches ?? []).reduce((sum, batch) => sum + batch.baths, 0);
    const work: GarmentWork | null =
      garment.dueOn === null
        ? null
        : {
            dueDay: dayNumber(garment.dueOn),
            fittingDay: fittingOn === null ? null : dayNumber(fittingOn),
            delivery: cloth?.order
              ? waitsOf(cloth.order, settings.receivingDays)
              : cloth?.untold.length
                ? []
                : null,
            clothDay: cloth?.day ?? null,
            swatchDays: (cloth?.unplanned.length ?? 0) > 0 && !isDone('swatch') ? settings.swatchDays : 0,
            baths: baths + (cloth?.unplanned.length ?? 0),
            dryingDays: settings.dryingDays,
            cutMinutes:
              left === 0
                ? 0
                : settings.stripsHour === null
                  ? null
                  : Math.ceil((left * 60) / settings.stripsHour),
            sewMinutes: sewingDone || (strips.wanted === 0 && !time.typed) ? 0 : time.minutes || null,
            fittingDone: isDone('fit'),
            finishingDays: settings.finishingDays,
            without,
          };
    return {
      garment,
      cloth,
      strips,
      sewing: time,
      sewingDone,
      fittingOn,
      work,
      taps: taps.filter(({ garment_id }) => garment_id === garment.id),
      troubles: needs.troubles.filter(({ garmentCode }) => garmentCode === garment.code).length,
    };
  });
}

/** Minutes of sewing of all tiers by the workroom's own rates, rounded up. */
function sewingMinutes({ garment, tiers }: WorkedGarment, sewing: Sewing) {
  const jobs = tiersIn(garment).flatMap((tier) => {
    const found = tiers.find(({ tierId }) => tierId === tier.id);
    if (!found) return [];
    return sewingOf(sewnTier(tier, found)).jobs.map(({ job, ticks }) =>
      workOfJob(job, ticks, ratesOf(sewing, job), 0),
    );
  });
  const { seconds, complete } = sewingTime(jobs);
  return { minutes: Math.ceil(seconds / 60), complete };
}
