/**
 * The greatest whole number from `least` to `most` for which `works` holds; null where it does not even hold for the
 * least. `works` must hold up to some number and from there on no more.
 */
export function greatestThatWorks(
  least: number,
  most: number,
  works: (value: number) => boolean,
): number | null {
  if (!works(least)) return null;
  let [holds, fails] = [least, most + 1];
  while (fails - holds > 1) {
    const middle = holds + Math.floor((fails - holds) / 2);
    if (works(middle)) holds = middle;
    else fails = middle;
  }
  return holds;
}

/**
 * The strip lengths that waste least of a usable width, in ticks: the whole of it, a half, a third and so on, rounded
 * down to a tick, as long as each is longer than `aboveTicks` (its two seam allowances), at most `most` of them.
 */
export function leastWasteLengths(
  usableWidthTicks: number,
  aboveTicks: number,
  most: number,
): { readonly columns: number; readonly lengthTicks: number }[] {
  return Array.from({ length: most }, (_, place) => place + 1)
    .map((columns) => ({ columns, lengthTicks: Math.floor(usableWidthTicks / columns) }))
    .filter(({ lengthTicks }) => lengthTicks > aboveTicks && lengthTicks > 0);
}

/** What is left over beside the columns of a drop, in ticks. */
export function besideColumns(usableWidthTicks: number, acrossTicks: number): number {
  return usableWidthTicks % acrossTicks;
}
