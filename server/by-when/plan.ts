import type { DayProblem } from '../../src/by-when/day-problem.ts';
import { type GarmentWork, PEOPLE, POTS, stepsOfGarment, TABLE } from '../../src/by-when/garment-steps.ts';
import { type PlannedDays, planDays } from '../../src/by-when/plan-days.ts';
import { dayNumber } from '../../src/by-when/work-days.ts';
import { readHeldWork } from '../cutting-table/lay/held-work.ts';
import type { Reader } from '../database/book.ts';
import { keptUntilWritten } from '../database/kept.ts';
import { inList, type Param, prepared } from '../database/statements.ts';
import type { Garment } from '../garments/garment/records.ts';
import { grouped } from '../kit/grouped.ts';
import { readSewing } from '../setup/rates/store.ts';
import { readAllPleatings } from '../shelf/pleating/store.ts';
import { type Needs, readNeeds } from '../short/queries.ts';
import { type ClothToCome, readClothToCome } from './cloth-to-come.ts';
import { type ClothDelivery, waitsOf } from './deliveries.ts';
import { tappedMinutes } from './measured.ts';
import { type Capacity, readCapacity } from './settings.ts';
import { sewingTimeOf } from './sewing-minutes.ts';
import { readSuppliesToCome, type SuppliesToCome } from './supplies-to-come.ts';
import { lastTap, readTaps, type WorkTap } from './taps.ts';

/** What is left of a garment, and what its days are worked out from. */
export interface GarmentFacts {
  readonly garment: Garment;
  readonly cloth: ClothToCome | null;
  /** what it waits for besides cloth; null where no supply is kept */
  readonly supplies: SuppliesToCome | null;
  /** `planned` of those left lie in held plans, which take so many minutes at the table */
  readonly strips: {
    readonly wanted: number;
    readonly cut: number;
    readonly planned: number;
    readonly plannedMinutes: number;
  };
  /** minutes of sewing; `complete` is false where a rate is missing */
  readonly sewing: {
    readonly minutes: number;
    readonly complete: boolean;
    readonly withParts: boolean;
    readonly typed: boolean;
  };
  readonly sewingDone: boolean;
  /** what of it is at a pleater: it is sewn once that is back */
  readonly pleated: readonly ReturnType<typeof readAllPleatings>[number][];
  /** minutes that were tapped at its sewing so far */
  readonly tappedMinutes: number;
  readonly fittingOn: string | null;
  readonly work: GarmentWork | null;
  readonly taps: readonly WorkTap[];
  readonly troubles: number;
}

export type WorkroomPlan = ReturnType<typeof planWorkroom>;
export type GarmentDays = WorkroomPlan['garments'][number];

/** Something that might happen: the plan is looked at as if it had. */
export interface PlanChange {
  /** days on which the workroom is closed besides, as numbers */
  readonly lostDays?: readonly number[];
  /** a supplier delivers so many days later */
  readonly later?: { readonly supplierId: number; readonly days: number };
  /** the garment of which one bath has to be dyed again */
  readonly failedFor?: number;
}

/** What is needed is the same until more of it is worked out, or it changes. */
const plansOf = keptUntilWritten((_reader, _today: string) => new WeakMap<Needs, WorkroomPlan>());

/** All open garments planned together from today on, kept from one page to the next. */
export function readWorkroomPlan(
  reader: Reader,
  today: string,
  needs: Needs = readNeeds(reader),
): WorkroomPlan {
  const kept = plansOf(reader, today);
  const plan = kept.get(needs) ?? planWorkroom(reader, today, needs);
  kept.set(needs, plan);
  return plan;
}

