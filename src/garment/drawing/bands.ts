import { type HungTier, type TierDrops, tierDropsOf } from '../tier-drops.ts';
import { type SilhouettePoint, silhouetteAt } from './silhouette.ts';

/** A tier that is drawn. */
export interface TierToPlace extends HungTier {
  /** thousandths, 1000 or more */
  readonly fullnessMilli: number;
}

/** A tier as it stands in the picture: where it starts and ends, and how far it stands off the form. */
export interface PlacedBand<T extends TierToPlace = TierToPlace> {
  /** as the tiers are numbered from the top down, from 1 */
  readonly number: number;
  readonly tier: T;
  /** drops along the form, in ticks */
  readonly startTicks: number;
  readonly endTicks: number;
  /** how far its upper edge stands off the form, in ticks */
  readonly standTicks: number;
  /** how much further its lower edge stands off, in ticks, not rounded */
  readonly flareTicks: number;
}

/** Gathered cloth springs away below its seam: so much of its depth for a fullness without end. */
const FLARE = 0.2;
/** No tier flares by more than this part of the form's half width, so that the form is still seen. */
const MOST_FLARE = 0.14;

/**
 * The tiers that are drawn, in the order of drawing: the lowest first, each before what hangs on it. `tiers` are from the
 * top down; `isDrawn` says whose strips are counted. What hangs on a tier that is not drawn is left out.
 */
export function placeBands<T extends TierToPlace>(
  tiers: readonly T[],
  silhouette: readonly SilhouettePoint[],
  isDrawn: (tier: T) => boolean,
): PlacedBand<T>[] {
  const drops = tierDropsOf(tiers);
  const placed = new Map<number, PlacedBand<T>>();
  const inTurn = tiers
    .filter(({ tierId }) => drops.has(tierId))
    .sort((a, b) => chainOf(a, tiers).length - chainOf(b, tiers).length);
  for (const tier of inTurn) {
    const at = drops.get(tier.tierId);
    const onId = sewnOn(tier);
    const parent = onId === null ? undefined : placed.get(onId);
    if (!at || !isDrawn(tier) || (onId !== null && !parent)) continue;
    const { startTicks, endTicks } = at;
    const most = MOST_FLARE * silhouetteAt(silhouette, endTicks).halfWidthTicks;
    placed.set(tier.tierId, {
      number: tiers.indexOf(tier) + 1,
      tier,
      startTicks,
      endTicks,
      standTicks: parent ? standOff(parent, startTicks) : 0,
      flareTicks: Math.min(most, FLARE * tier.depthTicks * (1 - 1000 / tier.fullnessMilli)),
    });
  }
  const rank = ({ tier }: PlacedBand<T>) => rankOf(chainOf(tier, tiers), drops);
  return [...placed.values()].sort((a, b) => underneathFirst(rank(a), rank(b)) || b.number - a.number);
}

/** How far a band stands off the form at a drop, in ticks, not rounded: it springs away at its seam and then hangs. */
export function standOff(band: PlacedBand, dropTicks: number): number {
  const part = Math.min(1, (dropTicks - band.startTicks) / Math.max(1, band.endTicks - band.startTicks));
  return band.standTicks + band.flareTicks * Math.sin((Math.max(0, part) * Math.PI) / 2);
}

/** The tier that a tier is sewn on; null where it hangs from the form or its foundation. */
function sewnOn({ hangs }: HungTier): number | null {
  return hangs.on === 'edge' || hangs.on === 'face' ? hangs.tierId : null;
}

/** A tier and what it hangs on, from the form downwards. */
function chainOf(tier: HungTier, tiers: readonly HungTier[]): HungTier[] {
  const chain = [tier];
  for (let at: HungTier | undefined = tier; at && chain.length <= tiers.length; ) {
    const on: number | null = sewnOn(at);
    at = tiers.find(({ tierId }) => tierId === on);
    if (at) chain.unshift(at);
  }
  return chain;
}

interface Rank {
  readonly foundation: boolean;
  /** the drop at which the first tier of its chain starts */
  readonly root: number;
  readonly links: number;
}

function rankOf(chain: readonly HungTier[], drops: ReadonlyMap<number, TierDrops>): Rank {
  const [root] = chain;
  return {
    foundation: root?.hangs.on === 'foundation',
    root: drops.get(root?.tierId ?? 0)?.startTicks ?? 0,
    links: chain.length,
  };
}

/** What hangs from the foundation layer lies under what hangs from the form, and lower tiers under upper ones. */
function underneathFirst(a: Rank, b: Rank): number {
  return Number(b.foundation) - Number(a.foundation) || b.root - a.root || a.links - b.links;
}
