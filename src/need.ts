import type { LotRule } from './band.ts';
import type { WorkedTier } from './tiers.ts';

/** Strips of one size that a tier wants of one cloth and shade. */
export interface StripDemand {
  readonly tierId: number;
  /** The cut depth; it is taken along the length of the piece. */
  readonly depthTicks: number;
  /** The cut length; it lies across the piece. */
  readonly lengthTicks: number;
  readonly count: number;
}

/** Cloth + shade + strips wanted by a garment. */
export interface Need {
  readonly clothId: number;
  readonly shadeId: number;
  /** 'one' as soon as one tier asks for one lot: then all strips of the shade must match each other. */
  readonly lots: LotRule;
  readonly demands: readonly StripDemand[];
  readonly strips: number;
}

/**
 * The needs of a garment, one for each cloth and shade, in the order in which its tiers first name them.
 * Within a need the demands keep the order of the tiers; their counts add up to `strips`.
 */
export function needsOf(tiers: readonly WorkedTier[]): readonly Need[] {
  const needs = new Map<string, Need>();
  for (const tier of tiers) {
    for (const { clothId, shadeId, lots, stripLengthTicks, count } of tier.count.perShade) {
      const key = `${clothId} ${shadeId}`;
      const before = needs.get(key);
      const demand = {
        tierId: tier.tierId,
        depthTicks: tier.cutDepthTicks,
        lengthTicks: stripLengthTicks,
        count,
      };
      needs.set(key, {
        clothId,
        shadeId,
        lots: before?.lots === 'one' ? 'one' : lots,
        demands: [...(before?.demands ?? []), demand],
        strips: (before?.strips ?? 0) + count,
      });
    }
  }
  return [...needs.values()];
}
