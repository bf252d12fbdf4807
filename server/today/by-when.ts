import { dayNumber } from '../../src/by-when/work-days.ts';
import type { WorkroomPlan } from '../by-when/plan.ts';
import { nextThing } from '../by-when/words.ts';
import { garmentPath } from '../kit/paths.ts';

/** Last days so near that somebody should look: a week. */
const NEAR_DAYS = 7;
const MOST = 8;

export type ByWhenToday = NonNullable<ReturnType<typeof shapeByWhen>>;

/** What is late or at risk, the latest first, then whose last day for the next thing is near; null where nothing has a due day. */
export function shapeByWhen({ garments }: WorkroomPlan, today: string) {
  const now = dayNumber(today);
  const all = garments.flatMap((days) =>
    days.work === null
      ? []
      : [
          {
            code: days.garment.code,
            name: days.garment.name,
            href: garmentPath(days.garment.code),
            next: nextThing(days, today),
          },
        ],
  );
  if (all.length === 0) return null;
  const late = all.filter(({ next }) => next.late !== '').sort((a, b) => b.next.lateDays - a.next.lateDays);
  const inTime = all
    .filter(({ next }) => next.late === '' && next.lastDay !== null)
    .sort((a, b) => (a.next.lastDay ?? 0) - (b.next.lastDay ?? 0));
  const near = inTime.filter(({ next }) => (next.lastDay ?? 0) - now <= NEAR_DAYS);
  const rows = [...late, ...near];
  return {
    late: late.length,
    rows: rows.slice(0, MOST),
    more: Math.max(0, rows.length - MOST),
    /** the nearest of those that are not, where nothing is late or near */
    first: rows.length === 0 ? (inTime[0] ?? null) : null,
  };
}
