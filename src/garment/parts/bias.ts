/** Bias strips and bindings: √2, never "a third more". Lengths in ticks, rounded up to the whole tick. */

export interface BiasJob {
  /** cut width of the strip, square to its edges */
  readonly stripWidthTicks: number;
  readonly lengthTicks: number;
  readonly usableWidthTicks: number;
  /** of a join, which runs on the straight thread */
  readonly joinTicks: number;
  /** what becomes of the two triangles at the ends of each length of cloth */
  readonly ends: BiasEnds;
  /** the most strips of one length of cloth; as many as are needed where it is left out */
  readonly stripsEach?: number;
  /** with short strips: the shortest that is worth a join, as it adds to the whole; 0 where it is left out */
  readonly shortestTicks?: number;
}

/**
 * They fall away, are pieced together so that every strip is whole, or give strips of their own, each shorter than the one
 * before.
 */
export const BIAS_ENDS = ['fall away', 'pieced', 'short'] as const;
export type BiasEnds = (typeof BIAS_ENDS)[number];

/** Lengths of cloth of the full usable width that strips are cut from. */
export interface BiasLength {
  readonly strips: number;
  readonly clothTicks: number;
  readonly count: number;
}

export interface CutBias {
  /** along the selvedge for one strip */
  readonly alongTicks: number;
  /** what one strip adds when it is joined */
  readonly addsTicks: number;
  /** from selvedge to selvedge */
  readonly strips: number;
  /** from the end triangles, the longest first: what each adds, and how many there are */
  readonly shorter: readonly { readonly addsTicks: number; readonly count: number }[];
  /** the full lengths, and a last one with fewer strips where there is one */
  readonly lengths: readonly BiasLength[];
  readonly clothTicks: number;
}

/** Along the selvedge for a strip of this width: w·√2, rounded up (geometry; the table of Baldt, ch. XXII, rounds to nearest). */
export function alongSelvedge(widthTicks: number): number {
  return Math.ceil(widthTicks * Math.SQRT2);
}

/**
 * Strips and cloth for a length of bias: a strip adds (W − 2s)·√2; a length of N strips takes N·w·√2 of cloth, and the two end
 * triangles of W unless they are pieced in. In a triangle the k-th strip from its long side, cut to slant like the others,
 * adds 2·k·w less (geometry). Throws RangeError where the joins take the whole width.
 */
export function cutBias(job: BiasJob): CutBias {
  const { stripWidthTicks, lengthTicks, usableWidthTicks, joinTicks, ends } = job;
  const adds = (usableWidthTicks - 2 * joinTicks) * Math.SQRT2;
  if (adds <= 0) throw new RangeError('the joins take the whole width of the cloth');
  const along = stripWidthTicks * Math.SQRT2;
  const each = Math.max(1, job.stripsEach ?? Number.MAX_SAFE_INTEGER);
  const shortAdds = ends === 'short' ? shorterStrips(adds, stripWidthTicks, job.shortestTicks ?? 0) : [];
  const ofTriangles = 2 * shortAdds.reduce((sum, one) => sum + one, 0);
  const reached = (strips: number) => strips * adds + Math.ceil(strips / each) * ofTriangles;
  // Whole strips alone are enough; a strip less is tried while the shorter ones make up for it.
  let strips = Math.max(1, Math.ceil(lengthTicks / adds));
  while (strips > 1 && reached(strips - 1) >= lengthTicks) strips -= 1;
  const cloth = (count: number) => Math.ceil(count * along + (ends === 'pieced' ? 0 : usableWidthTicks));
  const full = Math.floor(strips / each);
  const rest = strips - full * each;
  const lengths = [
    ...(full > 0
      ? [{ strips: Math.min(each, strips), clothTicks: cloth(Math.min(each, strips)), count: full }]
      : []),
    ...(rest > 0 ? [{ strips: rest, clothTicks: cloth(rest), count: 1 }] : []),
  ];
  return {
    alongTicks: alongSelvedge(stripWidthTicks),
    addsTicks: Math.floor(adds),
    strips,
    shorter: neededShorter(lengthTicks - strips * adds, shortAdds, 2 * (full + (rest > 0 ? 1 : 0))),
    lengths,
    clothTicks: lengths.reduce((sum, { clothTicks, count }) => sum + clothTicks * count, 0),
  };
}

/** What the strips of one end triangle add, down to the shortest that is wanted. */
function shorterStrips(adds: number, stripWidthTicks: number, shortestTicks: number): number[] {
  const found: number[] = [];
  for (let k = 1; adds - 2 * k * stripWidthTicks > shortestTicks; k += 1)
    found.push(adds - 2 * k * stripWidthTicks);
  return found;
}

/** Those that are cut to make up what is missing, the longest first; `triangles` have one of each. */
function neededShorter(missingTicks: number, shortAdds: readonly number[], triangles: number) {
  let missing = missingTicks;
  return shortAdds.flatMap((adds) => {
    const count = Math.min(triangles, Math.max(0, Math.ceil(missing / adds)));
    missing -= count * adds;
    return count === 0 ? [] : [{ addsTicks: Math.floor(adds), count }];
  });
}

/** The side of a square with the area of a strip, √(L·w), rounded up: less cloth than that never gives it (geometry). */
export function squareByArea(lengthTicks: number, widthTicks: number): number {
  return Math.ceil(Math.sqrt(lengthTicks * widthTicks));
}

/**
 * The side of a square for one continuous strip with whole turns: n = ⌈√(L ÷ 2w)⌉, n·w·√2 and the seam twice
 * (thebuttonship.blogspot, 2014).
 */
export function squareOfWholeTurns(lengthTicks: number, widthTicks: number, seamTicks: number): number {
  const turns = Math.ceil(Math.sqrt(lengthTicks / (2 * widthTicks)));
  return Math.ceil(turns * widthTicks * Math.SQRT2 + 2 * seamTicks);
}
