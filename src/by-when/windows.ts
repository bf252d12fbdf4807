import { type FlatProblem, MOST_DAYS_AHEAD } from './day-problem.ts';

/** By step, the first and the last day on which it may be worked on. */
export interface Windows {
  readonly from: readonly number[];
  readonly to: readonly number[];
}

/** What is worked on a step: so many units on each of some days, in their order. */
export type Spell = readonly { readonly day: number; readonly units: number }[];

/** The day on which work is done that has its resource for itself from a day on; the end of all days where never. */
export function aloneEnd(sums: readonly number[], units: number, from: number): number {
  const wanted = (sums[from] ?? Number.POSITIVE_INFINITY) + units;
  let [low, high] = [from, MOST_DAYS_AHEAD];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sums[middle + 1] ?? 0) >= wanted) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** The day on which such work has to begin so that it is done by a day; -1 where it cannot be. */
export function aloneStart(sums: readonly number[], units: number, to: number): number {
  const most = (sums[to + 1] ?? 0) - units;
  if (to < 0 || most < 0) return -1;
  let [low, high] = [0, to];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((sums[middle] ?? 0) <= most) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Narrows windows by what comes before and after each step, as if each had its resource for itself: no schedule within
 * them is lost. Null where a step has no room left.
 */
export function narrowed(flat: FlatProblem, { from, to }: Windows): Windows | null {
  const [first, last] = [[...from], [...to]];
  const { ops, sums, links } = flat;
  const sumsOf = (op: number) => sums[ops[op]?.lane ?? 0] ?? [];
  // Links are in the order of the steps that they lead to, and backwards of those that they come from.
  for (const { from: before, to: next, after } of links) {
    const end = aloneEnd(sumsOf(before), ops[before]?.units ?? 0, first[before] ?? 0);
    first[next] = Math.max(first[next] ?? 0, end >= MOST_DAYS_AHEAD ? end : after(end));
  }
  for (const { from: before, to: next, before: latest } of backwards(flat)) {
    const start = aloneStart(sumsOf(next), ops[next]?.units ?? 0, last[next] ?? 0);
    last[before] = Math.min(last[before] ?? 0, start < 0 ? start : latest(start));
  }
  const fits = ops.every(
    ({ units }, op) =>
      aloneEnd(sumsOf(op), units, first[op] ?? 0) <= (last[op] ?? -1) && (last[op] ?? -1) >= 0,
  );
  return fits ? { from: first, to: last } : null;
}

const turnedLinks = new WeakMap<FlatProblem, FlatProblem['links']>();

function backwards(flat: FlatProblem): FlatProblem['links'] {
  const known = turnedLinks.get(flat);
  if (known) return known;
  const links = [...flat.links].sort((a, b) => b.from - a.from);
  turnedLinks.set(flat, links);
  return links;
}

/**
 * Works each resource by the earliest last day among the steps that may be worked on. Where work may be left and taken up again,
 * this meets all last days of one resource if any way does (W. A. Horn, "Some simple scheduling algorithms", Naval
 * Research Logistics Quarterly 21, 1974; from memory). Null where a last day is missed.
 */
export function byEarliestEnd(flat: FlatProblem, windows: Windows): Spell[] | null {
  const spells: Spell[] = [];
  for (const [lane, sums] of flat.sums.entries()) {
    const own = flat.ops.flatMap((op, index) => (op.lane === lane ? [index] : []));
    // What takes only its own days shares them with nobody.
    const groups = lane === 0 ? own.map((index) => [index]) : [own];
    for (const group of groups) if (!workLane(flat, sums, group, windows, spells)) return null;
  }
  return spells;
}

function workLane(
  { ops }: FlatProblem,
  sums: readonly number[],
  group: readonly number[],
  { from, to }: Windows,
  spells: Spell[],
): boolean {
  const waiting = [...group].sort((a, b) => (from[a] ?? 0) - (from[b] ?? 0));
  const left = new Map(group.map((op) => [op, ops[op]?.units ?? 0]));
  const done = new Map<number, { day: number; units: number }[]>(group.map((op) => [op, []]));
  const open: number[] = [];
  let [next, day] = [0, 0];
  while (open.length > 0 || next < waiting.length) {
    if (open.length === 0) day = Math.max(day, from[waiting[next] ?? 0] ?? 0);
    if (day >= MOST_DAYS_AHEAD) return false;
    for (; next < waiting.length && (from[waiting[next] ?? 0] ?? 0) <= day; next += 1)
      open.push(waiting[next] ?? 0);
    open.sort((a, b) => (to[a] ?? 0) - (to[b] ?? 0) || a - b);
    let free = (sums[day + 1] ?? 0) - (sums[day] ?? 0);
    while (free > 0 && open[0] !== undefined) {
      const op = open[0];
      if (day > (to[op] ?? -1)) return false;
      const units = Math.min(free, left.get(op) ?? 0);
      done.get(op)?.push({ day, units });
      left.set(op, (left.get(op) ?? 0) - units);
      free -= units;
      if (left.get(op) === 0) open.shift();
    }
    day += 1;
  }
  for (const [op, work] of done) spells[op] = work;
  return true;
}
