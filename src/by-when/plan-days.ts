import { type DayProblem, type FlatProblem, flatten, MOST_DAYS_AHEAD, mirrored } from './day-problem.ts';
import { dispatch } from './dispatch.ts';
import { type DayTries, endOf, fitDays } from './fit-days.ts';
import { narrowed, type Spell } from './windows.ts';

/** When a step is done. Days are numbers as in work-days.ts; null where three years are not enough. */
export interface PlannedStep {
  /** as soon as all garments can be worked on together */
  readonly soonest: PlannedSpell | null;
  /** as late as all garments together allow: nothing is later than its due day, or than it has to be, because of it */
  readonly latest: PlannedSpell | null;
}

export interface PlannedSpell {
  readonly fromDay: number;
  readonly toDay: number;
  readonly work: readonly { readonly day: number; readonly units: number }[];
}

export interface PlannedJob {
  readonly steps: readonly PlannedStep[];
  /** the day on which it is ready; null where three years are not enough */
  readonly readyDay: number | null;
  /** calendar days behind its due day, 0 where it is in time */
  readonly lateDays: number;
}

export interface PlannedDays {
  readonly jobs: readonly PlannedJob[];
  /**
   * true where no other order of work makes the latest less late, nor then any garment, in the order of their due days;
   * false where the rule of the nearest last day had the last word
   */
  readonly proved: boolean;
}

/** Ways that are tried before the rule has the last word, fewer where each has many steps: about a tenth of a second. */
const MOST_TRIES = 600;
const MOST_STEPS_TRIED = 20_000;

/**
 * Plans all garments over the same people, table and pots. As soon as possible: the garment that is latest is as little late as
 * can be, then each, by due day, as little as the others leave it; none is made late to have another ready before its day.
 * And as late as possible, which gives every step its last day.
 */
export function planDays(problem: DayProblem, most = MOST_TRIES): PlannedDays {
  const flat = flatten(problem);
  const mostTries = Math.min(most, Math.ceil(MOST_STEPS_TRIED / Math.max(1, flat.ops.length)));
  const tries: DayTries = { left: mostTries };
  const { spells, lateDays, proved } = soonestOf(flat, tries);
  const latest = latestOf(flat, spells, lateDays, { left: mostTries });
  const shift = (spell: Spell | undefined): PlannedSpell | null => {
    const [first, last] = [spell?.[0], spell?.at(-1)];
    if (!spell || !first || !last) return null;
    const work = spell.map(({ day, units }) => ({ day: day + problem.fromDay, units }));
    return { fromDay: first.day + problem.fromDay, toDay: last.day + problem.fromDay, work };
  };
  const ready = readyDays(flat, spells);
  return {
    proved,
    jobs: problem.jobs.map((_, job) => ({
      steps: flat.ops.flatMap((op, index) =>
        op.job === job ? [{ soonest: shift(spells[index]), latest: shift(latest[index]) }] : [],
      ),
      readyDay:
        (ready[job] ?? MOST_DAYS_AHEAD) >= MOST_DAYS_AHEAD ? null : (ready[job] ?? 0) + problem.fromDay,
      lateDays: lateDays[job] ?? 0,
    })),
  };
}

interface Soonest {
  readonly spells: readonly Spell[];
  readonly lateDays: readonly number[];
  readonly proved: boolean;
}

function soonestOf(flat: FlatProblem, tries: DayTries): Soonest {
  const due = flat.ends.map(({ dueDay }) => dueDay);
  const spells = dispatch(flat, due);
  const late = lateDaysOf(flat, spells);
  const least = leastLate(flat);
  const byRule = { spells, lateDays: late };
  if (late.every((days, job) => days === least[job])) return { ...byRule, proved: true };
  const most = Math.max(...late);
  let best: Soonest = { ...byRule, proved: true };
  let proved = true;
  const within = (allowed: readonly number[]): boolean => {
    const found = fitDays(
      flat,
      due.map((day, job) => day + Math.max(allowed[job] ?? 0, least[job] ?? 0)),
      tries,
    );
    if (found === 'untold') proved = false;
    if (found === null || found === 'untold') return false;
    best = { spells: found, lateDays: lateDaysOf(flat, found), proved: true };
    return true;
  };
  const all = (days: number) => due.map(() => days);
  const leastMost = leastFor(Math.max(...least), most, (days) => within(all(days)));
  // Where the tries ended before anything was found, the rule's own days stand.
  const allowed =
    leastMost === most && !within(all(most))
      ? [...late]
      : late.map((_, job) => Math.max(leastMost, least[job] ?? 0));
  const byDue = due.map((_, job) => job).sort((a, b) => (due[a] ?? 0) - (due[b] ?? 0) || a - b);
  for (const job of byDue) {
    const had = allowed[job] ?? 0;
    allowed[job] = leastFor(least[job] ?? 0, had, (days) => within(allowed.with(job, days)));
  }
  return { ...best, proved };
}

/** The least number of days that is enough, between one that may be and one that is known to be. */
function leastFor(least: number, enough: number, isEnough: (days: number) => boolean): number {
  let [low, high] = [least, enough];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (isEnough(middle)) high = middle;
    else low = middle + 1;
  }
  return high;
}

/** How late each is if it has everything for itself. */
function leastLate(flat: FlatProblem): number[] {
  const far = MOST_DAYS_AHEAD - 1;
  const alone = narrowed(flat, { from: flat.ops.map(({ fromDay }) => fromDay), to: flat.ops.map(() => far) });
  return flat.ends.map(({ op, dueDay, link }) => {
    const { lane, units } = flat.ops[op] ?? { lane: 0, units: 0 };
    const sums = flat.sums[lane] ?? [];
    const from = alone?.from[op] ?? far;
    const end = sums.findIndex((sum, day) => day > from && sum - (sums[from] ?? 0) >= units) - 1;
    return Math.max(0, link.after(end < 0 ? MOST_DAYS_AHEAD : end) - dueDay);
  });
}

function readyDays(flat: FlatProblem, spells: readonly Spell[]): number[] {
  return flat.ends.map(({ op, link }) => link.after(endOf(spells, op)));
}

function lateDaysOf(flat: FlatProblem, spells: readonly Spell[]): number[] {
  return readyDays(flat, spells).map((day, job) => Math.max(0, day - (flat.ends[job]?.dueDay ?? 0)));
}

/** As late as possible, with each job ready by its due day or as late as it has to be; as soon as possible where that is not found. */
function latestOf(
  flat: FlatProblem,
  soonest: readonly Spell[],
  lateDays: readonly number[],
  tries: DayTries,
): readonly Spell[] {
  const readyBy = flat.ends.map(({ dueDay }, job) => dueDay + (lateDays[job] ?? 0));
  const turned = mirrored(flat, readyBy);
  const limits = turned.ends.map(({ dueDay }) => dueDay);
  const byRule = dispatch(turned, limits);
  const inTime = turned.ends.every(({ op, dueDay }) => endOf(byRule, op) <= dueDay);
  const found = inTime ? byRule : fitDays(turned, limits, tries);
  if (found === null || found === 'untold') return soonest;
  const last = MOST_DAYS_AHEAD - 1;
  return flat.ops.map((_, op) => {
    const spell = found[flat.ops.length - 1 - op] ?? [];
    return spell.map(({ day, units }) => ({ day: last - day, units })).reverse();
  });
}
