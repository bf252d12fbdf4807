/**
 * How hot each fibre may get, and how much dye makes which depth. The dye maker's label outranks all of it.
 */

import {
  BROADBENT,
  COMMON_PRACTICE,
  FROM_MEMORY,
  type Provenance,
  published,
} from '../quantity/provenance.ts';
import type { DyeClass } from './dye-class.ts';
import type { Content, FibreCode } from './fibre.ts';

export const CELLULOSE: readonly FibreCode[] = ['cotton', 'linen', 'hemp', 'viscose', 'modal', 'lyocell'];

/** How hot a bath may be for one fibre. */
export interface HeatLimit {
  readonly fibre: FibreCode;
  /** Above this only on the word of the maker's label. */
  readonly limitC: number;
  /** Above this never. */
  readonly neverC: number;
  readonly why: string;
  readonly mark: Provenance;
}

function limit(fibre: FibreCode, limitC: number, neverC: number, why: string, mark: Provenance): HeatLimit {
  return { fibre, limitC, neverC, why, mark };
}

const CELLULOSE_LIMITS = CELLULOSE.map((fibre) =>
  limit(fibre, 100, 130, 'an open bath boils at 100 °C', COMMON_PRACTICE),
);

export const HEAT_LIMITS: readonly HeatLimit[] = [
  ...CELLULOSE_LIMITS,
  limit(
    'silk',
    85,
    95,
    'hotter baths spoil silk and its lustre',
    published('textilelearner.blogspot.com, January 2012, acid dyes on silk'),
  ),
  limit('wool', 100, 105, 'wool is harmed above 105 °C', published(`${BROADBENT}, p. 423`)),
  limit('nylon', 100, 120, 'an open bath boils at 100 °C', COMMON_PRACTICE),
  limit(
    'polyester',
    130,
    135,
    'sealed plant works at 130 °C',
    published('textilelearner.blogspot.com, January 2012'),
  ),
  limit(
    'cationic-polyester',
    120,
    120,
    'it is attacked by water more easily than plain polyester',
    published('Hilton 2011, dyeingworld1.blogspot.com'),
  ),
  limit(
    'acetate',
    85,
    90,
    'hotter baths dull acetate and set its creases',
    published('dyes4dyeing.blogspot.com, July 2012; up to 90 °C: zero-emissions.at, 2013'),
  ),
  limit('triacetate', 100, 130, 'an open bath boils at 100 °C', published('zero-emissions.at, 2013')),
  limit('acrylic', 98, 105, 'acrylic stretches and creases in hotter baths', FROM_MEMORY),
  limit(
    'elastane',
    100,
    100,
    'sources disagree on what elastane stands, so 100 °C is the limit here',
    published('practicaltextile.com, polyester and elastane; others allow more'),
  ),
  limit('olefin', 90, 100, 'olefin softens and shrinks', FROM_MEMORY),
  limit('glass', 100, 130, 'an open bath boils at 100 °C', COMMON_PRACTICE),
  limit('metallised', 60, 60, 'heat, acid and alkali attack the metal and its lacquer', FROM_MEMORY),
];

const LIMIT_BY_FIBRE = new Map(HEAT_LIMITS.map((each) => [each.fibre, each]));

/** The tightest heat limit among the fibres of a cloth. Throws RangeError when the content is empty. */
export function heatLimitFor(content: Content): HeatLimit {
  const limits = content.flatMap(({ fibre }) => LIMIT_BY_FIBRE.get(fibre) ?? []);
  const [first, ...others] = limits;
  if (!first) throw new RangeError('A heat limit needs at least one fibre');
  return others.reduce((low, each) => (each.limitC < low.limitC ? each : low), first);
}

/** All dyes together, in thousandths of a percent owf: one figure from the usual range of each depth. */
export interface Depth {
  readonly pale: number;
  readonly medium: number;
  readonly dark: number;
  readonly mark: Provenance;
}

const ACID_DEPTH: Depth = { pale: 250, medium: 1000, dark: 2000, mark: COMMON_PRACTICE };

/** How much dye usually makes a pale, a medium and a dark shade; black and navy need more (common practice). */
export const DEPTHS: Readonly<Record<DyeClass, Depth>> = {
  reactive: {
    pale: 500,
    medium: 2000,
    dark: 4000,
    mark: published('canttalkdyeing.wordpress.com, February 2009, for dichlorotriazine dyes'),
  },
  direct: {
    pale: 1000,
    medium: 2000,
    dark: 4000,
    mark: { basis: 'worked out', source: 'textiletipszone.blogspot.com, August 2024: 1 to 4 % in all' },
  },
  vat: { pale: 500, medium: 2000, dark: 4000, mark: FROM_MEMORY },
  'acid-levelling': ACID_DEPTH,
  'acid-milling': ACID_DEPTH,
  'acid-metal-complex': ACID_DEPTH,
  disperse: {
    pale: 300,
    medium: 1000,
    dark: 2000,
    mark: {
      basis: 'worked out',
      source: 'textilelearner.blogspot.com, January 2012: below 0.5, 0.5 to 1.5, above 1.5 % on polyester',
    },
  },
  basic: { pale: 200, medium: 1000, dark: 2000, mark: FROM_MEMORY },
};

/** Dye on polyester at the boil without carrier, in thousandths of a percent owf (our rule): a tint. */
export const TINT_OWF_MILLI = 500;

/** Which depth so much dye makes: the nearest of the usual figures, by half the way to the next. */
export function depthOf(dyeClass: DyeClass, owfMilli: number): 'pale' | 'medium' | 'dark' {
  const { pale, medium, dark } = DEPTHS[dyeClass];
  if (owfMilli < (pale + medium) / 2) return 'pale';
  return owfMilli < (medium + dark) / 2 ? 'medium' : 'dark';
}
