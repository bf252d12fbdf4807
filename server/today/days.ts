import { daysBetween } from '../kit/when.ts';

/** Near enough that somebody should look: a week. */
const SOON_DAYS = 7;

/** How far off a day is: "in 5 days", "tomorrow", "3 days ago", or '' for none; whether it has gone by, or is near. */
export function nearness(day: string | null, today: string) {
  if (day === null) return { words: '', past: false, soon: false };
  const days = daysBetween(today, day);
  return { words: inWords(days), past: days < 0, soon: days >= 0 && days <= SOON_DAYS };
}

function inWords(days: number): string {
  if (days === 0) return 'today';
  if (days === 1) return 'tomorrow';
  if (days === -1) return 'yesterday';
  return days > 0 ? `in ${days} days` : `${-days} days ago`;
}
