import type { ShadeToCut } from '../../../src/fit/tier-cuts.ts';
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
export interface ShadeAtTable extends ShadeToCut {
  readonly clothId: number;
  readonly shadeId: number;
  readonly cutStrips: number;
  readonly held: readonly HeldFor[];
  readonly inUse: readonly LotInUse[];
}
