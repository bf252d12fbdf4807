const MOMENT = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short' });
const DAY = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeZone: 'UTC' });

const DAY_MS = 86_400_000;
const CLOCK = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short' });

/** A moment in the workroom's own time, e.g. "25 Nov 2026, 10:41". */
export function showMoment(iso: string): string {
  return MOMENT.format(new Date(iso));
}

/** The time of a moment by the workroom's own clock, e.g. "10:41". */
export function showClock(iso: string): string {
  return CLOCK.format(new Date(iso));
}

/** A day, e.g. "25 Nov 2026"; a day has no time zone. */
export function showDay(day: string): string {
  return DAY.format(new Date(`${day}T00:00:00Z`));
}

/** The day of a moment by the workroom's own clock, e.g. "2026-11-25". */
export function dayOf(moment: string): string {
  const at = new Date(moment);
  const two = (number: number) => String(number).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** Whole days from one day to another; below 0 where the other came before. */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY_MS;
}

/** The day so many days after another. */
export function dayAfter(day: string, days: number): string {
  return new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY_MS).toJSON().slice(0, 10);
}

/** The instant of a time such as "09:30" by the workroom's own clock on a day. */
export function momentOf(day: string, clock: string): string {
  return new Date(`${day}T${clock}:00`).toISOString();
}

/** "2 h 5 min", "40 min". */
export function sayMinutes(minutes: number): string {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (hours === 0) return `${rest} min`;
  return rest === 0 ? `${hours} h` : `${hours} h ${rest} min`;
}
