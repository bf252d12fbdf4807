/** A hoop by its outer width from side to side and its depth from front to back, in ticks; a round one has both alike. */
export interface Hoop {
  readonly widthTicks: number;
  readonly depthTicks: number;
}

/** Half the width and half the depth of a form at some drop, in ticks: not whole numbers between hoops. */
export interface SemiAxes {
  readonly a: number;
  readonly b: number;
}

/**
 * The perimeter of an ellipse with the semi-axes a and b, in their unit.
 *
 * By the arithmetic-geometric mean (Gauss; Abramowitz and Stegun, 17.6), which doubles its right digits each round,
 * so that six rounds are exact to the last place of a double. A flat ellipse (b = 0) is 4a. Throws RangeError for
 * axes that are negative or no numbers.
 */
export function ellipsePerimeter(a: number, b: number): number {
  if (!(a >= 0 && b >= 0 && Number.isFinite(a + b))) throw new RangeError(`${a} and ${b} are no semi-axes`);
  const [long, short] = [Math.max(a, b), Math.min(a, b)];
  if (short === 0) return 4 * long;
  let [mean, root] = [long, short];
  let sum = (long * long + short * short) / 2;
  let power = 1;
  while (Math.abs(mean - root) > mean * 1e-15 && power < 2 ** 40) {
    const half = (mean - root) / 2;
    [mean, root] = [(mean + root) / 2, Math.sqrt(mean * root)];
    power *= 2;
    sum -= (power * half * half) / 2;
  }
  return (2 * Math.PI * sum) / mean;
}

/** The girth of a hoop, in ticks, rounded once to the whole tick above, since a need rounds up. */
export function hoopGirth(hoop: Hoop): number {
  return Math.ceil(ellipsePerimeter(hoop.widthTicks / 2, hoop.depthTicks / 2));
}
