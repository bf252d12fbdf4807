import { type Reading, refused } from '../quantity/reading.ts';

const MINUTES = 60;
/** A day has no more. */
const MOST_MINUTES = 24 * MINUTES;

/**
 * Hours as a person writes them, in minutes: "7", "7.5", "7,5", "7:30", "7 h 30 min", "45 min". A bare number is hours. Rounded to
 * a minute. `mostMinutes` is the most that is read.
 */
export function readHours(typed: string, mostMinutes = MOST_MINUTES): Reading<number> {
  const text = typed.trim().toLowerCase();
  const clock = /^(\d{1,5}):([0-5]\d)$/.exec(text);
  const bare = /^(\d{1,5}(?:[.,]\d{1,3})?)$/.exec(text);
  const parts = /^(?:(\d{1,5}(?:[.,]\d{1,3})?) ?(?:h|hours?))? ?(?:(\d{1,6}) ?min)?$/.exec(text);
  const found = clock ?? bare ?? parts;
  if (!found || text === '') return refused('Enter hours, such as 6, 6.5, 6:30 or 45 min.');
  const [, hours = '0', minutes = '0'] = found;
  const all = Math.round(Number(hours.replace(',', '.')) * MINUTES) + Number(minutes);
  if (all > mostMinutes) return refused(`Enter ${mostMinutes / MINUTES} hours or less.`);
  return { ok: true, value: all, echo: sayHours(all), exact: true };
}

/** "6 h 30 min", as it is read again; "0 h" for nothing. */
export function sayHours(minutes: number): string {
  const whole = Math.round(minutes);
  const [hours, rest] = [Math.floor(whole / MINUTES), whole % MINUTES];
  if (rest === 0) return `${hours} h`;
  return hours === 0 ? `${rest} min` : `${hours} h ${rest} min`;
}

/** Hours as a field shows them again: "5", "3:30". */
export function writeHours(minutes: number): string {
  const rest = minutes % MINUTES;
  const hours = (minutes - rest) / MINUTES;
  return rest === 0 ? String(hours) : `${hours}:${String(rest).padStart(2, '0')}`;
}
