import { type Direction, type LotRule, stricterRule } from './band.ts';
import type { WorkedTier } from './tiers.ts';

/** Strips of one size that a tier, or a part, wants of one cloth and shade. */
export interface StripDemand {
  /** the row that they are held and cut for: a part has one of its own among those of the tiers */
  readonly tierId: number;
  /** The cut depth; it is taken along the length of the piece where the strip lies across it. */
  readonly depthTicks: number;
  /** The cut length; it lies across the piece unless `direction` says otherwise. */
  readonly lengthTicks: number;
  readonly direction: Direction;
  readonly count: number;
}

/** A cloth in a shade. */
export interface ClothShade {
  readonly clothId: number;
  readonly shadeId: number;
}

/** A part of a garment that is cut of cloth: so many pieces of one size, such as whole widths for a lining. */
export interface PartToCut extends ClothShade, StripDemand {
  readonly name: string;
}

/** Cloth + shade + strips wanted by a garment. */
export interface Need extends ClothShade {
  /** The strictest rule that one of its tiers asks for: then all strips of the shade must match each other so. */
  readonly lots: LotRule;
  readonly demands: readonly StripDemand[];
  readonly strips: number;
}

/**
 * The needs of a garment, one for each cloth and shade, in the order in which its tiers and then its parts first name them.
 * Within a need the demands keep that order; their counts add up to `strips`. A part goes by the lot rule of the tiers of
 * its cloth and shade; where there are none it is of one lot.
 */
export function needsOf(tiers: readonly WorkedTier[], parts: readonly PartToCut[] = []): readonly Need[] {
  const needs = new Map<string, Need>();
  for (const tier of tiers) {
    for (const shade of tier.count.perShade) {
      const { clothId, shadeId, lots, stripLengthTicks, direction, count, cutAs } = shade;
      const key = needKey({ clothId, shadeId });
      const before = needs.get(key);
      const demand = {
        tierId: tier.tierId,
        depthTicks: cutAs?.depthTicks ?? tier.cutDepthTicks,
        lengthTicks: cutAs?.lengthTicks ?? stripLengthTicks,
        direction,
        count,
      };
      needs.set(key, {
        clothId,
        shadeId,
        lots: stricterRule(before?.lots ?? lots, lots),
        demands: [...(before?.demands ?? []), demand],
        strips: (before?.strips ?? 0) + count,
      });
    }
  }
  for (const { clothId, shadeId, name: _, ...demand } of parts) {
    const key = needKey({ clothId, shadeId });
    const before = needs.get(key);
    needs.set(key, {
      clothId,
      shadeId,
      lots: before?.lots ?? 'one',
      demands: [...(before?.demands ?? []), demand],
      strips: (before?.strips ?? 0) + demand.count,
    });
  }
  return [...needs.values()];
}

/** One text for a cloth in a shade, the same for whatever names both. */
export function needKey({ clothId, shadeId }: ClothShade): string {
  return `${clothId} ${shadeId}`;
}
