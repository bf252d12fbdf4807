import {
  LEAST_DEPTHS,
  MOST_MIXTURES,
  type SwatchLeftOut,
  WHYS_LEFT_OUT,
  type WhyLeftOut,
} from '../../../src/colour/prediction/known-swatches.ts';
import { ENOUGH_MIXTURES } from '../../../src/colour/prediction/predictor.ts';
import { showOwf } from '../../../src/dye/bench-figures.ts';
import { knownSwatchesPath } from '../../kit/paths.ts';
import { countOf, listCodes, listed, wordFor } from '../../kit/words.ts';
import type { Grounding, NotYet } from './basis.ts';
import { type Scope, sayBathKind } from './scope.ts';

// What pages say of predicted shades, whichever shows it.

/** What a workroom is to expect of any prediction, whatever its own swatches promise. */
export const REAL_ERRORS = {
  text: 'In practice, plan on a first dyeing ΔE00 2 to 4 off the shade, 1 in 20 more than 5 or 6, and on 1 to 2 after one correction from a photo of both together.',
  source:
    'Our judgement, between simulated dyes (too hopeful) and measured mixtures of watercolours, off by 6.3, 1 in 20 by 17.4 (Chen 2019, arXiv 1904.00275).',
};

/** Why swatches are left out, by the word that is kept for it. */
const WHY_WORDS: Readonly<Record<WhyLeftOut, string>> = {
  'given up': 'given up, such as unlevel work',
  'another ground': 'dyed on another ground',
  fluorescent: 'with a fluorescent dye',
  wet: 'read wet only',
  'another light': 'read for another light than D65',
  'shows through': 'read over white or black that shows through: fold it until both look alike',
  'another observer': 'read for the other observer; figures for 2° and 10° are never mixed',
  'few depths': `with a dye of fewer than ${LEAST_DEPTHS} depths alone`,
  'unknown dye': 'with a dye that is not known from the other cloth',
  older: `older than the newest ${MOST_MIXTURES} mixtures`,
};

export function saySwatchesLeftOut(leftOut: readonly SwatchLeftOut[]) {
  return WHYS_LEFT_OUT.flatMap((why) => {
    const names = leftOut.filter((each) => each.why === why).map(({ name }) => name);
    return names.length === 0
      ? []
      : [
          {
            why: WHY_WORDS[why],
            count: countOf(names.length, 'swatch', 'swatches'),
            names: listCodes(names),
          },
        ];
  });
}

/** "1.4". */
export function sayDelta(deltaE: number): string {
  return deltaE.toFixed(1);
}

/** "0.35 %" of amounts in percent. */
export function sayPercent(percent: number): string {
  return showOwf(Math.round(percent * 1000)).replace(' owf', '');
}

/** How much the band can be relied on. */
export function sayMixtures(mixtures: number, isRough: boolean): string {
  return isRough
    ? 'a rough guess'
    : `from ${countOf(mixtures, 'mixture', 'mixtures')} of your own, each left out in turn`;
}

/** "2 undyed, 12 of one dye, 9 mixtures of Nylon chiffon 140 on Undyed white, D65, 10°". */
export function sayLearned({ own, basis, carriedFrom }: Grounding, { cloth, ground }: Scope): string {
  const count = (of: (dyes: number) => boolean) =>
    basis.from.swatches.filter(({ amounts }) => of(amounts.filter((amount) => amount > 0).length)).length;
  const parts = [
    `${count((dyes) => dyes === 0)} undyed`,
    `${count((dyes) => dyes === 1)} of one dye`,
    countOf(
      count((dyes) => dyes > 1),
      'mixture',
      'mixtures',
    ),
  ].join(', ');
  const observer = `read for D65, ${own.observer}°`;
  return carriedFrom === ''
    ? `Learned from swatches of ${cloth.name} on ${ground?.name ?? ''}: ${parts}, ${observer}.`
    : `Learned from swatches of ${carriedFrom}: ${parts}, ${observer}; carried over by ${countOf(own.swatches.length, 'swatch', 'swatches')} of ${cloth.name}.`;
}

