import type { Lab } from './lab.ts';
import { reflectancesOf } from './reflectance.ts';
import { BANDS, bandShares } from './spectrum.ts';

/**
 * How much further from grey than a surface in daylight a colour may lie: cloth that fluoresces, other lights and the 10°
 * observer reach a little beyond (our rule).
 */
const BEYOND = 20;

/** How far a bisection goes: to a hundredth of a unit of chroma. */
const FURTHEST = 250;
const STEPS = 15;

/** Whether a cloth can have this colour: within `BEYOND` units of chroma of what a surface can have at all. */
export function isRealColour(lab: Lab): boolean {
  const chroma = Math.hypot(lab.a, lab.b);
  if (chroma <= BEYOND) return lab.l >= 0 && lab.l <= 100;
  const times = (chroma - BEYOND) / chroma;
  // Next to black the solid is hollow towards grey, so that the colour itself is looked at, too.
  return isSurfaceColour({ l: lab.l, a: lab.a * times, b: lab.b * times }) || isSurfaceColour(lab);
}

/** The largest chroma that a cloth of this lightness and hue can have, to the unit. */
export function mostChroma({ l, a, b }: Lab): number {
  const whole = Math.hypot(a, b);
  let [within, outside] = [0, FURTHEST];
  for (let step = 0; step < STEPS; step++) {
    const chroma = (within + outside) / 2;
    if (isRealColour({ l, a: (a / whole) * chroma, b: (b / whole) * chroma })) within = chroma;
    else outside = chroma;
  }
  return Math.floor(within);
}

/**
 * Whether some reflectance between 0 and 1 in each band has this colour in daylight (D65, 2°). All such colours fill a solid with
 * flat faces, the optimal colours on its surface (Schrödinger 1920, MacAdam 1935): a colour lies in it where it lies on the
 * inner side of every face, and each face lies along two bands.
 */
function isSurfaceColour(lab: Lab): boolean {
  const point = reflectancesOf(lab);
  return FACES.every(({ normal, reach }) => {
    const at = dot(normal, point);
    return at <= reach.most + ROUNDING && at >= reach.least - ROUNDING;
  });
}

const ROUNDING = 1e-9;

type Vector = readonly [number, number, number];
const BAND_COLOURS: readonly Vector[] = Array.from({ length: BANDS }, (_, band) => {
  const [x = 0, y = 0, z = 0] = bandShares('daylight', '2').map((row) => row[band] ?? 0);
  return [x, y, z];
});

const FACES = BAND_COLOURS.flatMap((one, at) =>
  BAND_COLOURS.slice(at + 1).map((other) => faceAlong(one, other)),
);

/** The two faces along two bands: the direction across them, and how far the solid reaches either way. */
function faceAlong(one: Vector, other: Vector) {
  const cross: Vector = [
    one[1] * other[2] - one[2] * other[1],
    one[2] * other[0] - one[0] * other[2],
    one[0] * other[1] - one[1] * other[0],
  ];
  const length = Math.hypot(...cross) || 1;
  const normal: Vector = [cross[0] / length, cross[1] / length, cross[2] / length];
  const along = BAND_COLOURS.map((band) => dot(normal, band));
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  return {
    normal,
    reach: { most: sum(along.filter((each) => each > 0)), least: sum(along.filter((each) => each < 0)) },
  };
}

function dot(one: Vector, other: readonly number[]): number {
  return one[0] * (other[0] ?? 0) + one[1] * (other[1] ?? 0) + one[2] * (other[2] ?? 0);
}
