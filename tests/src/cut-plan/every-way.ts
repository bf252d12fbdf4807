import type { PlanJob, PlanKind, PlanPiece } from '../../../src/cut-plan/job.ts';

/** What the best plan comes to: strips missing, lots used, and area charged, in square ticks. */
export type Optimum = readonly [missing: number, lots: number, chargedArea: number];

/**
 * The best plan of a very small job, by brute force over the style of cutting: every lay at every tick along a piece, in
 * every height in ticks, slit at every tick across, and every sharing out over pieces and lots.
 *
 * Written from the rules of cutting alone; it shares nothing with the planner. The table must be as long as the longest
 * strip at least.
 */
export function tryEveryWay(job: PlanJob): Optimum {
  const groups = [...new Set(job.kinds.map(({ group }) => group))];
  const lotIds = [...new Set(job.pieces.map(({ lotId }) => lotId))];
  let plans = new Map<string, Plan>();
  const none = { made: job.kinds.map(() => 0), lotsOf: groups.map(() => 0), charged: 0 };
  plans.set(keyOf(none), none);
  for (const piece of job.pieces) {
    const outcomes = withoutSomeGroups(job, groups, outcomesOf(job, piece));
    const lot = 1 << lotIds.indexOf(piece.lotId);
    for (let copy = 0; copy < piece.count; copy += 1) {
      const next = new Map(plans);
      for (const plan of plans.values())
        for (const { strips, end } of outcomes) {
          const made = added(job, plan.made, strips);
          const lotsOf = groups.map((group, g) => {
            const isGiven = job.kinds.some((kind, i) => kind.group === group && (strips[i] ?? 0) > 0);
            return (plan.lotsOf[g] ?? 0) | (isGiven ? lot : 0);
          });
          const isEndUseful = piece.lengthTicks - end >= job.usefulTicks;
          const charged = plan.charged + (isEndUseful ? end : piece.lengthTicks) * piece.widthTicks;
          const more = { made, lotsOf, charged };
          const key = keyOf(more);
          if (charged < (next.get(key)?.charged ?? Number.POSITIVE_INFINITY)) next.set(key, more);
        }
      plans = next;
    }
  }
  const wanted = job.kinds.reduce((sum, { count }) => sum + count, 0);
  let best: Optimum = [wanted, 0, 0];
  for (const { made, lotsOf, charged } of plans.values()) {
    if (!groups.every((group, g) => mayMeet(job, group, lotsWithin(lotIds, lotsOf[g] ?? 0)))) continue;
    const missing = wanted - made.reduce((sum, n) => sum + n, 0);
    const lots = lotsWithin(
      lotIds,
      lotsOf.reduce((all, some) => all | some, 0),
    ).length;
    if ((missing - best[0] || lots - best[1] || charged - best[2]) < 0) best = [missing, lots, charged];
  }
  return best;
}

interface Plan {
  readonly made: readonly number[];
  /** by group, the lots that it is cut from, a bit each */
  readonly lotsOf: readonly number[];
  readonly charged: number;
}

interface Outcome {
  readonly strips: readonly number[];
  readonly end: number;
}

function keyOf({ made, lotsOf }: Plan): string {
  return `${made.join()} ${lotsOf.join()}`;
}

function lotsWithin(lotIds: readonly number[], bits: number): number[] {
  return lotIds.filter((_, i) => bits & (1 << i));
}

function mayMeet(job: PlanJob, group: number, lots: readonly number[]): boolean {
  const rule = job.kinds.find((kind) => kind.group === group)?.lots;
  if (rule === 'any' || lots.length < 2) return true;
  if (rule === 'one') return false;
  return lots.every((a) =>
    lots.every((b) => a === b || job.meets.some(([x, y]) => (x === a && y === b) || (x === b && y === a))),
  );
}

function added(job: PlanJob, a: readonly number[], b: readonly number[]): number[] {
  return job.kinds.map(({ count }, i) => Math.min(count, (a[i] ?? 0) + (b[i] ?? 0)));
}

