/** A strip before it is sewn: `depthTicks` is taken along the piece, `lengthTicks` lies across it. */
export interface StripSize {
  readonly depthTicks: number;
  readonly lengthTicks: number;
}

/** A rectangle of cloth: its width lies across the piece, its length along it. In ticks. */
export interface Rectangle {
  readonly widthTicks: number;
  readonly lengthTicks: number;
}

/** Strips of one size off one piece, in straight cut lengths of its full width. */
export interface CutOff {
  readonly strips: number;
  /** Strips side by side in a full cut length. */
  readonly columns: number;
  readonly cutLengths: number;
  /** What the cut lengths take off the piece, in ticks. */
  readonly lengthTicks: number;
}

/** Strips that lie side by side across a usable width; 0 where a strip is longer than that. */
export function columnsAcross(strip: StripSize, usableWidthTicks: number): number {
  assertTicks(strip.depthTicks, strip.lengthTicks, usableWidthTicks);
  // The quotient of two safe integers, whose floating floor is exact.
  return Math.floor(usableWidthTicks / strip.lengthTicks);
}

/** Strips that fit into a stretch of a usable width: ⌊width ÷ strip length⌋ in each of ⌊length ÷ depth⌋ cut lengths. */
export function stripsInStretch(strip: StripSize, stretch: Rectangle): number {
  return columnsAcross(strip, stretch.widthTicks) * Math.floor(stretch.lengthTicks / strip.depthTicks);
}

/**
 * So many strips as they come off a piece: ⌈strips ÷ columns⌉ whole cut lengths. null where a strip is longer than the
 * usable width. Throws RangeError for counts and sizes that are not whole numbers above 0.
 */
export function cutInLengths(strip: StripSize, usableWidthTicks: number, strips: number): CutOff | null {
  assertTicks(strips);
  const columns = columnsAcross(strip, usableWidthTicks);
  if (columns === 0) return null;
  const cutLengths = Math.floor((strips + columns - 1) / columns);
  return { strips, columns, cutLengths, lengthTicks: cutLengths * strip.depthTicks };
}

/**
 * The length of whole cut lengths that gives so many strips, or as many of them as a stretch has room for, in ticks; 0 where it
 * has room for none.
 */
export function lengthForStrips(strip: StripSize, stretch: Rectangle, strips: number): number {
  const wanted = Math.min(strips, stripsInStretch(strip, stretch));
  return wanted === 0 ? 0 : (cutInLengths(strip, stretch.widthTicks, wanted)?.lengthTicks ?? 0);
}

/**
 * The largest rectangle that is left in one piece beside the strips of a cut, or null where they take the whole width.
 *
 * It lies either beside the columns, as long as all that was taken (`takenTicks`, which may be more than the cut lengths),
 * or beside the strips of a last cut length that is not full. Between two of one area the longer is given.
 */
export function leftoverOf(
  strip: StripSize,
  usableWidthTicks: number,
  cut: CutOff,
  takenTicks: number = cut.lengthTicks,
): Rectangle | null {
  const widthBeside = (columns: number) => usableWidthTicks - columns * strip.lengthTicks;
  const inLastLength = cut.strips - (cut.cutLengths - 1) * cut.columns;
  const choices: Rectangle[] = [
    { widthTicks: widthBeside(Math.min(cut.strips, cut.columns)), lengthTicks: takenTicks },
    { widthTicks: widthBeside(inLastLength), lengthTicks: strip.depthTicks },
  ].filter(({ widthTicks }) => widthTicks > 0);
  const [first, second] = choices;
  return first && second && areaOf(second) > areaOf(first) ? second : (first ?? null);
}

/**
 * Where the rest that `leftoverOf` gives lies: from the free end before the cut and from the left edge, the strips
 * slit from the left and the cut lengths one after the other. In ticks.
 */
export function placeOfLeftover(
  strip: StripSize,
  cut: CutOff,
  rest: Rectangle,
): { readonly alongTicks: number; readonly acrossTicks: number } {
  const inLastLength = cut.strips - (cut.cutLengths - 1) * cut.columns;
  const isBesideAll = rest.lengthTicks > strip.depthTicks || cut.cutLengths === 1;
  return isBesideAll
    ? { alongTicks: 0, acrossTicks: Math.min(cut.strips, cut.columns) * strip.lengthTicks }
    : { alongTicks: (cut.cutLengths - 1) * strip.depthTicks, acrossTicks: inLastLength * strip.lengthTicks };
}

/** Whether a rest beside a cut leaves room for itself: its area and that of the strips are within what was taken. */
export function fitsBeside(
  strip: StripSize,
  taken: { readonly strips: number } & Rectangle,
  rest: Rectangle,
): boolean {
  const strips = BigInt(taken.strips) * BigInt(strip.depthTicks) * BigInt(strip.lengthTicks);
  return strips + areaOf(rest) <= areaOf(taken);
}

/**
 * Whether a rest is kept unless somebody says otherwise: at least `usefulTicks` long, and wide enough that a strip of
 * the same depth could be cut along it.
 */
export function isWorthKeeping(rest: Rectangle, strip: StripSize, usefulTicks: number): boolean {
  return rest.lengthTicks >= usefulTicks && rest.widthTicks >= strip.depthTicks;
}

function areaOf({ widthTicks, lengthTicks }: Rectangle): bigint {
  return BigInt(widthTicks) * BigInt(lengthTicks);
}

function assertTicks(...numbers: readonly number[]): void {
  for (const n of numbers) {
    if (!Number.isSafeInteger(n) || n <= 0) throw new RangeError(`${n} is not a whole number above 0`);
  }
}
