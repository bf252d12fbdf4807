import type { Reader } from '../../database/book.ts';

/** What a garment is short of in one cloth and shade, as Short knows it. */
export interface MissingLength {
  readonly clothId: number;
  readonly shadeId: number;
  /** fresh cloth for the strips that are missing, in ticks; null where a strip is longer than the cloth is wide */
  readonly lengthTicks: number | null;
  /** the longest that is cut off in one for a strip, in ticks */
  readonly leastTicks: number;
  readonly strips: number;
  /** the tiers that want it, from the waist down */
  readonly tiers: readonly string[];
}

/** What Short has to say to a series; whoever wires the rooms hands it in. */
export interface SeriesTold {
  readMissing(reader: Reader, garmentCode: string): MissingLength[];
}