/** A piece may be cut for the strips of some groups only. */
function withoutSomeGroups(job: PlanJob, groups: readonly number[], outcomes: Outcome[]): Outcome[] {
  const all = new Map<string, Outcome>();
  for (const { strips, end } of outcomes)
    for (let bits = 1; bits < 1 << groups.length; bits += 1) {
      const some = strips.map((n, i) => (bits & (1 << groups.indexOf(job.kinds[i]?.group ?? -1)) ? n : 0));
      if (end < (all.get(some.join())?.end ?? Number.POSITIVE_INFINITY))
        all.set(some.join(), { strips: some, end });
    }
  return [...all.values()].filter(({ strips }) => strips.some((n) => n > 0));
}

/** What can be cut from a piece, and the first line at which it is. */
function outcomesOf(job: PlanJob, piece: PlanPiece): Outcome[] {
  const reached = new Map<string, Outcome>();
  const none = job.kinds.map(() => 0);
  reached.set(none.join(), { strips: none, end: 0 });
  const later = new Map<number, number[][]>();
  const lays = new Map<string, number[][]>();
  for (let from = 0; from < piece.lengthTicks; from += 1) {
    for (const strips of later.get(from) ?? [])
      if (!reached.has(strips.join())) reached.set(strips.join(), { strips, end: from });
    for (let height = 1; height <= job.tableTicks && from + height <= piece.lengthTicks; height += 1) {
      const isFree = freeAcross(job, piece, from, from + height);
      const key = `${height} ${isFree.join()}`;
      const ways = lays.get(key) ?? waysToSlit(job, isFree, height);
      lays.set(key, ways);
      const to = from + height;
      for (const { strips } of reached.values())
        for (const way of ways) later.set(to, [...(later.get(to) ?? []), added(job, strips, way)]);
    }
  }
  for (const strips of later.get(piece.lengthTicks) ?? [])
    if (!reached.has(strips.join())) reached.set(strips.join(), { strips, end: piece.lengthTicks });
  return [...reached.values()];
}

/** For every tick across whether it is free of flaws over the whole lay. */
function freeAcross({ flaws }: PlanJob, piece: PlanPiece, from: number, to: number): boolean[] {
  const inWay = piece.flaws.filter((flaw) => flaw.fromTicks < to && flaw.toTicks > from);
  return Array.from({ length: piece.widthTicks }, (_, x) =>
    inWay.every((flaw) => flaws === 'straddle' && (x < flaw.leftTicks || x >= flaw.rightTicks)),
  );
}

/** Every set of strips that a lay of a height can be slit into, from the left edge to the right. */
function waysToSlit(job: PlanJob, isFree: readonly boolean[], height: number): number[][] {
  const found = new Map<string, number[]>();
  const seen = new Set<string>();
  const walk = (x: number, strips: readonly number[]): void => {
    const key = `${x} ${strips.join()}`;
    if (seen.has(key)) return;
    seen.add(key);
    if (x >= isFree.length) {
      if (strips.some((n) => n > 0)) found.set(strips.join(), [...strips]);
      return;
    }
    walk(x + 1, strips);
    job.kinds.forEach((kind, k) => {
      for (const [across, along] of waysRound(kind)) {
        const room = isFree.slice(x, x + across);
        const column = Math.min(Math.floor(height / along), job.stacks ? kind.count : 1);
        if (column < 1 || kind.count === 0 || room.length < across || room.includes(false)) continue;
        walk(
          x + across,
          strips.map((n, i) => (i === k ? Math.min(kind.count, n + column) : n)),
        );
      }
    });
  };
  walk(
    0,
    job.kinds.map(() => 0),
  );
  // A way that holds no more than another is of no use.
  const ways = [...found.values()];
  return ways.filter(
    (one) => !ways.some((other) => other !== one && other.every((n, i) => n >= (one[i] ?? 0))),
  );
}

function waysRound({ lengthTicks, depthTicks, direction }: PlanKind): [across: number, along: number][] {
  const ways: [number, number][] = [];
  if (direction !== 'along') ways.push([lengthTicks, depthTicks]);
  if (direction !== 'across') ways.push([depthTicks, lengthTicks]);
  return ways;
}
