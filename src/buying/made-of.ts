import { apportion } from '../quantity/money.ts';
import type { CostParts } from './landed.ts';

/** What a cost is made of, in minor units of the workroom's currency. Tax that is reclaimed is in no cost. */
export interface MadeOf extends Omit<CostParts, 'reclaimedMinor'> {
  /** what dyeing added */
  readonly dyeingMinor: number;
}

const PARTS = ['clothMinor', 'cutFeesMinor', 'freightMinor', 'taxMinor', 'dyeingMinor'] as const;

/** A cost that is all cloth. */
export function allCloth(clothMinor: number): MadeOf {
  return { clothMinor, cutFeesMinor: 0, freightMinor: 0, taxMinor: 0, dyeingMinor: 0 };
}

/**
 * So much of what is made of these parts, by largest remainder: its parts add up to it exactly. What no part is known of is
 * cloth. Throws RangeError on a part below nought.
 */
export function shareOf(minor: number, parts: MadeOf): MadeOf {
  const weights = PARTS.map((part) => parts[part]);
  if (weights.every((weight) => weight === 0)) return allCloth(minor);
  const [clothMinor = 0, cutFeesMinor = 0, freightMinor = 0, taxMinor = 0, dyeingMinor = 0] = apportion(
    minor,
    weights,
  );
  return { clothMinor, cutFeesMinor, freightMinor, taxMinor, dyeingMinor };
}

/** Several costs together, part by part. */
export function togetherOf(costs: readonly MadeOf[]): MadeOf {
  const sum = (part: (typeof PARTS)[number]) => costs.reduce((so, cost) => so + cost[part], 0);
  return {
    clothMinor: sum('clothMinor'),
    cutFeesMinor: sum('cutFeesMinor'),
    freightMinor: sum('freightMinor'),
    taxMinor: sum('taxMinor'),
    dyeingMinor: sum('dyeingMinor'),
  };
}
