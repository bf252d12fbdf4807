import { type FallPoint, fallAt } from './fall.ts';
import type { Hung } from './hanging.ts';

/** What of a tier says where it begins and ends. */
export interface Deep extends Hung {
  readonly depthTicks: number;
}

/** Where a tier begins and ends, as drops down the form's surface, in ticks. */
export interface Reach {
  readonly tierId: number;
  /** The tier of its chain that hangs from the form or its foundation. */
  readonly rootId: number;
  readonly startTicks: number;
  readonly endTicks: number;
}

/**
 * Where each tier begins and ends: one at a drop begins there, one that edges another at the other's lower edge, one on
 * a face so high above it. Tiers whose chain leads to no form are left out.
 */
export function reachesOf(tiers: readonly Deep[]): Map<number, Reach> {
  const byId = new Map(tiers.map((tier) => [tier.tierId, tier]));
  const reaches = new Map<number, Reach>();
  for (const tier of tiers) {
    let startTicks = 0;
    let at: Deep | undefined = tier;
    for (let steps = 0; at && steps <= byId.size; steps += 1) {
      const { hangs }: Deep = at;
      if (hangs.on === 'edge' || hangs.on === 'face') {
        at = byId.get(hangs.tierId);
        startTicks += (at?.depthTicks ?? 0) - (hangs.on === 'face' ? hangs.heightTicks : 0);
      } else {
        startTicks += hangs.dropTicks;
        const endTicks = startTicks + tier.depthTicks;
        reaches.set(tier.tierId, { tierId: tier.tierId, rootId: at.tierId, startTicks, endTicks });
        break;
      }
    }
  }
  return reaches;
}

/** How far the tiers above cover the next that hangs from the form. */
export interface Cover {
  /** The tier that hangs from the form just above, whose overlap it is. */
  readonly aboveId: number;
  /** The tier that reaches furthest down of all above: it, or what is sewn on it. */
  readonly reachingId: number;
  readonly belowId: number;
  /** The drop at which the next tier hangs, in ticks. */
  readonly dropTicks: number;
  /** How far it is covered, in ticks; below nothing it is the height that is left bare. */
  readonly overTicks: number;
}

/** How far each tier that hangs from the form or its foundation is covered by those above, from the top down. */
export function coversOf(tiers: readonly Deep[]): Cover[] {
  const reaches = reachesOf(tiers);
  const roots = [...reaches.values()]
    .filter(({ tierId, rootId }) => tierId === rootId)
    .sort((a, b) => a.startTicks - b.startTicks);
  return roots.flatMap((below, place) => {
    const dropTicks = below.startTicks;
    const above = roots.slice(0, place).findLast((root) => root.startTicks < dropTicks);
    const isFirst = roots[place - 1]?.startTicks !== dropTicks;
    if (!above || !isFirst) return [];
    const rootsAbove = new Set(
      roots.filter(({ startTicks }) => startTicks < dropTicks).map(({ tierId }) => tierId),
    );
    const reaching = [...reaches.values()]
      .filter(({ rootId }) => rootsAbove.has(rootId))
      .reduce((most, reach) => (reach.endTicks > most.endTicks ? reach : most), above);
    const overTicks = reaching.endTicks - dropTicks;
    return [
      { aboveId: above.tierId, reachingId: reaching.tierId, belowId: below.tierId, dropTicks, overTicks },
    ];
  });
}

/** How high the lower edge of a tier hangs above the floor, in ticks; below nothing it would lie under it. */
export function aboveFloor(fall: readonly FallPoint[], reach: Reach, waistHeightTicks: number): number {
  return waistHeightTicks - fallAt(fall, reach.endTicks);
}

/** Drops from the waist to a level hem, down the surface of a tilted form, in ticks. */
export interface LevelDrops {
  readonly frontTicks: number;
  readonly sideTicks: number;
  readonly backTicks: number;
}

/**
 * What is taken off the upper edge of the tier that makes a level hem, at the front, the side and the back, in ticks:
 * it is cut as deep as the longest of the drops asks, and shaped above, so that the hem stays straight on the cloth.
 */
export function shapedAbove({
  frontTicks,
  sideTicks,
  backTicks,
}: LevelDrops): LevelDrops & { readonly longestTicks: number } {
  const longestTicks = Math.max(frontTicks, sideTicks, backTicks);
  return {
    longestTicks,
    frontTicks: longestTicks - frontTicks,
    sideTicks: longestTicks - sideTicks,
    backTicks: longestTicks - backTicks,
  };
}
