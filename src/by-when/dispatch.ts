import { type FlatProblem, MOST_DAYS_AHEAD } from './day-problem.ts';
import { aloneStart, type Spell } from './windows.ts';

/**
 * The last day of each step, if it had its resource for itself and all that follows it too: what is more pressing comes first.
 * Days may lie before the first.
 */
export function ownLastDays(flat: FlatProblem, dueDays: readonly number[]): number[] {
  const { ops, links, sums, ends } = flat;
  const last = ops.map(() => MOST_DAYS_AHEAD - 1);
  for (const [index, { op, link }] of ends.entries())
    last[op] = Math.min(last[op] ?? 0, link.before(dueDays[index] ?? 0));
  for (const link of [...links].sort((a, b) => b.from - a.from)) {
    const { lane, units } = ops[link.to] ?? { lane: 0, units: 0 };
    const to = last[link.to] ?? 0;
    const start = aloneStart(sums[lane] ?? [], units, to);
    last[link.from] = Math.min(last[link.from] ?? 0, start < 0 ? Math.min(to, 0) - 1 : link.before(start));
  }
  return last;
}

/**
 * Goes through the days and gives each resource to the step whose own last day is nearest among those that can be worked on.
 * Quick, and right where one resource is short; a step that is not done when the days end has no work.
 */
export function dispatch(flat: FlatProblem, dueDays: readonly number[]): Spell[] {
  const { ops, links, sums } = flat;
  const last = ownLastDays(flat, dueDays);
  const left = ops.map(({ units }) => units);
  const from = ops.map(({ fromDay }) => fromDay);
  const before = ops.map(() => 0);
  for (const { to } of links) before[to] = (before[to] ?? 0) + 1;
  const spells: { day: number; units: number }[][] = ops.map(() => []);
  let open = ops.flatMap((_, op) => (before[op] === 0 ? [op] : []));
  const order = (a: number, b: number) => (last[a] ?? 0) - (last[b] ?? 0) || a - b;
  for (let day = 0; day < MOST_DAYS_AHEAD && open.length > 0; day += 1) {
    const free = sums.map((lane) => (lane[day + 1] ?? 0) - (lane[day] ?? 0));
    const ended: number[] = [];
    for (const op of open.sort(order)) {
      const lane = ops[op]?.lane ?? 0;
      const units = Math.min(free[lane] ?? 0, left[op] ?? 0);
      if (units <= 0 || (from[op] ?? 0) > day) continue;
      spells[op]?.push({ day, units });
      left[op] = (left[op] ?? 0) - units;
      if (lane > 0) free[lane] = (free[lane] ?? 0) - units;
      if (left[op] === 0) ended.push(op);
    }
    if (ended.length === 0) continue;
    open = open.filter((op) => !ended.includes(op));
    for (const link of links.filter((one) => ended.includes(one.from))) {
      from[link.to] = Math.max(from[link.to] ?? 0, link.after(day));
      before[link.to] = (before[link.to] ?? 0) - 1;
      if (before[link.to] === 0) open.push(link.to);
    }
  }
  return spells.map((spell, op) => (left[op] === 0 ? spell : []));
}
