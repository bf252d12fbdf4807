/** Whether two lots are one, or one of the pairs. */
export function mayMeet(pairs: readonly (readonly [number, number])[], a: number, b: number): boolean {
  return a === b || pairs.some(([x, y]) => (x === a && y === b) || (x === b && y === a));
}

/** So many sets are looked for at most; of more lots each gets one. */
const MOST_SETS = 64;

/**
 * Sets of lots in which every lot may meet every other and no further lot could join: all of them (Bron and Kerbosch 1973), or,
 * where there are more than 64, for each lot the set that grows from it in order of ids.
 */
export function meetingSets(
  lotIds: readonly number[],
  pairs: readonly (readonly [number, number])[],
): readonly (readonly number[])[] {
  const sorted = lotIds.toSorted((a, b) => a - b);
  const meets = (one: number) => sorted.filter((other) => other !== one && mayMeet(pairs, one, other));
  const neighbours = new Map(sorted.map((lot) => [lot, new Set(meets(lot))]));
  return allSets(sorted, neighbours) ?? grownSets(sorted, neighbours);
}

type Neighbours = ReadonlyMap<number, ReadonlySet<number>>;

/** null where there are too many */
function allSets(lotIds: readonly number[], neighbours: Neighbours): number[][] | null {
  const sets: number[][] = [];
  const of = (lot: number) => neighbours.get(lot) ?? new Set<number>();
  const grow = (set: readonly number[], open: readonly number[], done: readonly number[]): boolean => {
    if (open.length === 0 && done.length === 0) sets.push([...set]);
    if (sets.length > MOST_SETS) return false;
    // Lots that meet the one with most neighbours are found with it.
    const pivot = [...open, ...done].reduce(
      (best, lot) => (of(lot).size > of(best).size ? lot : best),
      open[0] ?? done[0] ?? 0,
    );
    let [left, closed] = [open, done];
    for (const lot of open.filter((each) => !of(pivot).has(each))) {
      const isNear = (each: number) => of(lot).has(each);
      if (!grow([...set, lot], left.filter(isNear), closed.filter(isNear))) return false;
      left = left.filter((each) => each !== lot);
      closed = [...closed, lot];
    }
    return true;
  };
  if (lotIds.length === 0 || !grow([], lotIds, [])) return lotIds.length === 0 ? [] : null;
  return sets
    .map((set) => set.toSorted((a, b) => a - b))
    .sort((one, other) => {
      const at = one.findIndex((lot, place) => lot !== other[place]);
      return (one[at] ?? 0) - (other[at] ?? 0);
    });
}

function grownSets(lotIds: readonly number[], neighbours: Neighbours): number[][] {
  const sets = lotIds.map((first) => {
    const set = [first];
    for (const next of lotIds)
      if (next !== first && set.every((lot) => neighbours.get(lot)?.has(next))) set.push(next);
    return set.sort((a, b) => a - b);
  });
  return [...new Map(sets.map((set) => [set.join(), set])).values()];
}
