/** Equal whole rings of one part, to be cut of one cloth; lengths in ticks. */
export interface Rings {
  readonly id: number;
  readonly innerTicks: number;
  readonly outerTicks: number;
  readonly count: number;
  /** whether they may be cut from the holes of larger rings */
  readonly mayNest: boolean;
}

/** So many rings of one part that are cut from the holes of another. */
export interface NestedRings {
  readonly guestId: number;
  readonly hostId: number;
  readonly count: number;
}

/**
 * Which rings are cut from the holes of larger ones: a ring fits a hole whose cut edge is as wide as its own outer edge, a
 * hole takes one ring, and the ring in it has a hole of its own. As much cloth as possible is saved: the largest ring
 * chooses first, and takes the smallest hole that it fits; a smaller one fits every hole that a larger one does.
 */
export function nestRings(rings: readonly Rings[]): NestedRings[] {
  const holes: { hostId: number; innerTicks: number; left: number }[] = [];
  const nested: NestedRings[] = [];
  for (const ring of [...rings].sort((a, b) => b.outerTicks - a.outerTicks || a.id - b.id)) {
    let toNest = ring.mayNest ? ring.count : 0;
    const fitting = holes.filter(({ innerTicks }) => innerTicks >= ring.outerTicks);
    for (const hole of fitting.sort((a, b) => a.innerTicks - b.innerTicks)) {
      const count = Math.min(toNest, hole.left);
      if (count === 0) continue;
      nested.push({ guestId: ring.id, hostId: hole.hostId, count });
      hole.left -= count;
      toNest -= count;
    }
    holes.push({ hostId: ring.id, innerTicks: ring.innerTicks, left: ring.count });
  }
  return nested;
}
