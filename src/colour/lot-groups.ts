/** Some lots, and of each two whether they may meet and how far they are apart, by their places from 0. */
export interface LotPairs {
  readonly count: number;
  readonly mayMeet: (one: number, other: number) => boolean;
  /** CIEDE2000; null where nobody knows */
  readonly apart: (one: number, other: number) => number | null;
}

/** So many lots are tried in every way; 3 to the power of it is counted. */
export const MOST_TRIED = 11;

/**
 * Groups in which every lot may meet every other (complete linkage), each lot in one: as few groups as can be, and of those
 * the ones whose members lie closest together (the least sum of their distances). Up to 11 lots by trying every way; of more,
 * the two groups that lie closest are put together until none may meet. Lots keep their order.
 */
export function groupLots(lots: LotPairs): number[][] {
  const groups = lots.count <= MOST_TRIED ? fewestGroups(lots) : mergedGroups(lots);
  return groups
    .map((group) => group.toSorted((a, b) => a - b))
    .sort((one, other) => (one[0] ?? 0) - (other[0] ?? 0));
}

interface Grouping {
  readonly groups: number;
  readonly sum: number;
  /** the group that its first lot is in, as a set of bits */
  readonly first: number;
}

function fewestGroups(lots: LotPairs): number[][] {
  const sums = sumsWithin(lots);
  const best: Grouping[] = [{ groups: 0, sum: 0, first: 0 }];
  for (let set = 1; set < 1 << lots.count; set++) {
    const lowest = set & -set;
    let found: Grouping | null = null;
    // Every subset of the rest joins the first lot in turn.
    for (let rest = set ^ lowest, more = rest; ; more = (more - 1) & rest) {
      const first = more | lowest;
      const within = sums[first];
      const after = best[set ^ first];
      if (within !== null && within !== undefined && after) {
        const next = { groups: after.groups + 1, sum: after.sum + within, first };
        if (!found || isFewer(next, found)) found = next;
      }
      if (more === 0) break;
    }
    best.push(found as Grouping);
  }
  const groups: number[][] = [];
  for (let left = (1 << lots.count) - 1; left > 0; ) {
    const { first } = best[left] as Grouping;
    groups.push(placesIn(first, lots.count));
    left ^= first;
  }
  return groups;
}

/** Sums that differ only by rounding are one. */
const ROUNDING = 1e-9;

function isFewer(one: Grouping, other: Grouping): boolean {
  return one.groups !== other.groups ? one.groups < other.groups : one.sum < other.sum - ROUNDING;
}

/** Of each set of lots the sum of its distances; null where two of it may not meet. */
function sumsWithin({ count, mayMeet, apart }: LotPairs): (number | null)[] {
  const sums: (number | null)[] = [0];
  for (let set = 1; set < 1 << count; set++) {
    const highest = 31 - Math.clz32(set);
    const rest = set ^ (1 << highest);
    let sum = sums[rest] ?? null;
    for (const other of placesIn(rest, count)) {
      if (sum === null) break;
      sum = mayMeet(other, highest) ? sum + (apart(other, highest) ?? 0) : null;
    }
    sums.push(sum);
  }
  return sums;
}

function placesIn(set: number, count: number): number[] {
  return Array.from({ length: count }, (_, place) => place).filter((place) => (set & (1 << place)) !== 0);
}

function mergedGroups({ count, mayMeet, apart }: LotPairs): number[][] {
  const groups = Array.from({ length: count }, (_, place) => [place]);
  for (;;) {
    let closest: { one: number; other: number; furthest: number } | null = null;
    for (const [at, one] of groups.entries())
      for (let other = at + 1; other < groups.length; other++) {
        const furthest = furthestApart(one, groups[other] ?? [], { mayMeet, apart });
        if (furthest !== null && (closest === null || furthest < closest.furthest))
          closest = { one: at, other, furthest };
      }
    if (closest === null) return groups;
    const [joined = []] = groups.splice(closest.other, 1);
    groups[closest.one]?.push(...joined);
  }
}

function furthestApart(
  one: readonly number[],
  other: readonly number[],
  { mayMeet, apart }: Pick<LotPairs, 'mayMeet' | 'apart'>,
): number | null {
  let furthest = 0;
  for (const a of one)
    for (const b of other) {
      if (!mayMeet(a, b)) return null;
      furthest = Math.max(furthest, apart(a, b) ?? 0);
    }
  return furthest;
}

/** So many groups are put in order by trying every order. */
const MOST_ORDERED = 8;

/**
 * The order of groups from tier to tier where lots must differ, so that the eye finds no step: neighbours as close as can be,
 * the worst step first, then the sum of steps; begun with the lighter end. Of more than 8 groups, from light to dark.
 *
 * @param step how far two groups are apart in CIEDE2000
 * @param lightness of a group, L*
 */
export function orderOfTaper(
  count: number,
  step: (one: number, other: number) => number,
  lightness: (group: number) => number,
): number[] {
  const byLightness = Array.from({ length: count }, (_, group) => group).sort(
    (one, other) => lightness(other) - lightness(one),
  );
  if (count > MOST_ORDERED || count < 3) return byLightness;
  let best = { order: byLightness, ...stepsOf(byLightness, step) };
  for (const order of ordersOf(byLightness)) {
    const steps = stepsOf(order, step);
    const isSmoother =
      steps.worst < best.worst - ROUNDING ||
      (steps.worst < best.worst + ROUNDING && steps.sum < best.sum - ROUNDING);
    if (isSmoother) best = { order, ...steps };
  }
  const [first = 0, last = 0] = [best.order[0], best.order.at(-1)];
  return lightness(first) >= lightness(last) ? best.order : best.order.toReversed();
}

function stepsOf(order: readonly number[], step: (one: number, other: number) => number) {
  const steps = order.slice(1).map((group, at) => step(order[at] ?? 0, group));
  return { worst: Math.max(...steps), sum: steps.reduce((sum, each) => sum + each, 0) };
}

function* ordersOf(groups: readonly number[]): Generator<number[]> {
  if (groups.length <= 1) yield [...groups];
  for (const [at, first] of groups.entries())
    for (const rest of ordersOf(groups.toSpliced(at, 1))) yield [first, ...rest];
}
