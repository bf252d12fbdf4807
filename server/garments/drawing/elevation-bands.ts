import { type Reach, reachesOf } from '../../../src/garment/reach.ts';
import type { Garment, TierRecord } from '../garment/records.ts';
import { asTier, tiersIn, type WorkedGarment } from '../garment/worked.ts';
import { type SidePoint, sideAt } from './silhouette.ts';
import type { ColourOrder } from './strip-runs.ts';

/** A tier as it stands in the picture: where it starts and ends, and how far it stands off the form. */
export interface BandPlace {
  /** as the tiers are numbered from the top down, from 1 */
  readonly number: number;
  readonly tier: TierRecord;
  readonly strips: number;
  readonly order: ColourOrder;
  readonly offset: number;
  /** drops along the form, in ticks */
  readonly startTicks: number;
  readonly endTicks: number;
  /** how far its upper edge stands off the form, in ticks */
  readonly standTicks: number;
  /** how much further its lower edge stands off */
  readonly flareTicks: number;
}

/** Gathered cloth springs away below its seam: so much of its depth for a fullness without end. */
const FLARE = 0.2;
/** No tier flares by more than this part of the form's half width, so that the form is still seen. */
const MOST_FLARE = 0.14;

/** The tiers that can be drawn, in the order of drawing: the lowest first, each before what hangs on it. */
export function bandsOf(worked: WorkedGarment, side: readonly SidePoint[]): BandPlace[] {
  const { garment } = worked;
  const tiers = tiersIn(garment);
  const reaches = reachesOf(tiers.map(asTier));
  const placed = new Map<number, BandPlace>();
  const inTurn = tiers
    .filter(({ id }) => reaches.has(id))
    .sort((a, b) => chainOf(a, garment).length - chainOf(b, garment).length);
  for (const tier of inTurn) {
    const count = worked.tiers.find(({ tierId }) => tierId === tier.id)?.count;
    const reach = reaches.get(tier.id);
    const parent = tier.onTierId === null ? undefined : placed.get(tier.onTierId);
    if (!count || !reach || (tier.onTierId !== null && !parent)) continue;
    const { startTicks, endTicks } = reach;
    const standTicks = parent ? standAt(parent, startTicks) : 0;
    const most = MOST_FLARE * sideAt(side, endTicks).halfWidthTicks;
    placed.set(tier.id, {
      number: tiers.indexOf(tier) + 1,
      tier,
      strips: count.strips,
      order: tier.blocks,
      offset: tier.offsetStrips,
      startTicks,
      endTicks,
      standTicks,
      flareTicks: Math.min(most, FLARE * tier.depthTicks * (1 - 1000 / tier.fullnessMilli)),
    });
  }
  const rank = (band: BandPlace) => rankOf(chainOf(band.tier, garment), reaches);
  return [...placed.values()].sort((a, b) => underneathFirst(rank(a), rank(b)) || b.number - a.number);
}

/** How far a band stands off the form at a drop: it springs away at its seam and then hangs. */
export function standAt(band: BandPlace, dropTicks: number): number {
  const part = Math.min(1, (dropTicks - band.startTicks) / Math.max(1, band.endTicks - band.startTicks));
  return band.standTicks + band.flareTicks * Math.sin((Math.max(0, part) * Math.PI) / 2);
}

/** A tier and what it hangs on, from the form downwards. */
function chainOf(tier: TierRecord, garment: Garment): TierRecord[] {
  const chain = [tier];
  for (let at: TierRecord | undefined = tier; at && chain.length <= garment.tiers.length; ) {
    const on: number | null = at.onTierId;
    at = garment.tiers.find(({ id }) => id === on);
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

function rankOf(chain: readonly TierRecord[], reaches: ReadonlyMap<number, Reach>): Rank {
  const [root] = chain;
  return {
    foundation: root?.hangs === 'foundation',
    root: reaches.get(root?.id ?? 0)?.startTicks ?? 0,
    links: chain.length,
  };
}

/** What hangs from the foundation layer lies under what hangs from the form, and lower tiers under upper ones. */
function underneathFirst(a: Rank, b: Rank): number {
  return Number(b.foundation) - Number(a.foundation) || b.root - a.root || a.links - b.links;
}
