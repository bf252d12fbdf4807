import type { DayProblem } from './day-problem.ts';
import type { PlannedDays, PlannedSpell } from './plan-days.ts';
import { mondayOf } from './work-days.ts';

/** What a resource can do in a week and what is planned for it, in its own units. */
export interface WeekLoad {
  /** the Monday, as a number */
  readonly monday: number;
  readonly capacity: number;
  /** as soon as possible */
  readonly soonest: number;
  /** as late as possible: what has to be done in this week if it was not done before */
  readonly latest: number;
}

/**
 * The load of a resource week by week, from the week of the first day to the last week in which something is planned or due. A
 * week counts from the first day on: what has passed of it can do nothing any more. `mostWeeks` bounds the list.
 */
export function weekLoads(
  problem: DayProblem,
  planned: PlannedDays,
  resource: string,
  mostWeeks: number,
): WeekLoad[] {
  const first = mondayOf(problem.fromDay);
  const spells = planned.jobs.flatMap(({ steps }, job) =>
    steps.flatMap((step, at) => (problem.jobs[job]?.steps[at]?.resource === resource ? [step] : [])),
  );
  const ends = [
    ...problem.jobs.map(({ dueDay }) => dueDay),
    ...spells.flatMap(({ soonest, latest }) => [soonest?.toDay ?? 0, latest?.toDay ?? 0]),
  ];
  const last = Math.max(first, ...ends.map(mondayOf));
  const weeks = Math.min(mostWeeks, (last - first) / 7 + 1);
  const capacityOf = problem.capacity.get(resource) ?? (() => 0);
  return Array.from({ length: weeks }, (_, at) => {
    const monday = first + at * 7;
    const within = (spell: PlannedSpell | null) =>
      (spell?.work ?? [])
        .filter(({ day }) => day >= monday && day < monday + 7)
        .reduce((sum, { units }) => sum + units, 0);
    const days = Array.from({ length: 7 }, (_, day) => monday + day).filter((day) => day >= problem.fromDay);
    return {
      monday,
      capacity: days.reduce((sum, day) => sum + capacityOf(day), 0),
      soonest: spells.reduce((sum, { soonest }) => sum + within(soonest), 0),
      latest: spells.reduce((sum, { latest }) => sum + within(latest), 0),
    };
  });
}
