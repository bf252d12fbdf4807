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
  /** What the dyeing of a lot is to be remembered for. */
  sayDyeing(reader: Reader, batchId: number, bath: number | null): string[];
}
