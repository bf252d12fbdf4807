import { type FlatProblem, MOST_DAYS_AHEAD } from './day-problem.ts';
import { byEarliestEnd, narrowed, type Spell, type Windows } from './windows.ts';

/** How much may still be tried; counted down, never a clock, so that the same book gives the same days. */
export interface DayTries {
  left: number;
}

/**
 * Finds days for all steps so that every end keeps its due day, or proves that there are none: steps get the days between what must come
 * before and after them, each resource is worked by the earliest end, and where a step then begins before the one that it
 * follows has ended, both ways out are tried: the first ends earlier, or the second begins later. Every schedule is in one of the
 * two. Null: there is none; 'untold': the tries were used up.
 */
export function fitDays(
  flat: FlatProblem,
  dueDays: readonly number[],
  tries: DayTries,
): Spell[] | null | 'untold' {
  const to = flat.ops.map(() => MOST_DAYS_AHEAD - 1);
  for (const [index, { op, link }] of flat.ends.entries())
    to[op] = Math.min(to[op] ?? 0, link.before(dueDays[index] ?? 0));
  return search(flat, { from: flat.ops.map(({ fromDay }) => fromDay), to }, tries);
}

function search(flat: FlatProblem, given: Windows, tries: DayTries): Spell[] | null | 'untold' {
  const waiting: Windows[] = [given];
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    if (tries.left <= 0) return 'untold';
    tries.left -= 1;
    const windows = narrowed(flat, next);
    const spells = windows && byEarliestEnd(flat, windows);
    if (!windows || !spells) continue;
    const clash = flat.links.find((link) => startOf(spells, link.to) < link.after(endOf(spells, link.from)));
    if (!clash) return spells;
    const end = endOf(spells, clash.from);
    const least = Math.min(end - 1, clash.before(startOf(spells, clash.to)));
    const day = Math.max(least, (least + end - 1) >> 1);
    waiting.push(
      { ...windows, to: windows.to.with(clash.from, Math.min(windows.to[clash.from] ?? 0, day)) },
      {
        ...windows,
        from: windows.from.with(clash.to, Math.max(windows.from[clash.to] ?? 0, clash.after(day + 1))),
      },
    );
  }
  return null;
}

export function startOf(spells: readonly Spell[], op: number): number {
  return spells[op]?.[0]?.day ?? MOST_DAYS_AHEAD;
}

export function endOf(spells: readonly Spell[], op: number): number {
  return spells[op]?.at(-1)?.day ?? MOST_DAYS_AHEAD;
}
