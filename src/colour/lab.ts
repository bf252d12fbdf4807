/**
 * CIELAB and the screen.
 *
 * Every Lab value here is for D65 and the 2° observer. The library calls that space `lab65`; its plain `lab` is
 * for D50 and must not be used, or differences come out wrong (pair 1 of the CIEDE2000 test data by 0.1).
 */
// Its one bundled file: the same functions as 151 small modules took a sixth of the program's start.
import culori from 'culori/require';
import { MINUS } from '../quantity/figure-show.ts';
import { type Reading, refused } from '../quantity/reading.ts';

/** L* 0 to 100; a* and b* signed, within about ±130 for cloth. D65, 2° observer. */
export interface Lab {
  readonly l: number;
  readonly a: number;
  readonly b: number;
}

const { clampChroma, converter, differenceCiede2000, differenceCmc, formatHex, inGamut } = culori;

const toLab65 = converter('lab65');
const toRgb = converter('rgb');
const toOklch = converter('oklch');
const fitsScreen = inGamut('rgb');
const ciede2000 = differenceCiede2000();

/** Half of the step between two of the 256 values of a channel. */
const HALF_STEP = 1 / 510;

/** A colour to the tenth: "L* 52.3, a* −12.5, b* 0.0". */
export function sayLabTenths({ l, a, b }: Lab): string {
  const tenths = (value: number) => value.toFixed(1).replace('-', MINUS).replace(`${MINUS}0.0`, '0.0');
  return `L* ${tenths(l)}, a* ${tenths(a)}, b* ${tenths(b)}`;
}

/**
 * The nearest colour a screen shows, as "#rrggbb" in sRGB (IEC 61966-2-1).
 *
 * A colour outside the screen's gamut keeps its lightness and hue and loses chroma, because a pale and a deep
 * red that are both out of reach should still look different.
 */
export function labToScreen(lab: Lab): string {
  const colour = { mode: 'lab65' as const, l: Math.min(100, Math.max(0, lab.l)), a: lab.a, b: lab.b };
  // Rounding can put a pure screen colour a hair outside the gamut; it is that colour, and loses nothing.
  const { r, g, b } = toRgb(colour);
  const within = [r, g, b].every((part) => part > -HALF_STEP && part < 1 + HALF_STEP);
  return formatHex(within ? colour : clampChroma(colour, 'lch65'));
}

/** Whether a screen can show the colour as it is; where not, say so beside the swatch. */
export function screenShows(lab: Lab): boolean {
  return fitsScreen({ mode: 'lab65', ...lab });
}

/**
 * A screen colour as Lab: a first value where nothing was measured. Reads "#rrggbb", with or without the #.
 */
export function screenToLab(hex: string): Reading<Lab> {
  const digits = /^\s*#?([0-9a-f]{6})\s*$/i.exec(hex)?.[1]?.toLowerCase();
  if (digits === undefined)
    return refused('Write a screen colour as six digits from 0 to f, such as #c81e3a.');
  const part = (at: number): number => Number.parseInt(digits.slice(at, at + 2), 16) / 255;
  const { l, a, b } = toLab65({ mode: 'rgb', r: part(0), g: part(2), b: part(4) });
  return { ok: true, value: { l, a, b }, echo: `#${digits}`, exact: true };
}

/** Lab of linear red, green and blue of sRGB, white being 1 of each (IEC 61966-2-1). */
export function lightToLab([r, g, b]: readonly [red: number, green: number, blue: number]): Lab {
  const { l, a, b: blueness } = toLab65({ mode: 'lrgb', r, g, b });
  return { l, a, b: blueness };
}

/**
 * The hue angle of a colour in OKLCH (CSS Color 4), 0 to 360 degrees; 0 for a colour without any hue. Along it blues keep
 * their hue where CIELAB turns them violet.
 */
export function hueOf(lab: Lab): number {
  return toOklch({ mode: 'lab65', ...lab }).h ?? 0;
}

/** The mean of some colours, axis by axis. */
export function meanLab(labs: readonly Lab[]): Lab {
  const meanOf = (axis: keyof Lab) => labs.reduce((sum, lab) => sum + lab[axis], 0) / labs.length;
  return { l: meanOf('l'), a: meanOf('a'), b: meanOf('b') };
}

/**
 * Colour difference CIEDE2000 (ISO/CIE 11664-6) with kL = kC = kH = 1; symmetric, 0 for equal colours.
 */
export function deltaE00(one: Lab, other: Lab): number {
  return ciede2000({ mode: 'lab65', ...one }, { mode: 'lab65', ...other });
}

/** Weights of lightness and chroma in the colour difference CMC: 2:1 is for whether a textile is acceptable. */
const ACCEPTABLE = { l: 2, c: 1 } as const;

/**
 * Colour difference CMC(l:c) (ISO 105-J03), 2:1 unless said. Not symmetric: the first is the reference, by whose lightness,
 * chroma and hue the difference is weighted.
 */
export function deltaCmc(
  reference: Lab,
  sample: Lab,
  weights: { readonly l: number; readonly c: number } = ACCEPTABLE,
): number {
  return differenceCmc(weights.l, weights.c)({ mode: 'lab65', ...reference }, { mode: 'lab65', ...sample });
}
