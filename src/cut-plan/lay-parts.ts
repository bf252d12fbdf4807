import { apportion } from '../quantity/money.ts';
import type { Lay } from './plan.ts';

/** What a lay gives a tier, and the part of its length that is held for that tier, in ticks. */
export interface TierPart {
  readonly tierId: number;
  readonly strips: number;
  readonly lengthTicks: number;
}

/**
 * Shares a lay's length out among the tiers that it gives strips to, by the area of their strips, to the last tick
 * (largest remainder); every tier gets a tick at least. `tierOf` names the tier of a kind of strips.
 */
export function partsOfLay(lay: Lay, tierOf: (kindId: number) => number): TierPart[] {
  const byTier = new Map<number, { strips: number; area: number }>();
  for (const { kindId, strips, acrossTicks, alongTicks } of lay.columns) {
    const tierId = tierOf(kindId);
    const sum = byTier.get(tierId) ?? { strips: 0, area: 0 };
    sum.strips += strips;
    sum.area += strips * acrossTicks * alongTicks;
    byTier.set(tierId, sum);
  }
  const tiers = [...byTier].sort(([a], [b]) => a - b);
  const least = apportion(
    lay.heightTicks - tiers.length,
    tiers.map(([, { area }]) => area),
  );
  return tiers.map(([tierId, { strips }], i) => ({ tierId, strips, lengthTicks: (least[i] ?? 0) + 1 }));
}
