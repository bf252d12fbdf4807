import type { Hung } from './hanging.ts';
import { type VerticalDrop, verticalDropAt } from './vertical-drop.ts';

/** What of a tier says where it begins and ends. */
export interface HungTier extends Hung {
  readonly depthTicks: number;
}

/** Where a tier begins and ends, as drops down the form's surface, in ticks. */
export interface TierDrops {
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
export function tierDropsOf(tiers: readonly HungTier[]): Map<number, TierDrops> {
  const byId = new Map(tiers.map((tier) => [tier.tierId, tier]));
  const drops = new Map<number, TierDrops>();
  for (const tier of tiers) {
    let startTicks = 0;
    let at: HungTier | undefined = tier;
    for (let steps = 0; at && steps <= byId.size; steps += 1) {
      const { hangs }: HungTier = at;
      if (hangs.on === 'edge' || hangs.on === 'face') {
        at = byId.get(hangs.tierId);
        startTicks += (at?.depthTicks ?? 0) - (hangs.on === 'face' ? hangs.heightTicks : 0);
      } else {
        startTicks += hangs.dropTicks;
        const endTicks = startTicks + tier.depthTicks;
        drops.set(tier.tierId, { tierId: tier.tierId, rootId: at.tierId, startTicks, endTicks });
        break;
      }
    }
  }
  return drops;
}

/** How far the tiers above cover the next that hangs from the form. */
export interface Overlap {
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
export function overlapsOf(tiers: readonly HungTier[]): Overlap[] {
  const drops = tierDropsOf(tiers);
  const roots = [...drops.values()]
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
    const reaching = [...drops.values()]
      .filter(({ rootId }) => rootsAbove.has(rootId))
      .reduce((lowest, tier) => (tier.endTicks > lowest.endTicks ? tier : lowest), above);
    const overTicks = reaching.endTicks - dropTicks;
    return [
      { aboveId: above.tierId, reachingId: reaching.tierId, belowId: below.tierId, dropTicks, overTicks },
    ];
  });
}

/** How high the lower edge of a tier hangs above the floor, in ticks; below nothing it would lie under it. */
export function floorClearance(
  form: readonly VerticalDrop[],
  { endTicks }: Pick<TierDrops, 'endTicks'>,
  waistHeightTicks: number,
): number {
  return waistHeightTicks - verticalDropAt(form, endTicks);
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
export function levelHemShaping({
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
