import type { ShadeBands } from '../../src/colour/lot-pair.ts';
import type { SetFit } from '../../src/fit/lot-sets.ts';
import type { LotRule } from '../../src/garment/band.ts';
import type { ClothShade } from '../../src/garment/need.ts';
import type { Units } from '../../src/quantity/length-show.ts';
import type { Answer, Reader, Tx } from '../database/book.ts';
import type { Lengths, LengthsOf, Needed } from './lengths.ts';

/** What rooms that stand on the shelf have to say of its pieces and lots; whoever wires the rooms hands it in. */
export interface ShelfTold {
  /** An answer to a change of a piece, with the lays that fall out by it. */
  withFallenOut(tx: Tx, pieceId: number, units: Units, answer: Answer): Answer;
  /** Does what the ledger may refuse of a piece; a conflict then leads to the plan that holds the piece. */
  withPlanWayOn<T>(reader: Reader, pieceId: number, work: () => T): T;
  /** What open garments need of the pieces; `whole` waits until all is worked out. */
  readNeeded(reader: Reader, asked?: { readonly whole?: boolean }): Needed;
  /** The five lengths of a lot, or of a cloth, a shade, or both. */
  readLengths(reader: Reader, of: LengthsOf): Lengths;
  /** The same of each part of them, all read at once. */
  lengthsWithin(reader: Reader, of: LengthsOf, needed?: Needed): (part: LengthsOf) => Lengths;
  /** What a garment still wants of a cloth and shade; null where it wants none. */
  readNeedOfLots(reader: Reader, garmentCode: string, of: ClothShade): NeedOfLots | null;
  /** What the dyeing of a lot is to be remembered for. */
  sayDyeing(reader: Reader, batchId: number, bath: number | null): string[];
}

/** What a garment still wants of a cloth and shade, and which lots would serve it. */
export interface NeedOfLots {
  readonly garment: { readonly code: string; readonly name: string; readonly href: string };
  readonly bands: ShadeBands;
  readonly rule: LotRule;
  /** neither cut nor held yet */
  readonly strips: number;
  /** the tiers that these strips are for */
  readonly tiers: readonly string[];
  /** lots that are cut or held for it already */
  readonly inUseLotIds: readonly number[];
  /** what sets of lots give of it, of what is free and not wanted by garments before it; the best first */
  fit(sets: readonly (readonly number[])[]): SetFit[];
}
