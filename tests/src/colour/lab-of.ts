import { type Lab, screenToLab } from '../../../src/colour/lab.ts';

/** CIELAB of a screen colour that can be read. */
export function screen(hex: string): Lab {
  const reading = screenToLab(hex);
  if (!reading.ok) throw new Error(reading.reason);
  return reading.value;
}

/** CIELAB from XYZ by its definition (CIE 15, ISO/CIE 11664-4), white point D65 as in IEC 61966-2-1. */
export function labOfXyz(x: number, y: number, z: number): Lab {
  const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const [fx, fy, fz] = [f(x / 0.95047), f(y), f(z / 1.08883)];
  return { l: 116 * fy - 16, a: 500 * (fx - fy), b: 200 * (fy - fz) };
}
