import type { Lab } from './lab.ts';

/** A step of the grey scales, 5 being no difference. */
export const GREY_STEPS = ['5', '4-5', '4', '3-4', '3', '2-3', '2', '1-2', '1'] as const;
export type GreyStep = (typeof GREY_STEPS)[number];

/**
 * From how much difference on each step below 5 is given (ΔE_F of ISO 105-A05), and down to what figure each step but 1 is
 * given for staining (SSR of ISO 105-A04). Both as public implementations have them; the text of the standards was not seen.
 */
const CHANGE_FROM = [0.4, 1.25, 2.1, 2.95, 4.1, 5.8, 8.2, 11.6] as const;
const STAINING_DOWN_TO = [4.75, 4.25, 3.75, 3.25, 2.75, 2.25, 1.75, 1.25] as const;

/** A rating by a grey scale: its step, and the same as a figure from 1 to 5. */
export interface GreyRating {
  readonly step: GreyStep;
  readonly figure: number;
}

/**
 * How much a colour changed, as the grey scale of ISO 105-A02 would be read, by the formula of ISO 105-A05. Symmetric.
 * Hue and chroma count less the further a colour is from grey; of blues (hue 280°) part of both is taken off.
 */
export function rateChange(reference: Lab, sample: Lab): GreyRating {
  const difference = changeOf(reference, sample);
  const step = GREY_STEPS[CHANGE_FROM.filter((from) => difference >= from).length] as GreyStep;
  const figure = difference <= 3.4 ? 5 - difference / 1.7 : 5 - Math.log2(difference / 0.85);
  return { step, figure: Math.max(1, figure) };
}

/** ΔE_F of ISO 105-A05. */
function changeOf(reference: Lab, sample: Lab): number {
  const [one, other] = [polarOf(reference), polarOf(sample)];
  const lightness = sample.l - reference.l;
  const chroma = other.chroma - one.chroma;
  const turn = one.chroma === 0 || other.chroma === 0 ? 0 : shortestTurn(one.hue, other.hue);
  const hue = 2 * Math.sqrt(one.chroma * other.chroma) * Math.sin((turn * Math.PI) / 360);
  const meanChroma = (one.chroma + other.chroma) / 2;
  const meanHue = meanHueOf(one, other, turn);
  const away = Math.abs(meanHue - 280);
  const x = ((away > 180 ? 360 - away : away) / 30) ** 2;
  const slant = (chroma * meanChroma * Math.exp(-x)) / 100;
  const chromaLess = (chroma - slant) / (1 + ((20 * meanChroma) / 1000) ** 2);
  const hueLess = (hue - slant) / (1 + ((10 * meanChroma) / 1000) ** 2);
  return Math.hypot(lightness, chromaLess, hueLess);
}

function polarOf({ a, b }: Lab) {
  return { chroma: Math.hypot(a, b), hue: ((Math.atan2(b, a) * 180) / Math.PI + 360) % 360 };
}

/** The way from one hue to another in degrees, −180 to 180. */
function shortestTurn(from: number, to: number): number {
  return ((to - from + 540) % 360) - 180;
}

type Polar = ReturnType<typeof polarOf>;

function meanHueOf(one: Polar, other: Polar, turn: number): number {
  if (one.chroma === 0) return other.hue;
  return other.chroma === 0 ? one.hue : (one.hue + turn / 2 + 360) % 360;
}

/** How much a cloth was stained, as the grey scale of ISO 105-A03 would be read, by the formula of ISO 105-A04. */
export function rateStaining(reference: Lab, sample: Lab): GreyRating {
  const lightness = sample.l - reference.l;
  const whole = Math.hypot(lightness, sample.a - reference.a, sample.b - reference.b);
  const scaled = whole - 0.4 * Math.sqrt(Math.max(0, whole ** 2 - lightness ** 2));
  const first = 6.1 - 1.45 * Math.log(scaled);
  const figure = first > 4 ? 5 - 0.23 * scaled : first;
  const step = GREY_STEPS[STAINING_DOWN_TO.filter((downTo) => figure < downTo).length] as GreyStep;
  return { step, figure: Math.min(5, Math.max(1, figure)) };
}
