import type { DayProblem } from '../../../src/by-when/day-problem.ts';
import { dayAfterWaits } from '../../../src/by-when/waits.ts';
import { isOpenDay } from '../../../src/by-when/work-days.ts';

/**
 * Every way of giving each resource's units to steps, day by day; written from the rules and not from the planner. Units are left idle
 * only where no step can take them: work that is done earlier makes nothing later. Gives the late days of the jobs of each
 * way that is done within so many days. For very small problems.
 */
export function everyLateness(problem: DayProblem, days: number): number[][] {
  const steps = problem.jobs.flatMap((job, of) => job.steps.map((step, at) => ({ ...step, of, at })));
  const indexOf = (of: number, at: number) => steps.findIndex((step) => step.of === of && step.at === at);
  const found = new Map<string, number[]>();
  const seen = new Set<string>();

  const visit = (day: number, left: readonly number[], ends: readonly number[]): void => {
    const key = `${day} ${left} ${ends}`;
    if (seen.has(key)) return;
    seen.add(key);
    if (left.every((units) => units === 0)) {
      const late = problem.jobs.map((job, of) => {
        const end = ends[indexOf(of, job.steps.length - 1)] ?? 0;
        return Math.max(0, dayAfterWaits(problem.workDays, end, job.endWaits) - job.dueDay);
      });
      found.set(String(late), late);
      return;
    }
    if (day >= problem.fromDay + days) return;
    const mayWork = (index: number) => {
      const step = steps[index];
      if (!step || left[index] === 0 || day < step.fromDay) return false;
      return step.after.every(({ step: before, waits }) => {
        const other = indexOf(step.of, before);
        const end = ends[other] ?? 0;
        return left[other] === 0 && day > end && day >= dayAfterWaits(problem.workDays, end, waits);
      });
    };
    const able = steps.map((_, index) => mayWork(index));
    const share = (index: number, free: ReadonlyMap<string, number>, given: readonly number[]): void => {
      const step = steps[index];
      if (!step) {
        const next = left.map((units, at) => units - (given[at] ?? 0));
        visit(
          day + 1,
          next,
          ends.map((end, at) => (next[at] === 0 && left[at] !== 0 ? day : end)),
        );
        return;
      }
      const own = step.resource === null ? Number(isOpenDay(problem.workDays, day)) : free.get(step.resource);
      const most = able[index] ? Math.min(own ?? 0, left[index] ?? 0) : 0;
      const others = steps
        .slice(index + 1)
        .reduce(
          (sum, other, at) =>
            sum +
            (able[index + 1 + at] && other.resource === step.resource ? (left[index + 1 + at] ?? 0) : 0),
          0,
        );
      const least = step.resource === null ? most : Math.min(most, Math.max(0, (own ?? 0) - others));
      for (let units = least; units <= most; units += 1) {
        const rest = new Map(free);
        if (step.resource !== null) rest.set(step.resource, (own ?? 0) - units);
        share(index + 1, rest, [...given, units]);
      }
    };
    share(0, new Map([...problem.capacity].map(([name, of]) => [name, of(day)])), []);
  };
  visit(
    problem.fromDay,
    steps.map(({ units }) => units),
    steps.map(() => -1),
  );
  return [...found.values()];
}
