import type { LotRule } from '../../../src/garment/band.ts';
import type { StripDemand } from '../../../src/garment/need.ts';
import type { HeldFor } from '../../garments/garment/done.ts';
/** A lot that a garment uses for a cloth and shade already, and for what. */
export interface LotInUse {
  readonly lotId: number;
  readonly code: string;
  readonly uses: readonly {
    readonly tierName: string;
    readonly cutStrips: number;
    readonly heldTicks: number;
  }[];
}

/** The strips of one shade of a tier: their size, how many, and from which lots. */
export interface ShadeAtTable extends StripDemand {
  readonly clothId: number;
  readonly shadeId: number;
  /** of the garment's whole need of this shade: all its tiers must match each other */
  readonly lots: LotRule;
  /** pairs of lots that may meet, where that is the rule */
  readonly meets: readonly (readonly [number, number])[];
  readonly cutStrips: number;
  /** strips still wanted, 0 where more were cut than are wanted */
  readonly leftStrips: number;
  /** what this tier holds of this cloth and shade */
  readonly held: readonly HeldFor[];
  /** lots that the garment has cut or holds of this cloth and shade */
  readonly inUse: readonly LotInUse[];
}
