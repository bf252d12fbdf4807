import { deltaE00, type Lab } from '../../../src/colour/lab.ts';
import type { PixelSquare } from '../../../src/colour/photo-area.ts';
import { BANDS, type Curve, labInLight, partsOfWhite } from '../../../src/colour/spectrum.ts';

// A camera before invented cloths: what a photo says of them is held against their reflectances.

/** Random numbers from 0 to 1 that are the same at each run (mulberry32). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export function gaussian(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

const bands = Array.from({ length: BANDS }, (_, band) => 380 + 10 * band);
const bell = (centre: number, width: number) =>
  bands.map((nm) => Math.exp(-(((nm - centre) / width) ** 2) / 2));

/** A cloth in up to three dyes of bell-shaped absorption, by the Kubelka–Munk function. */
export interface Dyeing {
  readonly ground: number;
  readonly dyes: readonly { readonly centre: number; readonly width: number; readonly depth: number }[];
}

export function reflectanceOf({ ground, dyes }: Dyeing): Curve {
  const bare = (1 - ground) ** 2 / (2 * ground);
  return bands.map((_, band) => {
    const absorbed = dyes.reduce(
      (sum, dye) => sum + dye.depth * (bell(dye.centre, dye.width)[band] as number),
      bare,
    );
    return 1 + absorbed - Math.sqrt(absorbed * absorbed + 2 * absorbed);
  });
}

export function someDyeing(random: () => number): Dyeing {
  const dyes = Array.from({ length: 1 + Math.floor(3 * random()) }, () => ({
    centre: 400 + 280 * random(),
    width: 30 + 50 * random(),
    depth: 0.05 + 2 * random() ** 2,
  }));
  return { ground: 0.7 + 0.18 * random(), dyes };
}

/** The same dyeing once more: every depth a little off, as in another bath. */
export function dyedAgain({ ground, dyes }: Dyeing, off: number, random: () => number): Dyeing {
  return { ground, dyes: dyes.map((dye) => ({ ...dye, depth: dye.depth * (1 + off * gaussian(random)) })) };
}

/** Sensitivities like those of phones: three bells that overlap (from memory, no one camera's). */
const SENSITIVITIES = [
  bell(605, 28).map(
    (each, band) => each + 0.12 * (bell(530, 30)[band] as number) + 0.05 * (bell(440, 20)[band] as number),
  ),
  bell(530, 38).map((each, band) => each + 0.1 * (bell(450, 30)[band] as number)),
  bell(455, 24).map((each, band) => each + 0.08 * (bell(520, 30)[band] as number)),
];

/** D65 and the 2° observer from X, Y and Z as parts of the white to linear sRGB (IEC 61966-2-1). */
const TO_SRGB = [
  [3.2404542 * 0.95047, -1.5371385, -0.4985314 * 1.08883],
  [-0.969266 * 0.95047, 1.8760108, 0.041556 * 1.08883],
  [0.0556434 * 0.95047, -0.2040259, 1.0572252 * 1.08883],
];

const times = (matrix: readonly (readonly number[])[], vector: readonly number[]) =>
  matrix.map((row) => row.reduce((sum, value, at) => sum + value * (vector[at] as number), 0));

/** What the sensors take in, white being 1. */
function rawOf(curve: Curve, light: Curve): number[] {
  return SENSITIVITIES.map((sensitivity) => {
    const weights = sensitivity.map((each, band) => each * (light[band] as number));
    const all = weights.reduce((sum, each) => sum + each, 0);
    return weights.reduce((sum, each, band) => sum + each * (curve[band] as number), 0) / all;
  });
}

/** A light like daylight: 1 throughout is D65 itself, as the curves are weighed by it elsewhere. */
export function daylight(warmth: number): Curve {
  return bands.map((nm) => 1 + (warmth * (nm - 555)) / 175);
}

export interface Camera {
  /** linear sRGB of a reflectance before white balance and exposure */
  see(curve: Curve): number[];
}

/** A camera whose matrix is fitted, as makers do, to some surfaces in the light that the photo is taken in. */
export function cameraIn(light: Curve, random: () => number): Camera {
  const surfaces = Array.from({ length: 40 }, () => reflectanceOf(someDyeing(random)));
  const raw = surfaces.map((surface) => rawOf(surface, light));
  const wanted = surfaces.map((surface) => times(TO_SRGB, partsOfWhite(surface, 'daylight', '2')));
  const matrix = [0, 1, 2].map((channel) =>
    fitted(
      raw,
      wanted.map((each) => each[channel] as number),
    ),
  );
  return { see: (curve) => times(matrix, rawOf(curve, light)) };
}

