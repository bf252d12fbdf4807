/** Days as whole numbers from 1 January 1970, which is 0 and a Thursday, and which of them the workroom is open on. */

const DAY_MS = 86_400_000;
/** 1970-01-01 was a Thursday: the fourth day of a week that begins on Monday, from 0. */
const FIRST_WEEKDAY = 3;
/** No list of closed days is as long: a walk that finds no open day by then is a mistake of the caller. */
const MOST_DAYS = 20_000;

/** When the workroom is open. */
export interface WorkDays {
  /** Monday to Sunday */
  readonly openOn: readonly boolean[];
  /** closed all the same: holidays and other days of the workroom's own list, by number */
  readonly closed: ReadonlySet<number>;
}

/** The number of a day such as "2026-11-25". */
export function dayNumber(day: string): number {
  return Date.parse(`${day}T00:00:00Z`) / DAY_MS;
}

/** The day of a number, such as "2026-11-25". */
export function dayText(number: number): string {
  return new Date(number * DAY_MS).toJSON().slice(0, 10);
}

/** Monday 0 to Sunday 6. */
export function weekdayOf(day: number): number {
  return (((day + FIRST_WEEKDAY) % 7) + 7) % 7;
}

/** The Monday of a day's week. */
export function mondayOf(day: number): number {
  return day - weekdayOf(day);
}

export function isOpenDay({ openOn, closed }: WorkDays, day: number): boolean {
  return openOn[weekdayOf(day)] === true && !closed.has(day);
}

/** The so-manieth open day after a day; the day itself where `count` is 0. @throws {RangeError} never open */
export function openDayAfter(days: WorkDays, day: number, count: number): number {
  return walk(days, day, count, 1);
}

/**
 * The so-manieth open day backwards from a day, the day itself among them where it is open; the day itself where
 * `count` is 0. @throws {RangeError} never open
 */
export function openDayBack(days: WorkDays, day: number, count: number): number {
  return count === 0 ? day : walk(days, day + 1, count, -1);
}

function walk(days: WorkDays, day: number, count: number, step: 1 | -1): number {
  let [at, left] = [day, count];
  for (let walked = 0; left > 0; walked += 1) {
    if (walked > MOST_DAYS) throw new RangeError('the workroom is never open');
    at += step;
    if (isOpenDay(days, at)) left -= 1;
  }
  return at;
}
