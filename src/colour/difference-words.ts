import type { Lab } from './lab.ts';

/** From how much a part of a difference is said at all, said plainly, and called "much" (our rule); in CIE94 units. */
const SAID = 0.25;
const PLAIN = 1;
const MUCH = 4;
/** Below this chroma a colour has no hue to speak of, and it turns towards red or green, yellow or blue (our rule). */
const NEAR_GREY = 5;

/**
 * How a colour differs from the reference in words, the greatest part first: "darker, slightly redder". '' where nothing would be
 * said. Lightness, chroma and hue are weighed as for textiles (CIE 116-1995: kL = 2, SC = 1 + 0.045 C*, SH = 1 + 0.015 C*), so
 * that the word which comes first is the part that shows most.
 */
export function sayDifference(reference: Lab, sample: Lab): string {
  const parts = [
    { size: (sample.l - reference.l) / 2, more: 'lighter', less: 'darker' },
    ...(isNearGrey(reference) || isNearGrey(sample)
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
    { size: (other - one) / (1 + 0.045 * one), more: 'brighter', less: 'duller' },
    { size: turned / (1 + 0.015 * one), ...neighboursOf(reference) },
  ];
}

const HUES = ['redder', 'yellower', 'greener', 'bluer'] as const;

/** What a colour becomes as its hue angle grows and shrinks: between red (0°) and yellow (90°), yellower and redder. */
function neighboursOf({ a, b }: Lab): { more: string; less: string } {
  const quarter = Math.floor((((Math.atan2(b, a) * 180) / Math.PI + 360) % 360) / 90);
  return { more: HUES[(quarter + 1) % 4] ?? '', less: HUES[quarter] ?? '' };
}

const chromaOf = ({ a, b }: Lab) => Math.hypot(a, b);

function degreeOf(size: number): string {
  if (size >= MUCH) return 'much ';
  return size < PLAIN ? 'slightly ' : '';
}
