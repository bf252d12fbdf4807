import type { StripDemand } from '../garment/need.ts';
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

/** Strips that were cut for a tier, of a plan's cloth and shade. */
type StripsCut = readonly { readonly tierId: number; readonly count: number }[];

/** Strips that tiers want and that are not cut, by the tier; below 0 where more are cut than are wanted. */
export function stripsToCut(
  demands: readonly Pick<StripDemand, 'tierId' | 'count'>[],
  cut: StripsCut,
): Map<number, number> {
  const left = new Map<number, number>();
  for (const { tierId, count } of demands) left.set(tierId, (left.get(tierId) ?? 0) + count);
  for (const { tierId, count } of cut) left.set(tierId, (left.get(tierId) ?? 0) - count);
  return left;
}

/** Takes what a lay gives out of the strips that are left to cut, all of it or nothing; says whether it did. */
export function takeStrips(left: Map<number, number>, parts: readonly TierPart[]): boolean {
  return takeAll(
    left,
    parts.map(({ tierId, strips }) => [tierId, strips]),
  );
}

/** Takes the lengths that a lay needs, in ticks, out of what its tiers hold, all of them or none; says whether it did. */
export function takeHolds(holds: Map<string, number>, pieceId: number, parts: readonly TierPart[]): boolean {
  return takeAll(
    holds,
    parts.map(({ tierId, lengthTicks }) => [holdKey(pieceId, tierId), lengthTicks]),
  );
}

/** What a tier holds of a piece, as `takeHolds` looks it up. */
export function holdKey(pieceId: number, tierId: number): string {
  return `${pieceId} ${tierId}`;
}

function takeAll<Key>(left: Map<Key, number>, wanted: readonly (readonly [Key, number])[]): boolean {
  if (wanted.some(([key, amount]) => amount > (left.get(key) ?? 0))) return false;
  for (const [key, amount] of wanted) left.set(key, (left.get(key) ?? 0) - amount);
  return true;
}

/** Held: what its tiers hold covers it. Out: that is gone, and it can no longer be cut as planned. */
export type LayState = 'held' | 'cut' | 'out';

/** A lay of a plan that was held, as far as it says what it gives whom. */
interface HeldLay {
  readonly state: LayState;
  readonly slits: readonly Pick<StripDemand, 'tierId' | 'depthTicks' | 'lengthTicks'>[];
  readonly parts: readonly TierPart[];
}

/**
 * Lays as far as their strips are still wanted as they were: one is out, although it is held, where its tier wants
 * strips of another size now, or fewer than the lays before it leave and the lay gives. `cut` is all that is cut of the
 * plan's cloth and shade, by its lays or by hand.
 */
export function laysAsWantedNow<L extends HeldLay>(
  lays: readonly L[],
  demands: readonly StripDemand[],
  cut: StripsCut,
): L[] {
  const isWanted = (slit: HeldLay['slits'][number]) =>
    demands.some(
      ({ tierId, depthTicks, lengthTicks }) =>
        tierId === slit.tierId && depthTicks === slit.depthTicks && lengthTicks === slit.lengthTicks,
    );
  const left = stripsToCut(demands, cut);
  return lays.map((lay) =>
    lay.state === 'held' && !(lay.slits.every(isWanted) && takeStrips(left, lay.parts))
      ? { ...lay, state: 'out' as const }
      : lay,
  );
}

/** The last lays that together give back so much length, in ticks, the last first; all where that is not enough. */
export function lastLaysToGiveBack<L extends { readonly lengthTicks: number }>(
  lays: readonly L[],
  missingTicks: number,
): L[] {
  const last: L[] = [];
  let left = missingTicks;
  for (const lay of [...lays].reverse()) {
    if (left <= 0) break;
    last.push(lay);
    left -= lay.lengthTicks;
  }
  return last;
}
