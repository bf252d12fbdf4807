/** Tiers as they were measured on the stand, beside where they were planned. Lengths in ticks. */

/** A tier of the form with where it is planned to lie, and where it came to lie, as drops. */
export interface MadeTier {
  readonly tierId: number;
  readonly startTicks: number;
  readonly endTicks: number;
  /** of its lower edge as it was last measured; null where it was not */
  readonly madeTicks: number | null;
  /** how far what lies below was moved by that already */
  readonly followedTicks: number;
  /** whether it hangs from the form by its upper edge, so that it can be moved */
  readonly movable: boolean;
  /** whether any of it is cut or held: it stays then */
  readonly begun: boolean;
}

/** What a measure says, and which tiers below would follow it. */
export interface MadeDifference {
  readonly tierId: number;
  /** made less planned: above 0 it came to lie lower */
  readonly byTicks: number;
  /** what of that no tier has followed yet */
  readonly leftTicks: number;
  readonly follow: readonly number[];
  /** below it, but cut or held already */
  readonly stay: readonly number[];
}

/**
 * How each measured tier differs from its plan. Tiers that begin below its upper edge and are still to cut follow by what
 * is left of the difference; those that are begun stay, and so do those that are pinned by their lower edge.
 */
export function madeDifferences(tiers: readonly MadeTier[]): MadeDifference[] {
  return tiers.flatMap(({ tierId, startTicks, endTicks, madeTicks, followedTicks }) => {
    if (madeTicks === null) return [];
    const byTicks = madeTicks - endTicks;
    const below = tiers.filter((other) => other.movable && other.startTicks > startTicks);
    const of = (begun: boolean) =>
      below.filter((other) => other.begun === begun && other.madeTicks === null).map(({ tierId: id }) => id);
    return [{ tierId, byTicks, leftTicks: byTicks - followedTicks, follow: of(false), stay: of(true) }];
  });
}

/** The tier that is to be cut next below the lowest edge that was measured: the highest that is neither begun nor measured; null where none is left. */
export function nextToCut(tiers: readonly MadeTier[]): number | null {
  const measured = tiers.filter(({ madeTicks }) => madeTicks !== null);
  const lowest = Math.max(...measured.map(({ startTicks }) => startTicks));
  const left = tiers
    .filter(({ begun, madeTicks, startTicks }) => !begun && madeTicks === null && startTicks >= lowest)
    .sort((a, b) => a.startTicks - b.startTicks);
  return measured.length === 0 ? null : (left[0]?.tierId ?? null);
}

/** From the lowest edge that was measured to where the hem is planned; null where nothing was measured. */
export function leftToHem(tiers: readonly MadeTier[]): number | null {
  const measured = tiers.flatMap(({ madeTicks }) => (madeTicks === null ? [] : [madeTicks]));
  if (measured.length === 0) return null;
  return Math.max(...tiers.map(({ endTicks }) => endTicks)) - Math.max(...measured);
}
