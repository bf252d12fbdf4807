import { HOW_READ, sayViewing } from '../../../src/colour/colour-reading.ts';
import { sayDifference } from '../../../src/colour/difference-words.ts';
import { rateChange } from '../../../src/colour/grey-scale.ts';
import type { Lab } from '../../../src/colour/lab.ts';
import type { LotRead, LotShading } from '../../../src/colour/lot-colour.ts';
import type { LotDifference, LotVerdict, PairAnswer, ShadeBands } from '../../../src/colour/lot-pair.ts';
import { judgeTwoLots, lotPairKey } from '../../../src/colour/lots-judged.ts';
import { showMoment } from '../../kit/when.ts';
import { countOf, listed } from '../../kit/words.ts';
import { HOW_READ_WORDS } from '../colour/fields.ts';
import type { KeptEvidence } from '../lot/store.ts';

export const VERDICT_WORDS: Readonly<Record<LotVerdict, string>> = {
  'may meet': 'may be sewn together',
  look: 'look at them by eye',
  apart: 'keep apart',
  unknown: 'not known',
};

/** Two lots as they compare, in words. */
export interface PairWords {
  readonly verdict: LotVerdict;
  readonly said: string;
  /** how sure that is and by what, in one line */
  readonly sure: string;
  /** "the second is slightly darker"; '' where nobody knows or nothing would be said */
  readonly differs: string;
  /** "grey scale 4-5"; '' where nobody knows */
  readonly rating: string;
}

/** Compares two lots and words it; `near` is about their colour, where no reading says it. */
export function sayPairOfLots(
  evidence: KeptEvidence,
  [one, other]: readonly [number, number],
  bands: ShadeBands,
  near: Lab | null,
): PairWords & { readonly answer: PairAnswer } {
  const answer = judgeTwoLots(evidence, one, other, bands);
  const { measured } = answer;
  const from = evidence.read.get(one)?.colours[0]?.lab ?? near;
  const difference = measured?.difference ?? null;
  const to = from && difference && less(from, difference);
  return {
    answer,
    verdict: answer.verdict,
    said: VERDICT_WORDS[answer.verdict],
    sure: saySure(evidence, [one, other], answer),
    differs: from && to ? sayDifference(from, to) : '',
    rating: from && to ? `grey scale ${rateChange(from, to).step}` : '',
  };
}

const less = (one: Lab, other: Lab): Lab => ({ l: one.l - other.l, a: one.a - other.a, b: one.b - other.b });

function saySure(
  evidence: KeptEvidence,
  [one, other]: readonly [number, number],
  answer: PairAnswer,
): string {
  const { measured } = answer;
  const key = lotPairKey(one, other);
  if (answer.by === 'eye') {
    const seen = evidence.judgements.get(key)?.findLast(({ how }) => how === 'eye');
    const by = seen ? ` in ${seen.light} (${seen.person}, ${showMoment(seen.at)})` : '';
    const figure = measured ? ` Measured: ${sayMeasuredDifference(measured)}` : '';
    return `Judged by eye${by}.${figure}`;
  }
  if (measured) return sayMeasuredDifference(measured);
  if (evidence.judgedWet.has(key)) return 'Judged wet only: judge them dry.';
  return sayNotCompared(answer, evidence.read.get(one), evidence.read.get(other));
}

/** "ΔE00 0.42, likely within ± 1.0: side by side in a photo." */
export function sayMeasuredDifference({ by, deltaE, uncertainty, how }: LotDifference): string {
  const figure = `ΔE00 ${deltaE.toFixed(2)}, likely within ± ${uncertainty.toFixed(1)}`;
  if (by === 'photo') return `${figure}: side by side in a photo.`;
  if (by === 'instrument') return `${figure}: measured as a pair.`;
  return `${figure}: by readings, ${HOW_READ_WORDS[how ?? HOW_READ[0]]}.`;
}

function sayNotCompared({ notCompared }: PairAnswer, one?: LotRead, other?: LotRead): string {
  const [first, second] = [one?.colours[0], other?.colours[0]];
  switch (notCompared) {
    case 'light':
      return `Not comparable: one is read for ${first ? sayViewing(first) : '?'}, the other for ${second ? sayViewing(second) : '?'}.`;
    case 'layers':
      return 'Not comparable: they were read in different layers or over another backing.';
    case 'wet':
      return 'Read wet only: read them dry.';
    case 'one':
      return 'Only one of them was read, and nobody has compared them.';
    default:
      return 'Nobody has compared them.';
  }
}

/** How sure it is how some lots compare, in one line: what every page says that uses it. */
export function sayHowSure(answers: readonly PairAnswer[]): string {
  if (answers.length === 0) return '';
  const count = (by: PairAnswer['by']) => answers.filter((answer) => answer.by === by).length;
  const [eye, photo, instrument, readings, nothing] = [
    count('eye'),
    count('photo'),
    count('instrument'),
    count('readings'),
    count('nothing'),
  ];
  const pairs = countOf(answers.length, 'pair of lots', 'pairs of lots');
  if (nothing === answers.length)
    return answers.length === 1 ? 'Nobody has compared them.' : `Nobody has compared them: ${pairs}.`;
  const ways = [
    ...(eye > 0 ? [`${eye} judged by eye`] : []),
    ...(photo > 0 ? [`${photo} by photo`] : []),
    ...(instrument > 0 ? [`${instrument} measured as a pair`] : []),
    ...(readings > 0 ? [`${readings} by readings`] : []),
    ...(nothing > 0 ? [`${nothing} not compared`] : []),
  ];
  const least = Math.max(
    ...answers.flatMap(({ by, measured }) => (by !== 'eye' && measured ? [measured.uncertainty] : [])),
  );
  const sure = least > 0 ? ` Measured differences are likely within ± ${least.toFixed(1)}.` : '';
  return `${pairs}: ${listed(ways)}.${sure}`;
}

const SHADING_WORDS: Readonly<Record<LotShading['kind'], string>> = {
  ending: 'is not of one colour along its length (ending)',
  'side to side': 'is not of one colour across its width (side-to-side shading)',
};

/** "is not of one colour along its length (ending): ΔE00 1.2 between two places. …" */
export function sayShading({ kind, apart }: LotShading): string {
  return `${SHADING_WORDS[kind]}: ΔE00 ${apart.toFixed(1)} between two places. Cut what lies side by side from neighbouring lengths.`;
}
