/**
 * The classes of dye, and which takes on which fibre.
 *
 * The grid is common practice, given from memory, except where a note names its source. "Stains" means that colour
 * is seen but washes out or stays weak: it is not dyeing, and it is refused as a way to a shade.
 */

import { BROADBENT, COMMON_PRACTICE, type Provenance, published } from '../quantity/provenance.ts';
import type { FibreCode } from './fibre.ts';
import {
  isLabelClass,
  LABEL_CLASS_NAMES,
  LABEL_CLASSES,
  type LabelClass,
  takesByLabel,
} from './label-class.ts';

export const DYE_CLASSES = [
  'reactive',
  'direct',
  'vat',
  'acid-levelling',
  'acid-milling',
  'acid-metal-complex',
  'disperse',
  'basic',
] as const;

export type DyeClass = (typeof DYE_CLASSES)[number];
/** What a recipe can be of: a class with figures of ours, or one that is worked by its label. */
export const RECIPE_CLASSES = [...DYE_CLASSES, ...LABEL_CLASSES] as const;
export type RecipeClass = DyeClass | LabelClass;
export type DyeTake = 'dyes' | 'stains' | 'no';

export const DYE_CLASS_NAMES: Readonly<Record<RecipeClass, string>> = {
  ...LABEL_CLASS_NAMES,
  reactive: 'reactive dye',
  direct: 'direct dye',
  vat: 'vat dye',
  'acid-levelling': 'levelling acid dye',
  'acid-milling': 'milling acid dye',
  'acid-metal-complex': 'metal-complex acid dye',
  disperse: 'disperse dye',
  basic: 'basic dye',
};

/** Classes by column of the grid; the three acid dyes share one. */
const COLUMNS = ['reactive', 'direct', 'vat', 'acid', 'disperse', 'basic'] as const;
type Column = (typeof COLUMNS)[number];

type Letter = 'Y' | 's' | 'N';
type Row<Columns> = Columns extends readonly [unknown, ...infer Others] ? `${Letter}${Row<Others>}` : '';

/** One letter a column: Y dyes, s stains only, N no useful colour, or no way to it that a workroom could take. */
const GRID: Readonly<Record<FibreCode, Row<typeof COLUMNS>>> = {
  cotton: 'YYYNsN',
  linen: 'YYYNsN',
  hemp: 'YYYNsN',
  viscose: 'YYYNsN',
  modal: 'YYYNsN',
  lyocell: 'YYYNsN',
  silk: 'YYNYsY',
  wool: 'YsNYss',
  nylon: 'ssNYYN',
  polyester: 'NNNNYN',
  'cationic-polyester': 'NNNNYY',
  acetate: 'NNNNYs',
  triacetate: 'NNNNYs',
  acrylic: 'NNNNYY',
  elastane: 'NNNssN',
  olefin: 'NNNNNN',
  glass: 'NNNNNN',
  metallised: 'NNNNsN',
};

/** The usual first choice where it is not the first of the grid. */
const PREFERRED: Partial<Record<FibreCode, DyeClass>> = {
  silk: 'acid-levelling',
  wool: 'acid-levelling',
  nylon: 'acid-levelling',
  acrylic: 'basic',
  'cationic-polyester': 'basic',
};

interface Note {
  readonly text: string;
  /** Only by methods or types of dye that a workroom seldom has. */
  readonly special?: true;
  readonly mark?: Provenance;
}

/** What must be added to a letter of the grid, with the source where it is not common practice. */
const NOTES: Partial<Record<FibreCode, Partial<Record<Column, Note>>>> = {
  cotton: {
    basic: { text: 'only on a mordant', mark: published('Beech, The Dyeing of Cotton Fabrics, about 1901') },
  },
  silk: {
    direct: { text: 'wet fastness is modest' },
    vat: {
      text: 'only by a method of its own on the label: the alkali of a vat harms silk',
      mark: published('textileengg.blogspot.com, November 2015: hot strong caustic soda dissolves silk'),
    },
  },
  wool: {
    reactive: { text: 'only the types made for wool', special: true },
    vat: {
      text: 'only by a method of its own on the label: the caustic soda of a vat dissolves wool',
      mark: published(`${BROADBENT}, p. 413`),
    },
  },
  nylon: {
    vat: {
      text: 'only by a method of its own on the label: acid leuco and indigo colour it, but no figures are published for a workroom',
      mark: published('Baig, Autex Research Journal 10(1), 2010; an excerpt on acid leuco'),
    },
    disperse: {
      text: 'in pale shades only, since wet fastness is poor to moderate',
      mark: published(`${BROADBENT}, p. 318`),
    },
    basic: { text: 'only variants made with anionic groups', mark: published(`${BROADBENT}, p. 286`) },
  },
  polyester: {
    disperse: {
      text: 'at the boil without carrier only pale shades',
      mark: published(
        'Abstract "Development of dyes and methods for dyeing polyester", discovery.researcher.life',
      ),
    },
  },
  acrylic: { disperse: { text: 'in pale shades only' } },
  elastane: {
    acid: { text: 'some dyes take, seldom to the shade of the cloth' },
    disperse: { text: 'some dyes take, and bleed' },
  },
  olefin: {
    disperse: {
      text: 'only modified, disperse-dyeable grades',
      mark: published('Textile World, September/October 2006'),
    },
  },
  metallised: { disperse: { text: 'the film may tint' } },
};

export interface Affinity {
  readonly take: DyeTake;
  readonly note?: string;
  readonly special: boolean;
  readonly mark: Provenance;
}

/** How a fibre takes a class of dye. */
export function affinity(fibre: FibreCode, dyeClass: RecipeClass): Affinity {
  if (isLabelClass(dyeClass)) return takesByLabel(fibre, dyeClass);
  const column: Column = isAcid(dyeClass) ? 'acid' : dyeClass;
  const letter = GRID[fibre].charAt(COLUMNS.indexOf(column));
  const take: DyeTake = letter === 'Y' ? 'dyes' : letter === 's' ? 'stains' : 'no';
  const note = NOTES[fibre]?.[column];
  return {
    take,
    ...(note ? { note: note.text } : {}),
    special: note?.special ?? false,
    mark: note?.mark ?? COMMON_PRACTICE,
  };
}

function isAcid(dyeClass: DyeClass): dyeClass is Extract<DyeClass, `acid-${string}`> {
  return dyeClass.startsWith('acid-');
}

/**
 * The classes that dye a fibre: the usual first choice, the others, then those that need special means.
 * Empty for olefin, glass, elastane and metallised yarn.
 */
export function classesFor(fibre: FibreCode): readonly DyeClass[] {
  const rank = (dyeClass: DyeClass): number =>
    dyeClass === PREFERRED[fibre] ? 0 : affinity(fibre, dyeClass).special ? 2 : 1;
  return DYE_CLASSES.filter((dyeClass) => affinity(fibre, dyeClass).take === 'dyes').sort(
    (a, b) => rank(a) - rank(b),
  );
}
