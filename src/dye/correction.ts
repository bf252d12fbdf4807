/**
 * What may be done about a shade that came out unlevel, too light, too dark or of another hue, by the class of dye, and
 * what may not. Ways that need a bath of their own name a stripping method; the fibre's limits and the clashes of that
 * bath are checked where it is made.
 */

import { COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import { MOST_ADDITIONS, NO_MORE_ADDITIONS } from './addition.ts';
import { DYE_CLASS_NAMES, type DyeClass } from './dye-class.ts';
import { heatLimitFor } from './dye-facts.ts';
import { type Content, capital } from './fibre.ts';
import { type StripCode, stripHeat, stripMethod } from './strip.ts';

export const TROUBLES = ['unlevel', 'too-light', 'too-dark', 'wrong-hue'] as const;
export type Trouble = (typeof TROUBLES)[number];

export const TROUBLE_NAMES: Readonly<Record<Trouble, string>> = {
  unlevel: 'Unlevel, the depth is right',
  'too-light': 'Too light',
  'too-dark': 'Too dark',
  'wrong-hue': 'Wrong hue',
};

/** What went onto the cloth after the dye bath and stands in the way of a correction. */
export const AFTERTREATMENTS = ['none', 'cationic', 'syntan'] as const;
export type Aftertreatment = (typeof AFTERTREATMENTS)[number];

/** What stands of the batch when a correction is asked for. */
export interface ToCorrect {
  readonly dyeClass: DyeClass;
  readonly content: Content;
  readonly trouble: Trouble;
  /** whether a bath stands, not rinsed yet */
  readonly stands: boolean;
  /** whether the soda of a reactive bath is in */
  readonly alkaliIn: boolean;
  readonly after: Aftertreatment;
  readonly additionsMade: number;
  /** all dye that is on the cloth, in thousandths of a percent owf */
  readonly depthOwfMilli: number;
}

/** One way: in the bath that stands, in a bath of its own by a stripping method, or as an overdye. */
export interface CorrectionWay {
  readonly id: string;
  readonly title: string;
  readonly does: 'this bath' | 'addition' | 'strip' | 'overdye';
  readonly strip: StripCode | null;
  /** what goes into the bath by the dose of its own label, since no source gives one for levelling; null where nothing does */
  readonly asks: 'levelling-agent' | 'retarder' | null;
  readonly says: string;
  readonly minds: readonly string[];
  readonly mark: Provenance;
}

export interface Corrections {
  /** what must be done before any of the ways; empty where nothing must */
  readonly first: readonly CorrectionWay[];
  readonly ways: readonly CorrectionWay[];
  /** what may not be done, and why */
  readonly refused: readonly string[];
}

const ACID_PAGES = published(
  'textilelearner.blogspot.com, January 2012, stripping of acid dyes; Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 244',
);
const ACRYLIC = published('Broadbent, Basic Principles of Textile Coloration, SDC 2001, p. 394');

/** Dye on cloth in all, in thousandths of a percent owf: warned of above the first, refused above the second (common practice). */
export const OVERDYE_DEPTH = { warnOwfMilli: 4000, mostOwfMilli: 6000 } as const;

/**
 * What may be done. Ways in the bath are left out where none stands, additions after the second; what a syntan or a
 * cationic fixer stands in the way of comes after it is off.
 */
export function correctionsFor(asked: ToCorrect): Corrections {
  const found = [...inBath(asked), ...byStripping(asked), ...byOverdyeing(asked)];
  return { first: firstOf(asked), ways: found, refused: refusedOf(asked) };
}

function way(
  id: string,
  title: string,
  does: CorrectionWay['does'],
  says: string,
  minds: readonly string[] = [],
  mark: Provenance = COMMON_PRACTICE,
): CorrectionWay {
  return { id, title, does, strip: null, asks: null, says, minds, mark };
}

function firstOf({ after, dyeClass }: ToCorrect): CorrectionWay[] {
  if (after === 'syntan' && isAcid(dyeClass)) return [stripWay('syntan-off')];
  if (after === 'cationic') {
    const says =
      'Take the cationic fixer off first, by the label of the fixer: no figure was found. With it on, dye goes on in patches and nothing comes off.';
    return [way('fixer-off', 'Take the fixer off', 'strip', says)];
  }
  return [];
}

function isAcid(dyeClass: DyeClass): boolean {
  return dyeClass.startsWith('acid-');
}

/** What is done in the bath that stands. */
function inBath(asked: ToCorrect): CorrectionWay[] {
  const { stands, trouble, dyeClass } = asked;
  if (!stands) return [];
  if (trouble === 'unlevel') return levelInBath(asked);
  if (trouble === 'too-light' || trouble === 'wrong-hue') return additionInBath(asked);
  if (dyeClass === 'vat') {
    return [
      {
        ...way(
          'vat-drop',
          'Drop the bath while it is reduced',
          'this bath',
          'While the bath is still reduced, leveller in, move the cloth under the liquor, then drop the bath: part of the colour goes with it.',
        ),
        asks: 'levelling-agent',
      },
    ];
  }
  return [];
}

function levelInBath({ dyeClass, content }: ToCorrect): CorrectionWay[] {
  const mostC = Math.min(98, heatLimitFor(content).limitC);
  switch (dyeClass) {
    case 'acid-levelling':
      return [
        way(
          'boil-on',
          'Boil on',
          'this bath',
          `Hold ${mostC} °C for 30 to 45 minutes more, the cloth moving: levelling dye wanders and evens out. The minutes are common practice.`,
          [],
          ACID_PAGES,
        ),
      ];
    case 'acid-milling':
    case 'acid-metal-complex':
      return [
        {
          ...way(
            'level-up',
            'Leveller, and pH 1 to 2 higher',
            'this bath',
            `Add leveller, bring the pH up by 1 to 2, hold ${mostC} °C for 60 minutes. It wanders little; where that is not enough, loosen it in a bath of its own.`,
            ['Measure the pH on a cooled sample, before and after.'],
            ACID_PAGES,
          ),
          asks: 'levelling-agent',
        },
      ];
    case 'direct':
      return [
        way(
          'level-salt-free',
          'Boil without salt, salt again',
          'this bath',
          'In a fresh bath without salt boil for 20 to 30 minutes until it is even, then add the salt again in parts. The minutes are common practice.',
        ),
      ];
    case 'disperse':
      return [
        {
          ...way(
            'level-longer',
            'Longer at the heat, with leveller',
            'this bath',
            `Add a disperse leveller and hold ${mostC} °C longer, 30 minutes at a time.`,
          ),
          asks: 'levelling-agent',
        },
      ];
    case 'basic':
      return [
        {
          ...way(
            'level-retarder',
            'Retarder, and a slow second boil',
            'this bath',
            'Cool slowly below 80 °C, add retarder, heat again at 1 °C in 2 to 4 minutes to the boil.',
            ['Risky: basic dye hardly wanders, and longer or hotter work harms acrylic.'],
            ACRYLIC,
          ),
          asks: 'retarder',
        },
      ];
    case 'vat':
    case 'reactive':
      return [];
  }
}

function additionInBath({ dyeClass, alkaliIn, additionsMade, trouble }: ToCorrect): CorrectionWay[] {
  if (additionsMade >= MOST_ADDITIONS || dyeClass === 'vat') return [];
  if (dyeClass === 'reactive' && alkaliIn) return [];
  const hue =
    trouble === 'wrong-hue'
      ? ['Only one hue may be missing, and only towards darker: what is there cannot be taken back.']
      : [];
  const says: Partial<Record<DyeClass, string>> = {
    'acid-levelling': 'Cool a little, add the dye in parts, bring it to the boil again.',
    'acid-milling': 'Cool to 60 °C at most, add no more than a tenth of the recipe, heat slowly again.',
    'acid-metal-complex': 'Cool to 60 °C at most, add no more than a tenth of the recipe, heat slowly again.',
    direct: 'Add the dye, then salt again in parts.',
    reactive: 'Before the soda: add the dye, let it run, then go on.',
    disperse: 'Cool to 80 °C, add the dispersed dye, heat again.',
    basic: 'Cool slowly below 80 °C, add, heat again at 1 °C in 2 to 4 minutes.',
  };
  const mark = isAcid(dyeClass) ? ACID_PAGES : COMMON_PRACTICE;
  return [
    way('addition', 'Add dye to the bath', 'addition', says[dyeClass] ?? '', [...hue, TOP_UP_SAYS], mark),
  ];
}

const TOP_UP_SAYS =
  'An addition is 5 to 15 % of the dye that is missing some, never more than a quarter of it, and two at most (common practice).';

/** The stripping baths for a trouble, those that are given for a fibre of the cloth. */
function byStripping({ dyeClass, trouble, content }: ToCorrect): CorrectionWay[] {
  if (trouble === 'too-light') return [];
  const fibres = content.map(({ fibre }) => fibre);
  return STRIPS_FOR[dyeClass]
    .filter((code) => trouble !== 'unlevel' || code !== 'hypochlorite')
    .filter((code) => stripHeat(stripMethod(code), fibres) !== null)
    .map(stripWay);
}

/** The mildest first. */
const STRIPS_FOR: Readonly<Record<DyeClass, readonly StripCode[]>> = {
  reactive: ['acid-half', 'hydros', 'thiourea-dioxide', 'hypochlorite'],
  direct: ['detergent-boil', 'thiourea-dioxide', 'hydros'],
  vat: ['vat-blank', 'thiourea-dioxide'],
  'acid-levelling': ['glauber-boil', 'thiourea-dioxide'],
  'acid-milling': ['ammonia', 'thiourea-dioxide'],
  'acid-metal-complex': ['ammonia', 'thiourea-dioxide'],
  // A carrier boil and a cationic leveller are the maker's: no workroom figure was found.
  disperse: [],
  basic: [],
};

function stripWay(code: StripCode): CorrectionWay {
  const { name, how, minds, mark } = stripMethod(code);
  return { id: code, title: name, does: 'strip', strip: code, asks: null, says: how, minds, mark };
}

function byOverdyeing(asked: ToCorrect): CorrectionWay[] {
  const { trouble, depthOwfMilli, dyeClass } = asked;
  if (trouble === 'too-dark') return [];
  const percent = (milli: number) => `${Math.max(0, milli) / 1000} %`;
  const { warnOwfMilli, mostOwfMilli } = OVERDYE_DEPTH;
  const room = `${percent(depthOwfMilli)} owf is on it: up to ${percent(warnOwfMilli - depthOwfMilli)} more for ${percent(warnOwfMilli)} in all, ${percent(mostOwfMilli - depthOwfMilli)} at the very most, blacks apart.`;
  const minds = [
    'Only darker, or towards grey: the old colour stays under the new, and yellow with blue is green.',
    room,
    'Soap off first, and take a cationic fixer off. Dye a swatch of this very cloth.',
    ...(dyeClass === 'reactive'
      ? [`${REACTIVE_YIELD} A fresh bath with fresh salt and soda fixes as the first did.`]
      : []),
  ];
  const says =
    trouble === 'unlevel'
      ? 'Dye it darker, where a darker shade will do: it hides what is unlevel, and takes it away only in part.'
      : 'Dye what is missing in a fresh bath, half of it first, as a batch of its own. The pieces get a lot of their own.';
  return depthOwfMilli >= mostOwfMilli ? [] : [way('overdye', 'Overdye it', 'overdye', says, minds)];
}

/** What to expect of reactive dye that is added when the soda is in. */
export const REACTIVE_YIELD =
  'Of reactive dye 20 to 40 % is lost to the water in a fresh bath (faqs.tips), so 60 to 80 % fixes. Added when the soda is in, it meets spent alkali at once: no figure was found; reckon with half of that, 30 to 40 % (our rule).';

function refusedOf(asked: ToCorrect): string[] {
  const { dyeClass, trouble, alkaliIn, stands, additionsMade, depthOwfMilli } = asked;
  const dye = capital(DYE_CLASS_NAMES[dyeClass]);
  const lighter = trouble === 'too-dark' ? ['An addition: no dye makes a shade paler.'] : [];
  const adds = trouble === 'too-light' || trouble === 'wrong-hue';
  return [
    ...lighter,
    ...(dyeClass === 'reactive' && trouble === 'unlevel'
      ? [`Levelling: ${dye} is bonded to the fibre, and does not move any more.`]
      : []),
    ...(dyeClass === 'reactive' && adds && alkaliIn && stands
      ? [
          `An addition to this bath: the soda is in. ${REACTIVE_YIELD} Rinse, and dye what is missing in a fresh bath with fresh salt and soda.`,
        ]
      : []),
    ...(adds && stands && additionsMade >= MOST_ADDITIONS ? [NO_MORE_ADDITIONS] : []),
    ...(trouble === 'wrong-hue' ? ['An addition where two hues are off: strip it, and dye it again.'] : []),
    ...(trouble === 'too-dark' && dyeClass === 'disperse'
      ? [
          'A carrier boil or a reductive strip of disperse dye: no workroom figures were found (from memory). By the label of the maker, in a ventilated workshop, never in a dwelling.',
        ]
      : []),
    ...(trouble === 'too-dark' && dyeClass === 'basic'
      ? [
          'A boil with cationic leveller: no figures were found. By the label of the leveller, heated and cooled slowly.',
        ]
      : []),
    ...(dyeClass === 'reactive' && (trouble === 'too-dark' || trouble === 'unlevel')
      ? [
          'A full strip without harm: reactive dye cannot be taken out so (Fashion and Textiles 2015). Expect a ground that is not white.',
        ]
      : []),
    ...(trouble !== 'too-dark' && depthOwfMilli >= OVERDYE_DEPTH.mostOwfMilli
      ? ['An overdye: there is as much dye on it as cloth takes, blacks apart (common practice).']
      : []),
  ];
}
