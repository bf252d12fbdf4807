/**
 * Of how many days, weeks, months and years the newest copy stays: of the last that have one. So a book that was broken
 * unnoticed can be had as it was before, at most 34 copies in all.
 */
export const STAY = { days: 7, weeks: 5, months: 12, years: 10 } as const;

/**
 * Which copies stay of those made at the given instants (ISO 8601, UTC; in any order), newest first.
 *
 * A week begins on Monday, as in ISO 8601. The newest copy always stays, and to make another never lets one go that
 * would still stand for its month or year.
 */
export function whichStay(instants: readonly string[]): string[] {
  const newestFirst = [...new Set(instants)].sort().reverse();
  const periods: readonly (readonly [most: number, period: (at: string) => string])[] = [
    [STAY.days, (at) => at.slice(0, 10)],
    [STAY.weeks, mondayOf],
    [STAY.months, (at) => at.slice(0, 7)],
    [STAY.years, (at) => at.slice(0, 4)],
  ];
  const stay = new Set<string>();
  for (const [most, period] of periods) {
    const stood = new Set<string>();
    for (const at of newestFirst) {
      const one = period(at);
      if (stood.has(one)) continue;
      if (stood.size === most) break;
      stood.add(one);
      stay.add(at);
    }
  }
  return newestFirst.filter((at) => stay.has(at));
}

function mondayOf(at: string): string {
  const day = new Date(`${at.slice(0, 10)}T00:00:00Z`);
  day.setUTCDate(day.getUTCDate() - ((day.getUTCDay() + 6) % 7));
  return day.toISOString().slice(0, 10);
}