/** What stands in the way of relying on it, most serious first; empty where nothing does. */
export function doubtsAbout(grounding: Grounding, { cloth }: Scope) {
  const mixtures = grounding.basis.from.swatches.filter(
    ({ amounts }) => amounts.filter((amount) => amount > 0).length > 1,
  ).length;
  const link = { href: knownSwatchesPath(cloth.id), text: 'Record a swatch' };
  const rough =
    grounding.carriedFrom !== ''
      ? `The dyes are known from ${grounding.carriedFrom}, and from ${cloth.name} only how strong they come out.`
      : mixtures < ENOUGH_MIXTURES
        ? `${countOf(mixtures, 'mixture is', 'mixtures are')} known of ${cloth.name}. From ${ENOUGH_MIXTURES} on, the band is worked out from them.`
        : '';
  const lacking = grounding.lacking.map(({ dye, depths }) =>
    grounding.carriedFrom === '' ? sayLacking(dye, depths) : `${dye}: dye one swatch of 1 %.`,
  );
  return [
    ...(rough === '' ? [] : [{ kind: 'warn' as const, label: 'Rough guess', text: rough, more: [], link }]),
    ...(lacking.length === 0
      ? []
      : [
          {
            kind: 'note' as const,
            label: 'Not used',
            text: `${wordFor(lacking.length, 'One dye is', 'Some dyes are')} not known well enough on ${cloth.name}.`,
            more: lacking,
            link,
          },
        ]),
  ];
}

function sayLacking(dye: string, depths: number): string {
  const more = LEAST_DEPTHS - depths;
  return `${dye}: ${depths} of ${LEAST_DEPTHS} depths alone. Dye ${countOf(more, 'more depth', 'more depths')}, such as 0.25, 1 and 4 %.`;
}

/** Why nothing can be predicted, and what to dye first. */
export function sayNotYet({ why, dyes, isCarried }: NotYet, { cloth, ground, bath }: Scope) {
  const on = `${cloth.name}${ground ? ` on ${ground.name}` : ''}`;
  const link = { href: knownSwatchesPath(cloth.id), text: 'Record swatches' };
  const slip = (text: string, more: readonly string[] = []) =>
    ({ kind: 'stop', label: 'Not yet', text, more, link }) as const;
  const lacking = dyes.map(({ dye, depths }) =>
    isCarried ? `Then dye 1 % ${dye}.` : sayLacking(dye, depths),
  );
  switch (why) {
    case 'overdyeing':
      return {
        ...slip(
          'Dyeing over a colour is not predicted: what is on the cloth already is not known. Dye a test piece.',
        ),
        link: null,
      };
    case 'no ground':
      return {
        ...slip('No shade is marked as an undyed ground.'),
        link: { href: '/shelf/shades', text: 'Shades' },
      };
    case 'no dye':
      return {
        ...slip(`No dye on your list dyes ${cloth.name}.`),
        link: { href: '/dye-bench/dyes', text: 'Dyes' },
      };
    case 'no undyed swatch':
      return slip(`There is no undyed swatch of ${on} with a colour. Read the undyed cloth first.`, [
        ...(lacking.length > 0
          ? lacking
          : [
              `Then dye each ${bath ? sayBathKind(bath).toLowerCase() : 'dye'} alone at ${LEAST_DEPTHS} depths, such as 0.25, 1 and 4 %, and some mixtures.`,
            ]),
      ]);
    case 'few depths':
      return slip(
        `No dye has ${LEAST_DEPTHS} depths alone on ${on}. Dye each alone at 0.25, 1 and 4 %, then at least ${ENOUGH_MIXTURES} mixtures.`,
        lacking,
      );
    case 'another cloth':
      return slip(
        `These dyes are known on another cloth. Dye one swatch of 1 % of each on ${cloth.name} first: every cloth takes them its own way.`,
        dyes.map(({ dye }) => `1 % ${dye}`),
      );
  }
}

/** Why a recipe with some dyes is not predicted on a cloth. */
export function sayUnknownDyes(
  unknown: readonly string[],
  fluorescent: ReadonlySet<string>,
  clothName: string,
): string {
  const glowing = unknown.filter((name) => fluorescent.has(name));
  return glowing.length > 0
    ? `${listed(glowing)}: fluorescent. Light that a dye gives off by itself is not predicted.`
    : `${listed(unknown)}: not known on ${clothName}. Dye it alone at ${LEAST_DEPTHS} depths first.`;
}