/** Least squares of three unknowns, by Cramer's rule. */
function fitted(rows: readonly (readonly number[])[], wanted: readonly number[]): number[] {
  const sums = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => rows.reduce((sum, row) => sum + (row[i] as number) * (row[j] as number), 0)),
  );
  const right = [0, 1, 2].map((i) =>
    rows.reduce((sum, row, at) => sum + (row[i] as number) * (wanted[at] as number), 0),
  );
  const determinant = (m: readonly (readonly number[])[]) => {
    const [[a = 0, b = 0, c = 0] = [], [d = 0, e = 0, f = 0] = [], [g = 0, h = 0, i = 0] = []] = m;
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  };
  const whole = determinant(sums);
  return [0, 1, 2].map(
    (column) =>
      determinant(sums.map((row, i) => row.map((each, j) => (j === column ? (right[i] as number) : each)))) /
      whole,
  );
}

export function trueLab(dyeing: Dyeing): Lab {
  return labInLight(reflectanceOf(dyeing), 'daylight', '2');
}

export function trueDifference(one: Dyeing, other: Dyeing): number {
  return deltaE00(trueLab(one), trueLab(other));
}

const coded = (linear: number) => {
  const within = Math.min(1, Math.max(0, linear));
  return within <= 0.0031308 ? 12.92 * within : 1.055 * within ** (1 / 2.4) - 0.055;
};

/** An S-curve about the middle. */
const contrasted = (value: number, contrast: number) =>
  value + contrast * value * (1 - value) * (2 * value - 1);

export const PICTURE = { widthPx: 800, heightPx: 600 };

/** A piece of cloth or card that lies in the picture. */
export interface Lying extends PixelSquare {
  readonly curve: Curve;
}

export interface Shot {
  readonly camera: Camera;
  readonly exposure: number;
  /** what the camera's own balance has wrong in red and blue */
  readonly balance: readonly [red: number, blue: number];
  /** relative noise of a pixel, weave and sensor together */
  readonly noise: number;
  /** how much more light falls on the right edge than on the left, as a share */
  readonly fall?: number;
  /** what a camera does to please: more colour and contrast, as shares */
  readonly look?: { readonly colour: number; readonly contrast: number };
  readonly random: () => number;
}

/** A photo as 8-bit sRGB, three values a pixel, black where nothing lies. */
export function takePhoto(lying: readonly Lying[], shot: Shot): Uint8Array {
  const { camera, exposure, balance, noise, fall = 0, look = { colour: 0, contrast: 0 }, random } = shot;
  const picture = new Uint8Array(PICTURE.widthPx * PICTURE.heightPx * 3);
  for (const { curve, leftPx, topPx, sidePx } of lying) {
    const seen = camera.see(curve);
    for (let y = topPx; y < topPx + sidePx; y++) {
      for (let x = leftPx; x < leftPx + sidePx; x++) {
        const light =
          exposure *
          (1 + fall * (x / PICTURE.widthPx - 0.5)) *
          (1 + noise * Math.sqrt(12) * (random() - 0.5));
        const balanced = [balance[0], 1, balance[1]].map(
          (gain, channel) => (seen[channel] as number) * light * gain,
        );
        const grey =
          (balanced[0] as number) * 0.2126 +
          (balanced[1] as number) * 0.7152 +
          (balanced[2] as number) * 0.0722;
        for (const [channel, linear] of balanced.entries()) {
          const value = contrasted(coded(grey + (1 + look.colour) * (linear - grey)), look.contrast);
          picture[(y * PICTURE.widthPx + x) * 3 + channel] = Math.round(255 * value);
        }
      }
    }
  }
  return picture;
}

export function cut(picture: Uint8Array, { leftPx, topPx, sidePx }: PixelSquare): Uint8Array {
  const pixels = new Uint8Array(sidePx * sidePx * 3);
  for (let y = 0; y < sidePx; y++) {
    const from = ((topPx + y) * PICTURE.widthPx + leftPx) * 3;
    pixels.set(picture.subarray(from, from + sidePx * 3), y * sidePx * 3);
  }
  return pixels;
}
