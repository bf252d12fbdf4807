import type { DayJob, DayStep } from './day-problem.ts';
import type { DayWait } from './waits.ts';

/** The steps from what is not there to the last fitting, in their order. */
export const DAY_STEPS = [
  'order',
  'order-dyes',
  'order-supplies',
  'swatch',
  'dye',
  'cut',
  'sew',
  'fit',
] as const;
export type DayStepKind = (typeof DAY_STEPS)[number];

/** The few resources that garments share. */
export const PEOPLE = 'people';
export const TABLE = 'table';
export const POTS = 'pots';

/** What is left to do of a garment. Days are numbers as in work-days.ts. */
export interface GarmentWork {
  readonly dueDay: number;
  /** a day that was agreed for the last fitting; null: so many open days before the due day */
  readonly fittingDay: number | null;
  /** what passes until ordered cloth can be used; null where nothing has to be ordered */
  readonly delivery: readonly DayWait[] | null;
  /** the same of dyes and chemicals that the baths take, and of what is sewn on */
  readonly dyeDelivery: readonly DayWait[] | null;
  readonly supplyDelivery: readonly DayWait[] | null;
  /** cloth on order or in the pot can be used from then on; null where none is awaited */
  readonly clothDay: number | null;
  /** the same of what is sewn on */
  readonly supplyDay: number | null;
  /** open days for a swatch and its approval; 0 where none is wanted */
  readonly swatchDays: number;
  /** baths that have not begun */
  readonly baths: number;
  readonly dryingDays: number;
  /** null: not known, counted as one day of its own; 0: nothing is left */
  readonly cutMinutes: number | null;
  readonly sewMinutes: number | null;
  readonly fittingDone: boolean;
  /** open days from the last fitting to the due day */
  readonly finishingDays: number;
  /** what there is no capacity of: it is counted as one day of its own */
  readonly without: ReadonlySet<string>;
}

/** The steps of a garment, and which each of them is; no job where nothing is left. */
export interface GarmentSteps {
  readonly kinds: readonly DayStepKind[];
  readonly job: DayJob | null;
}

/** Puts what is left of a garment into steps, each after those that it needs. */
export function stepsOfGarment(work: GarmentWork): GarmentSteps {
  const steps: { kind: DayStepKind; step: DayStep }[] = [];
  const placeOf = (kind: DayStepKind) => steps.findIndex((one) => one.kind === kind);
  const add = (
    kind: DayStepKind,
    resource: string | null,
    units: number,
    after: readonly (readonly [DayStepKind, readonly DayWait[]])[] = [],
    fromDay = 0,
  ) => {
    const own = resource !== null && work.without.has(resource);
    const links = after.flatMap(([before, waits]) => {
      const step = placeOf(before);
      return step < 0 ? [] : [{ step, waits }];
    });
    steps.push({
      kind,
      step: { resource: own ? null : resource, units: own ? 1 : units, fromDay, after: links },
    });
  };
  const drying: DayWait[] = [{ days: work.dryingDays, of: 'calendar' }];
  const { delivery, dyeDelivery, supplyDelivery, swatchDays, baths, clothDay, supplyDay } = work;
  if (delivery) add('order', null, 1);
  if (dyeDelivery && baths > 0) add('order-dyes', null, 1);
  if (supplyDelivery && work.sewMinutes !== 0) add('order-supplies', null, 1);
  const dyes = ['order-dyes', dyeDelivery ?? []] as const;
  if (swatchDays > 0) add('swatch', null, swatchDays, [dyes]);
  if (baths > 0) add('dye', POTS, baths, [['swatch', []], dyes]);
  const cloth = [['order', delivery ?? []] as const, ['dye', drying] as const];
  addTimed('cut', TABLE, work.cutMinutes, cloth, clothDay);
  const needsCloth = placeOf('cut') < 0;
  const supplies = ['order-supplies', supplyDelivery ?? []] as const;
  const before = [['cut', []] as const, supplies, ...(needsCloth ? cloth : [])];
  addTimed('sew', PEOPLE, work.sewMinutes, before, Math.max(clothDay ?? 0, supplyDay ?? 0));
  const last = steps.length === 0 ? [] : [[steps.at(-1)?.kind ?? 'cut', []] as const];
  if (!work.fittingDone)
    add('fit', null, 1, placeOf('sew') < 0 ? [...cloth, ...last] : last, work.fittingDay ?? 0);
  const agreed = work.fittingDay !== null && !work.fittingDone;
  return {
    kinds: steps.map(({ kind }) => kind),
    job:
      steps.length === 0
        ? null
        : {
            dueDay: agreed ? (work.fittingDay ?? work.dueDay) : work.dueDay,
            steps: steps.map(({ step }) => step),
            endWaits: agreed ? [] : [{ days: work.finishingDays, of: 'open' }],
          },
  };

  function addTimed(
    kind: 'cut' | 'sew',
    resource: string,
    minutes: number | null,
    after: readonly (readonly [DayStepKind, readonly DayWait[]])[],
    fromDay: number | null,
  ): void {
    if (minutes === 0) return;
    if (minutes === null) add(kind, null, 1, after, fromDay ?? 0);
    else add(kind, resource, minutes, after, fromDay ?? 0);
  }
}
