/** Kubelka and Munk for cloth that nothing shines through: what absorbs adds up in K/S, never in reflectance. */

/** No cloth is blacker. */
const LEAST_REFLECTANCE = 0.001;

/** K/S = (1 − R)² ÷ 2R of a reflectance between 0 and 1; below a thousandth it is held. */
export function kOverS(reflectance: number): number {
  const held = Math.min(1, Math.max(LEAST_REFLECTANCE, reflectance));
  return (1 - held) ** 2 / (2 * held);
}

/** R = 1 + K/S − √((K/S)² + 2 K/S), for K/S of 0 or more. */
export function reflectanceWith(ratio: number): number {
  return 1 + ratio - Math.sqrt(ratio * ratio + 2 * ratio);
}
