import type { Lab } from './lab.ts';

/** 6/29: where the cube root of CIELAB gives way to a straight line (CIE 15). */
const KNEE = 6 / 29;

/** X, Y and Z of a colour as parts of the white, from 0 to 1 for most cloth (the inverse of CIELAB, CIE 15). */
export function reflectancesOf({ l, a, b }: Lab): readonly number[] {
  const y = (l + 16) / 116;
  return [y + a / 500, y, y - b / 200].map((part) =>
    part > KNEE ? part ** 3 : 3 * KNEE * KNEE * (part - 4 / 29),
  );
}

/** CIELAB of X, Y and Z as parts of the white (CIE 15). */
export function labFromReflectances(parts: readonly number[]): Lab {
  const [x = 0, y = 0, z = 0] = parts.map((part) =>
    part > KNEE ** 3 ? Math.cbrt(part) : part / (3 * KNEE * KNEE) + 4 / 29,
  );
  return { l: 116 * y - 16, a: 500 * (x - y), b: 200 * (y - z) };
}

/** How fast the cube roots of CIELAB grow with X, Y and Z as parts of the white: L* grows 116 times as fast as that of Y. */
export function labSlopes(parts: readonly number[]): readonly [number, number, number] {
  const [x = 0, y = 0, z = 0] = parts.map((part) =>
    part > KNEE ** 3 ? 1 / (3 * Math.cbrt(part) ** 2) : 1 / (3 * KNEE * KNEE),
  );
  return [x, y, z];
}
