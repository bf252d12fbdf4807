/** Trims by the metre and the put-ups they are bought in. Lengths in ticks. */

export interface TrimmedEdge {
  readonly edgeTicks: number;
  /** trim by edge, in thousandths: 1000 lies flat */
  readonly fullnessMilli: number;
  readonly corners: number;
  /** what a corner takes more: twice the width of a lace that lies flat (School Needlework) */
  readonly perCornerTicks: number;
  readonly joins: number;
  /** what a join or a lap takes */
  readonly perJoinTicks: number;
}

/** Edge × fullness, its corners and its joins; rounded up to the tick. */
export function trimLength(edge: TrimmedEdge): number {
  const { edgeTicks, fullnessMilli, corners, perCornerTicks, joins, perJoinTicks } = edge;
  const along = Number((BigInt(edgeTicks) * BigInt(fullnessMilli) + 999n) / 1000n);
  return along + corners * perCornerTicks + joins * perJoinTicks;
}

export interface Packing {
  readonly packs: number;
  /** lengths that no put-up is long enough for */
  readonly tooLong: readonly number[];
  /** what is cut off each pack, the longest lengths first */
  readonly cuts: readonly (readonly number[])[];
}

/**
 * Put-ups for lengths that may not be joined, such as steels: the longest first, each off the first pack that has it
 * (first-fit decreasing, which never takes more than 11/9 of the fewest and 6/9 of a pack; Dósa, 2007).
 */
export function packLengths(lengths: readonly number[], putUpTicks: number): Packing {
  const tooLong = lengths.filter((length) => length > putUpTicks);
  const packs: { left: number; readonly cuts: number[] }[] = [];
  for (const length of lengths.filter((each) => each <= putUpTicks).sort((a, b) => b - a)) {
    const pack = packs.find(({ left }) => left >= length);
    if (pack) {
      pack.left -= length;
      pack.cuts.push(length);
    } else packs.push({ left: putUpTicks - length, cuts: [length] });
  }
  return { packs: packs.length, tooLong, cuts: packs.map(({ cuts }) => cuts) };
}
