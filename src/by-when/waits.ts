import { openDayAfter, openDayBack, type WorkDays } from './work-days.ts';

/** Time that passes whoever works: delivery, drying, days of approval. */
export interface DayWait {
  /** whole, 0 or more */
  readonly days: number;
  /** every day of the calendar, or the days on which the workroom is open */
  readonly of: 'calendar' | 'open';
}

/** The first day on which what follows the waits can be done, where they begin with a day. */
export function dayAfterWaits(days: WorkDays, day: number, waits: readonly DayWait[]): number {
  return waits.reduce(
    (at, wait) => (wait.of === 'calendar' ? at + wait.days : openDayAfter(days, at, wait.days)),
    day,
  );
}

/**
 * The last day with which the waits may begin so that what follows can be done on `day`: the greatest that
 * `dayAfterWaits` brings no further. A parcel of 30 open days for Monday 12 October 2026 is asked for by Monday 31 August.
 */
export function dayBeforeWaits(days: WorkDays, day: number, waits: readonly DayWait[]): number {
  return waits.reduceRight((at, wait) => {
    if (wait.of === 'calendar') return at - wait.days;
    return wait.days === 0 ? at : openDayBack(days, at, wait.days) - 1;
  }, day);
}
