import type { Lab } from './lab.ts';

/** From how much a part of a difference is said at all, said plainly, and called "much" (our rule); in CIE94 units. */
const SAID = 0.25;
const PLAIN = 1;
const MUCH = 4;
/** Below this chroma a colour has no hue to speak of, and it turns towards red or green, yellow or blue (our rule). */
const NEAR_GREY = 5;
/** Beside a colour so much stronger, what is weak in chroma differs by its dullness, not by a hue (our rule). */
const WEAK = 2 * NEAR_GREY;
const STRONGER = 3;

/**
 * How a colour differs from the reference in words, the greatest part first: "darker, slightly redder". '' where nothing would be
 * said. Lightness, chroma and hue are weighed as for textiles (CIE 116-1995: kL = 2, SC = 1 + 0.045 C*, SH = 1 + 0.015 C*), so
 * that the word which comes first is the part that shows most.
 */
export function sayDifference(reference: Lab, sample: Lab): string {
  const parts = [
    { size: (sample.l - reference.l) / 2, more: 'lighter', less: 'darker' },
    ...(showsHue(reference, sample) && (isNearGrey(reference) || isNearGrey(sample))
      ? greyParts(reference, sample)
      : colouredParts(reference, sample)),
  ]
    .map(({ size, more, less }) => ({ size: Math.abs(size), word: size > 0 ? more : less }))
    .filter(({ size }) => size >= SAID)
    .sort((one, other) => other.size - one.size);
  return parts.map(({ size, word }) => `${degreeOf(size)}${word}`).join(', ');
}

/** Whether a colour is a white, grey or black: it has no hue to speak of. */
export function isNearGrey(lab: Lab): boolean {
  return chromaOf(lab) < NEAR_GREY;
}

/** Whether two colours are told apart by hue: not where one is nearly grey and the other strong in colour. */
function showsHue(one: Lab, other: Lab): boolean {
  const [weak = 0, strong = 0] = [chromaOf(one), chromaOf(other)].sort((a, b) => a - b);
  return weak >= WEAK || strong < Math.max(STRONGER * weak, STRONGER * NEAR_GREY);
}

interface Part {
  readonly size: number;
  readonly more: string;
  readonly less: string;
}

function greyParts(reference: Lab, sample: Lab): Part[] {
  return [
    { size: sample.a - reference.a, more: 'redder', less: 'greener' },
    { size: sample.b - reference.b, more: 'yellower', less: 'bluer' },
  ];
}

function colouredParts(reference: Lab, sample: Lab): Part[] {
  const [one, other] = [chromaOf(reference), chromaOf(sample)];
  const hue = Math.atan2(
    reference.a * sample.b - reference.b * sample.a,
    reference.a * sample.a + reference.b * sample.b,
  );
  const turned = 2 * Math.sqrt(one * other) * Math.sin(hue / 2);
  return [
    { size: (other - one) / (1 + 0.045 * one), more: 'clearer', less: 'duller' },
    ...(showsHue(reference, sample) ? [{ size: turned / (1 + 0.015 * one), ...neighboursOf(sample) }] : []),
  ];
}

const HUES = ['redder', 'yellower', 'greener', 'bluer'] as const;

/**
 * What a colour has become as its hue angle grew or shrank: between red (0°) and yellow (90°), yellower or redder. Of the colour
 * that is described, not of the reference: a violet is bluer than a red, although its hue passed through a bluish red first.
 */
function neighboursOf({ a, b }: Lab): { more: string; less: string } {
  const quarter = Math.floor((((Math.atan2(b, a) * 180) / Math.PI + 360) % 360) / 90);
  return { more: HUES[(quarter + 1) % 4] ?? '', less: HUES[quarter] ?? '' };
}

const chromaOf = ({ a, b }: Lab) => Math.hypot(a, b);

function degreeOf(size: number): string {
  if (size >= MUCH) return 'much ';
  return size < PLAIN ? 'slightly ' : '';
}
