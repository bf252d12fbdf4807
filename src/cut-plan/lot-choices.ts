import type { PlanJob } from './job.ts';
import type { Meter } from './meter.ts';
import { type Model, modelOf } from './model.ts';

/** Which lots each group of strips may be cut from, by group. */
export type LotChoice = ReadonlyMap<number, ReadonlySet<number>>;

export interface LotChoices {
  readonly choices: readonly LotChoice[];
  /** False where there were too many to list: the most promising of them are here. */
  readonly isAll: boolean;
}

const MOST_CHOICES = 256;
const MOST_SETS = 64;

/**
 * Every way to give lots to groups of strips: one lot each, a largest set of lots that may all meet, or all lots.
 * Where there are very many, single lots are given to the groups in the order of how much cloth they have.
 */
export function choicesOfLots(job: PlanJob): LotChoices {
  const lots = lotsByLength(job);
  const groups = groupsOf(job);
  const perGroup = groups.map(({ rule }) => {
    if (rule === 'any') return [new Set(lots)];
    return rule === 'one' ? lots.map((lot) => new Set([lot])) : largestSets(lots, job.meets);
  });
  const total = perGroup.reduce((product, sets) => product * Math.max(1, sets.length), 1);
  const most = Math.max(1, Math.floor(MOST_CHOICES ** (1 / Math.max(1, groups.length))));
  const listed = total <= MOST_CHOICES ? perGroup : perGroup.map((sets) => sets.slice(0, most));
  let choices: Map<number, ReadonlySet<number>>[] = [new Map()];
  listed.forEach((sets, i) => {
    const group = groups[i]?.group ?? 0;
    const given = sets.length > 0 ? sets : [new Set<number>()];
    choices = choices.flatMap((choice) => given.map((set) => new Map([...choice, [group, set]])));
  });
  if (total <= MOST_CHOICES) return { choices, isAll: true };
  // All groups of single lots from one lot is what a cutter tries first.
  const together = lots.map((lot) => {
    const sets = groups.map(({ group }, i) => {
      const holding = perGroup[i]?.find((set) => set.has(lot));
      return [group, holding ?? perGroup[i]?.[0] ?? new Set<number>()] as const;
    });
    return new Map(sets);
  });
  return { choices: [...together, ...choices], isAll: false };
}

/** What any choice of lots may use, all at once: a bound for it holds for every choice. */
export function everyLot(job: PlanJob): LotChoice {
  const lots = new Set(job.pieces.map(({ lotId }) => lotId));
  return new Map(groupsOf(job).map(({ group }) => [group, lots]));
}

/** What can be laid where, with the lots of a choice. */
export function modelFor(job: PlanJob, choice: LotChoice, meter?: Meter): Model {
  const allowed = (kind: number, lotId: number) =>
    choice.get(job.kinds[kind]?.group ?? -1)?.has(lotId) ?? false;
  return modelOf(job, allowed, meter);
}

/** A choice kept to some lots; null where a group would have none left. */
export function withinLots(choice: LotChoice, lots: ReadonlySet<number>): LotChoice | null {
  const kept = [...choice].map(
    ([group, set]) => [group, new Set([...set].filter((lot) => lots.has(lot)))] as const,
  );
  return kept.some(([, set]) => set.size === 0) ? null : new Map(kept);
}

/** Strips for which the lots of a choice have not even the area: so much is missing at least. */
export function areaLacking(job: PlanJob, choice: LotChoice): number {
  const need = new Map<string, { lots: ReadonlySet<number>; area: number }>();
  for (const { group, count, lengthTicks, depthTicks } of job.kinds) {
    const lots = choice.get(group) ?? new Set<number>();
    const key = [...lots].sort((a, b) => a - b).join();
    const area = (need.get(key)?.area ?? 0) + count * lengthTicks * depthTicks;
    need.set(key, { lots, area });
  }
  let lacking = 0;
  for (const { lots, area } of need.values()) {
    const have = job.pieces
      .filter(({ lotId }) => lots.has(lotId))
      .reduce((sum, piece) => sum + piece.count * piece.lengthTicks * piece.widthTicks, 0);
    lacking += Math.max(0, area - have);
  }
  return lacking;
}

function groupsOf(job: PlanJob): { group: number; rule: 'one' | 'meet' | 'any' }[] {
  const groups = new Map<number, 'one' | 'meet' | 'any'>();
  for (const { group, lots, count } of job.kinds) if (count > 0) groups.set(group, lots);
  return [...groups].map(([group, rule]) => ({ group, rule }));
}

function lotsByLength(job: PlanJob): number[] {
  const lengths = new Map<number, number>();
  for (const { lotId, lengthTicks, count } of job.pieces)
    lengths.set(lotId, (lengths.get(lotId) ?? 0) + lengthTicks * count);
  return [...lengths].sort(([a, x], [b, y]) => y - x || a - b).map(([lot]) => lot);
}

/** Sets of lots in which every two may meet and to which no lot can be added (Bron and Kerbosch 1973). */
function largestSets(lots: readonly number[], meets: PlanJob['meets']): Set<number>[] {
  const mates = new Map(lots.map((lot) => [lot, new Set<number>()]));
  for (const [a, b] of meets) {
    if (a === b) continue;
    mates.get(a)?.add(b);
    mates.get(b)?.add(a);
  }
  const found: Set<number>[] = [];
  const grow = (held: readonly number[], open: readonly number[], done: readonly number[]): void => {
    if (found.length >= MOST_SETS) return;
    if (open.length === 0 && done.length === 0) found.push(new Set(held));
    let [left, over] = [open, done];
    for (const lot of open) {
      const near = mates.get(lot) ?? new Set<number>();
      grow(
        [...held, lot],
        left.filter((other) => near.has(other)),
        over.filter((other) => near.has(other)),
      );
      left = left.filter((other) => other !== lot);
      over = [...over, lot];
    }
  };
  grow([], lots, []);
  return found.filter((set) => set.size > 0);
}

/** All sets of so many lots, in the order of the lots. */
export function* subsetsOf(lots: readonly number[], size: number): Generator<number[]> {
  if (size === 0) yield [];
  for (let i = 0; i + size <= lots.length && size > 0; i += 1)
    for (const rest of subsetsOf(lots.slice(i + 1), size - 1)) yield [lots[i] as number, ...rest];
}
