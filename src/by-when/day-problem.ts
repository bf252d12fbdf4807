import { type DayWait, dayAfterWaits, dayBeforeWaits } from './waits.ts';
import { isOpenDay, type WorkDays } from './work-days.ts';

/** A step of a garment that takes work. Days are numbers as in work-days.ts. */
export interface DayStep {
  /** what works on it; null for what takes only its own days, one unit on each open day */
  readonly resource: string | null;
  /** whole units of the resource, 1 or more: minutes of sewing, baths of the pots */
  readonly units: number;
  /** the first day on which it can be worked on, whatever comes before it */
  readonly fromDay: number;
  /** steps before it in the same job, and what passes after each; it begins on a later day than each of them ends */
  readonly after: readonly { readonly step: number; readonly waits: readonly DayWait[] }[];
}

/** What has to be ready on a day. Its last step comes after all others. */
export interface DayJob {
  readonly dueDay: number;
  readonly steps: readonly DayStep[];
  /** what passes between the last step and being ready */
  readonly endWaits: readonly DayWait[];
}

/** All that is to be done with what there is of each resource on each day. Work can be left and taken up again. */
export interface DayProblem {
  /** nothing is done before it */
  readonly fromDay: number;
  readonly workDays: WorkDays;
  /** whole units that a resource can do on a day */
  readonly capacity: ReadonlyMap<string, (day: number) => number>;
  readonly jobs: readonly DayJob[];
}

/** What is looked ahead: three years and a bit. What is not done by then is told as not done. */
export const MOST_DAYS_AHEAD = 1200;

/** A step in days from the first day of the problem. */
export interface Op {
  readonly job: number;
  readonly lane: number;
  readonly units: number;
  readonly fromDay: number;
}

/** Something that may begin once something else is done: `before` is the greatest day that `after` brings no further. */
export interface DayLink {
  readonly from: number;
  readonly to: number;
  after(day: number): number;
  before(day: number): number;
}

/** The same with every garment's steps in one list, each after those before it, and resources as sums over the days. */
export interface FlatProblem {
  readonly ops: readonly Op[];
  readonly links: readonly DayLink[];
  /** by lane, what it can do until the beginning of each day; lane 0 is that of steps which take their own days */
  readonly sums: readonly (readonly number[])[];
  readonly ends: readonly { readonly op: number; readonly dueDay: number; readonly link: DayLink }[];
}

export function flatten(problem: DayProblem): FlatProblem {
  const { fromDay, workDays, capacity } = problem;
  const names = [...capacity.keys()];
  const sums = [
    sumOver((day) => (isOpenDay(workDays, day + fromDay) ? 1 : 0)),
    ...names.map((name) => sumOver((day) => capacity.get(name)?.(day + fromDay) ?? 0)),
  ];
  const link = (from: number, to: number, waits: readonly DayWait[], least: 0 | 1): DayLink => ({
    from,
    to,
    after: (day) => Math.max(day + least, dayAfterWaits(workDays, day + fromDay, waits) - fromDay),
    before: (day) => Math.min(day - least, dayBeforeWaits(workDays, day + fromDay, waits) - fromDay),
  });
  const [ops, links, ends]: [Op[], DayLink[], FlatProblem['ends'][number][]] = [[], [], []];
  for (const [job, { steps, endWaits, dueDay }] of problem.jobs.entries()) {
    const first = ops.length;
    for (const [at, step] of steps.entries()) {
      const lane = step.resource === null ? 0 : names.indexOf(step.resource) + 1;
      ops.push({ job, lane, units: step.units, fromDay: Math.max(0, step.fromDay - fromDay) });
      for (const { step: before, waits } of step.after)
        links.push(link(first + before, first + at, waits, 1));
    }
    const op = ops.length - 1;
    ends.push({ op, dueDay: dueDay - fromDay, link: link(op, -1, endWaits, 0) });
  }
  return { ops, links, sums, ends };
}

function sumOver(of: (day: number) => number): number[] {
  const sums = [0];
  for (let day = 0; day < MOST_DAYS_AHEAD; day += 1) sums.push((sums[day] ?? 0) + of(day));
  return sums;
}

/**
 * The same backwards in time: what had to be begun by a day has to be ended by it. A schedule of it as soon as possible is
 * one as late as possible. `readyBy` says by which day each job is to be ready.
 */
export function mirrored(flat: FlatProblem, readyBy: readonly number[]): FlatProblem {
  const last = MOST_DAYS_AHEAD - 1;
  const { ops, links, sums, ends } = flat;
  const turned = (index: number) => ops.length - 1 - index;
  const turn = (link: DayLink): DayLink => ({
    from: turned(link.to),
    to: turned(link.from),
    after: (day) => last - link.before(last - day),
    before: (day) => last - link.after(last - day),
  });
  const endOf = new Map(ends.map(({ op, link }, job) => [op, last - link.before(readyBy[job] ?? last)]));
  return {
    ops: ops.map((op, index) => ({ ...op, fromDay: Math.max(0, endOf.get(index) ?? 0) })).reverse(),
    links: links.map(turn).reverse(),
    sums: sums.map((lane) => {
      const total = lane[MOST_DAYS_AHEAD] ?? 0;
      return lane.map((_, day) => total - (lane[MOST_DAYS_AHEAD - day] ?? 0));
    }),
    // Every step has a day before which it cannot be worked on: backwards, a day by which it must be ended.
    ends: ops.map(({ fromDay }, index) => ({
      op: turned(index),
      dueDay: last - fromDay,
      link: { from: turned(index), to: -1, after: (day) => day, before: (day) => day },
    })),
  };
}
