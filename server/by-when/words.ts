import type { DayStepKind } from '../../src/by-when/garment-steps.ts';
import { dayNumber, dayText } from '../../src/by-when/work-days.ts';
import { daysPath, orderPath, planPath, sewingPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { countOf, listed } from '../kit/words.ts';
import type { GarmentDays } from './plan.ts';
import { lastTap } from './taps.ts';

export const STEP_WORDS: Readonly<Record<DayStepKind, string>> = {
  order: 'Order cloth',
  'order-dyes': 'Order dyes',
  'order-supplies': 'Order supplies',
  swatch: 'Swatch',
  dye: 'Dye',
  cut: 'Cut',
  sew: 'Sew',
  fit: 'Last fitting',
};

/** A numbered day, such as "25 Nov 2026". */
export const showDayNumber = (day: number) => showDay(dayText(day));

/** The next thing to do for a garment and its last day. */
export interface NextThing {
  /** "Order cloth by 4 Dec 2026"; '' where nothing is left or no day can be told */
  readonly text: string;
  /** "in 3 days", "today" */
  readonly when: string;
  readonly href: string;
  /** whether its last day is today */
  readonly isToday: boolean;
  /** "at least 4 days late, soonest ready 14 Dec 2026"; '' where it is in time */
  readonly late: string;
  /** where all its days stand */
  readonly daysHref: string;
  readonly lateDays: number;
  readonly lastDay: number | null;
}

/** What is next for a garment: of the steps that nothing stands before, the one whose last day is nearest. */
export function nextThing(days: GarmentDays, today: string): NextThing {
  const { garment, job, steps, lateDays, readyDay } = days;
  const now = dayNumber(today);
  const daysHref = daysPath(garment.code);
  const ready = steps.flatMap(({ kind, latest }, at) =>
    (job?.steps[at]?.after.length ?? 0) === 0 ? [{ kind, latest }] : [],
  );
  const next = ready.sort((a, b) => (a.latest?.fromDay ?? 0) - (b.latest?.fromDay ?? 0))[0];
  const late = lateDays > 0 ? sayLate(lateDays, readyDay) : '';
  if (!next)
    return { text: '', when: '', href: daysHref, isToday: false, late, daysHref, lateDays, lastDay: null };
  const begun = isWork(next.kind) && lastTap(days.taps, garment.id, next.kind)?.tap === 'begun';
  const lastDay = Math.max(now, (begun ? next.latest?.toDay : next.latest?.fromDay) ?? now);
  // What was ordered and has not come stands before cutting and sewing.
  const awaited = begun || (next.kind !== 'cut' && next.kind !== 'sew') ? [] : (days.cloth?.arriving ?? []);
  const [order] = awaited;
  const said = sayNext(next.kind, begun);
  const first = order
    ? `Receive ${listed(awaited.map(({ code }) => code))}, then ${said[0]?.toLowerCase()}${said.slice(1)}`
    : said;
  return {
    text: `${first} ${showDayNumber(lastDay)}`,
    when: sayDaysAhead(lastDay - now),
    href: order ? orderPath(order.code) : hrefOf(next.kind, garment.code),
    isToday: lastDay === now,
    late,
    daysHref,
    lateDays,
    lastDay,
  };
}

type WorkKind = Exclude<DayStepKind, 'order' | 'order-dyes' | 'order-supplies'>;

/** What is tapped as begun and done; an order tells itself. */
function isWork(kind: DayStepKind): kind is WorkKind {
  return kind !== 'order' && kind !== 'order-dyes' && kind !== 'order-supplies';
}

function sayNext(kind: DayStepKind, begun: boolean): string {
  switch (kind) {
    case 'order':
      return 'Order cloth by';
    case 'order-dyes':
      return 'Order dyes by';
    case 'order-supplies':
      return 'Order supplies by';
    case 'swatch':
      return begun ? 'Approve the swatch by' : 'Dye a swatch by';
    case 'dye':
      return begun ? 'Dye the last bath by' : 'Begin dyeing by';
    case 'cut':
      return begun ? 'Cut the last strip by' : 'Begin cutting by';
    case 'sew':
      return begun ? 'Finish sewing by' : 'Begin sewing by';
    case 'fit':
      return 'Last fitting by';
  }
}

function hrefOf(kind: DayStepKind, code: string): string {
  if (kind === 'order' || kind === 'order-dyes' || kind === 'order-supplies') return '/orders/new?from=short';
  if (kind === 'swatch' || kind === 'dye') return '/dye-bench';
  if (kind === 'cut') return planPath(code);
  return kind === 'sew' ? sewingPath(code) : daysPath(code);
}

/** "at least 4 days late, soonest ready 14 Dec 2026"; "not ready within three years". */
export function sayLate(lateDays: number, readyDay: number | null): string {
  if (readyDay === null) return 'not ready within three years';
  return `at least ${countOf(lateDays, 'day', 'days')} late, soonest ready ${showDayNumber(readyDay)}`;
}

export function sayDaysAhead(days: number): string {
  if (days === 0) return 'today';
  return days === 1 ? 'tomorrow' : `in ${days} days`;
}