/** All open garments planned together from today on; what has no due day has facts and no days. */
export function planWorkroom(reader: Reader, today: string, needs: Needs, change: PlanChange = {}) {
  const capacity = readCapacity(reader, change.lostDays);
  const facts = readGarmentFacts(reader, today, needs, capacity, change);
  const planned = facts.flatMap((one) => {
    const found = one.work && stepsOfGarment(one.work);
    return found?.job ? [{ facts: one, kinds: found.kinds, job: found.job }] : [];
  });
  const problem = {
    fromDay: dayNumber(today),
    workDays: capacity.workDays,
    capacity: capacity.units,
    jobs: planned.map(({ job }) => job),
  };
  const days = planKept(reader, problem, capacity);
  return {
    capacity,
    problem,
    days,
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

/** Plans that were worked out last: pages ask the same one again and again. */
const KEPT = new WeakMap<object, Map<string, PlannedDays>>();
const MOST_KEPT = 6;

function planKept(reader: Reader, problem: DayProblem, { said }: Capacity): PlannedDays {
  const kept = KEPT.get(reader) ?? new Map<string, PlannedDays>();
  KEPT.set(reader, kept);
  const key = JSON.stringify([problem.fromDay, problem.jobs, said]);
  const days = kept.get(key) ?? planDays(problem);
  kept.delete(key);
  kept.set(key, days);
  const [oldest] = kept.keys();
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  return days;
}

const garmentWorks = prepared((db, garmentIds: Param<readonly number[]>) =>
  db.selectFrom('garment_work').selectAll().where('garment_id', 'in', inList(garmentIds)),
);

/** The day from which what is at a pleater can be sewn: the next after it is expected, tomorrow's where it is late. */
function dayBack({ expected_on: expectedOn }: { readonly expected_on: string }, today: string): number {
  return Math.max(dayNumber(expectedOn), dayNumber(today) + 1) + 1;
}

function lastDay(days: readonly (number | null)[]): number | null {
  const known = days.filter((day) => day !== null);
  return known.length === 0 ? null : Math.max(...known);
}

/** What is left to cut: by the held plans where there are any, the rest by strips an hour; null where that is not known. */
export function cutMinutesOf(
  { wanted, cut, planned, plannedMinutes }: GarmentFacts['strips'],
  stripsHour: number | null,
): number | null {
  const rest = wanted - cut - planned;
  if (rest === 0) return planned === 0 ? 0 : plannedMinutes;
  return stripsHour === null ? null : plannedMinutes + Math.ceil((rest * 60) / stripsHour);
}

/** Whether a shade without a batch, or a lot of a planned one, has no approved swatch. */
export function wantsSwatch(cloth: Pick<ClothToCome, 'unswatched' | 'batches'> | null): boolean {
  if (cloth === null) return false;
  return cloth.unswatched.length > 0 || cloth.batches.some(({ withoutSwatch }) => withoutSwatch.length > 0);
}

function readGarmentFacts(
  reader: Reader,
  today: string,
  needs: Needs,
  capacity: Capacity,
  { later, failedFor }: PlanChange,
): GarmentFacts[] {
  const { settings, stripsHour, workDays, units } = capacity;
  const ids = needs.garments.map(({ id }) => id);
  const typed = new Map(
    ids.length === 0 ? [] : reader.all(garmentWorks(ids)).map((row) => [row.garment_id, row]),
  );
  const taps = readTaps(reader, ids);
  const sewing = readSewing(reader);
  const heldWork = readHeldWork(reader, needs.garments);
  const atPleaters = readAllPleatings(reader).filter(({ isOut }) => isOut);
  const laterBy = (supplierId: number) => (later?.supplierId === supplierId ? later.days : 0);
  const cloths = readClothToCome(reader, { needs, today, settings, workDays, laterBy });
  const codes = needs.garments.map(({ code }) => code);
  const supplies = readSuppliesToCome(reader, { codes, cloths, today, settings, workDays, laterBy });
  const shares = grouped(
    needs.lines.flatMap((line) => line.shares),
    ({ garment }) => garment.code,
  );
  const without = new Set([PEOPLE, TABLE, POTS].filter((name) => !units.has(name)));
  return needs.worked.map((worked) => {
    const { garment } = worked;
    const own = typed.get(garment.id);
    const cloth = cloths.get(garment.code) ?? null;
    const besides = supplies.get(garment.code) ?? null;
    const deliveryOf = (order: ClothDelivery | null | undefined) =>
      order ? waitsOf(order, settings.receivingDays) : null;
    const counted = (shares.get(garment.code) ?? []).reduce(
      (sum, { short }) => ({ wanted: sum.wanted + short.wantedStrips, cut: sum.cut + short.cutStrips }),
      { wanted: 0, cut: 0 },
    );
    const held = heldWork.get(garment.id) ?? { strips: 0, minutes: 0 };
    const strips = {
      ...counted,
      planned: Math.min(held.strips, counted.wanted - counted.cut),
      plannedMinutes: held.minutes,
    };
    const isDone = (work: WorkTap['work']) => lastTap(taps, garment.id, work)?.tap === 'done';
    const time = sewingTimeOf(reader, worked, own?.sewing_minutes ?? null, sewing);
    const fittingOn = own?.fitting_on ?? null;
    const sewingDone = isDone('sew');
    const pleated = atPleaters.filter((row) => row.garment === garment.code);
    const ownTaps = taps.filter(({ garment_id: id }) => id === garment.id);
    const tapped = tappedMinutes(ownTaps, 'sew');
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
            dyeDelivery: deliveryOf(besides?.dyes.order),
            supplyDelivery: deliveryOf(besides?.sewn.order),
            clothDay: cloth?.day ?? null,
            supplyDay: lastDay([besides?.day ?? null, ...pleated.map((row) => dayBack(row, today))]),
            swatchDays: wantsSwatch(cloth) && !isDone('swatch') ? settings.swatchDays : 0,
            baths: baths + (cloth?.unplanned.length ?? 0) + (failedFor === garment.id ? 1 : 0),
            dryingDays: settings.dryingDays,
            cutMinutes: cutMinutesOf(strips, stripsHour),
            sewMinutes:
              sewingDone || (strips.wanted === 0 && !time.typed)
                ? 0
                : time.minutes > 0
                  ? Math.max(1, Math.ceil(time.minutes - tapped))
                  : null,
            fittingDone: isDone('fit'),
            finishingDays: settings.finishingDays,
            without,
          };
    return {
      garment,
      cloth,
      supplies: besides,
      strips,
      sewing: time,
      sewingDone,
      pleated,
      fittingOn,
      work,
      taps: ownTaps,
      tappedMinutes: tapped,
      troubles: needs.troubles.filter(({ garmentCode }) => garmentCode === garment.code).length,
    };
  });
}
