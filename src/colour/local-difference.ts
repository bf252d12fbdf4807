import { deltaE00, type Lab } from './lab.ts';

/** So small a step that CIEDE2000 is as good as straight over it, and so large that it is not lost in rounding. */
const STEP = 0.05;

/**
 * CIEDE2000 near a colour as a length: 3 × 3 numbers U by rows, where ΔE00 of a small difference d = (ΔL*, Δa*, Δb*) is the
 * length of U d. So differences can be put into sums of squares.
 */
export function differencesNear(lab: Lab): Float64Array {
  const squared = (l: number, a: number, b: number) => {
    const there = { l: lab.l + l * STEP, a: lab.a + a * STEP, b: lab.b + b * STEP };
    const back = { l: lab.l - l * STEP, a: lab.a - a * STEP, b: lab.b - b * STEP };
    return (deltaE00(lab, there) ** 2 + deltaE00(lab, back) ** 2) / (2 * STEP * STEP);
  };
  const [ll, aa, bb] = [squared(1, 0, 0), squared(0, 1, 0), squared(0, 0, 1)];
  const la = (squared(1, 1, 0) - ll - aa) / 2;
  const lb = (squared(1, 0, 1) - ll - bb) / 2;
  const ab = (squared(0, 1, 1) - aa - bb) / 2;
  const upper = new Float64Array(9);
  const l = Math.sqrt(ll);
  upper.set([l, la / l, lb / l]);
  const a = Math.sqrt(Math.max(LEAST, aa - (la / l) ** 2));
  const across = (ab - (la * lb) / ll) / a;
  upper.set([a, across], 4);
  upper[8] = Math.sqrt(Math.max(LEAST, bb - (lb / l) ** 2 - across ** 2));
  return upper;
}

/** Keeps the length above 0 in every direction. */
const LEAST = 1e-6;

/** The difference of two colours in the three directions of `differencesNear`, whose length is about ΔE00. */
export function differenceAlong(upper: Float64Array, from: Lab, to: Lab): [number, number, number] {
  const [l, a, b] = [to.l - from.l, to.a - from.a, to.b - from.b];
  const at = (index: number) => upper[index] as number;
  return [at(0) * l + at(1) * a + at(2) * b, at(4) * a + at(5) * b, at(8) * b];
}
