const MOMENT = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
const DAY = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeZone: 'UTC' });

/** A moment in the workroom's own time, e.g. "25 Nov 2026, 10:41". */
export function showMoment(iso: string): string {
  return MOMENT.format(new Date(iso));
}

/** A day, e.g. "25 Nov 2026"; a day has no time zone. */
export function showDay(day: string): string {
  return DAY.format(new Date(`${day}T00:00:00Z`));
}
