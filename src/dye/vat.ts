/**
 * Vat dyes on cellulose: their three families, the caustic soda, hydrosulphite and salt that each takes by depth, and what
 * a recipe for one must have. The label names the family, and outranks every figure.
 */

import { BROADBENT, type Provenance, published } from '../quantity/provenance.ts';
import { groupsOf } from './auxiliaries.ts';
import type { ContentProblem } from './fibre.ts';
import { depthOwfMilli, type Recipe } from './recipe.ts';

/** The method of a recipe, as the family of the dye. */
export const VAT_FAMILIES = ['hot (IN)', 'warm (IW)', 'cold (IK)'] as const;
export type VatFamily = (typeof VAT_FAMILIES)[number];

type Range = readonly [from: number, to: number];

interface VatWay {
  /** °C: of the dye bath, and of the stock vat in which the dye is reduced */
  readonly dyeingC: Range;
  readonly vattingC: number;
  readonly saltGPerLitre: Range | null;
}

/** Broadbent, p. 367 and table 17.1. */
export const VAT_WAYS: Readonly<Record<VatFamily, VatWay>> = {
  'hot (IN)': { dyeingC: [50, 60], vattingC: 60, saltGPerLitre: null },
  'warm (IW)': { dyeingC: [45, 50], vattingC: 50, saltGPerLitre: [5, 25] },
  'cold (IK)': { dyeingC: [20, 25], vattingC: 40, saltGPerLitre: [10, 40] },
};

export const VAT_TABLE = published(`${BROADBENT}, p. 367 and table 17.1`);
const MAKER: Provenance = {
  basis: 'worked out',
  source:
    'a dye maker’s open-bath table, richestchemicalcompanylimited.com: mL of 30 % caustic × 0.398, straight lines between its depths',
};

/** A depth in % owf and the g/L for it. */
type Point = readonly [owf: number, gPerLitre: number];
interface Doses {
  readonly caustic: readonly Point[];
  readonly hydros: readonly Point[];
  readonly mark: Provenance;
}

const DOSES: Readonly<Record<VatFamily, Doses>> = {
  'hot (IN)': {
    caustic: [
      [0.1, 4],
      [1, 4.8],
      [3, 6.8],
      [6, 8],
    ],
    hydros: [
      [0.1, 4],
      [1, 5],
      [3, 7],
      [6, 8],
    ],
    mark: MAKER,
  },
  'warm (IW)': {
    caustic: [
      [0.1, 2.4],
      [1, 3.2],
      [3, 4.8],
      [6, 5.6],
    ],
    hydros: [
      [0.1, 3.5],
      [1, 4.5],
      [3, 6.5],
      [6, 7],
    ],
    mark: MAKER,
  },
  'cold (IK)': {
    caustic: [
      [0.1, 1.5],
      [6, 2.5],
    ],
    hydros: [
      [0.1, 2.2],
      [6, 3.1],
    ],
    mark: {
      basis: 'worked out',
      source: `${BROADBENT}, table 17.1: caustic soda 1.5 to 2.5 g/L; hydrosulphite in the proportion of the warm family, since what is printed, 0.4 to 4.5 g/L, is too wide`,
    },
  },
};

/** Above this no dose is worked out: blacks take the label’s. In thousandths of a percent owf. */
const DEEPEST_OWF_MILLI = 6000;

export interface VatChemicals {
  readonly causticMgPerLitre: number;
  readonly hydrosMgPerLitre: number;
  /** 0 for the family that takes none */
  readonly saltMgPerLitre: number;
  readonly mark: Provenance;
}

/**
 * Caustic soda, hydrosulphite and salt for a depth of all dyes in thousandths of a percent owf, to 0.1 g/L. All rise with
 * the depth; beyond the table the end rows hold.
 */
export function vatChemicals(family: VatFamily, owfMilli: number): VatChemicals {
  const { caustic, hydros, mark } = DOSES[family];
  const owf = owfMilli / 1000;
  const salt = VAT_WAYS[family].saltGPerLitre;
  const tenth = (points: readonly Point[]) => Math.round(between(points, owf) * 10) * 100;
  return {
    causticMgPerLitre: tenth(caustic),
    hydrosMgPerLitre: tenth(hydros),
    saltMgPerLitre: salt
      ? tenth([
          [0.1, salt[0]],
          [6, salt[1]],
        ])
      : 0,
    mark,
  };
}

/** On the straight line between the two points around a depth; the end points beyond them. */
function between(points: readonly Point[], owf: number): number {
  const after = points.findIndex(([at]) => owf <= at);
  const high = points[after] ?? points.at(-1);
  const low = points[after - 1] ?? high;
  if (!high || !low) return 0;
  const width = high[0] - low[0];
  return width === 0 ? high[1] : low[1] + ((owf - low[0]) / width) * (high[1] - low[1]);
}

/** The family that a recipe names; undefined for a method of another name. */
export function vatFamilyOf({ method }: Pick<Recipe, 'method'>): VatFamily | undefined {
  return VAT_FAMILIES.find((family) => family === method);
}

/** Grams of caustic soda that each gram of hydrosulphite takes along when air destroys it (worked out: 2 NaOH a mole). */
export const CAUSTIC_LOST_WITH_HYDROS = 0.46;

/**
 * What a vat lacks: its family, its caustic soda, its hydrosulphite. A vat without one of them is none, and what it does to
 * the cloth could not be told. Fields as in `checkRecipe`.
 */
export function checkVat(recipe: Recipe): readonly ContentProblem[] {
  if (recipe.dyeClass !== 'vat') return [];
  const has = (group: 'caustic' | 'hydros') =>
    recipe.auxiliaries.some(({ kind, form }) => (groupsOf(kind, form) ?? []).includes(group));
  const problems: ContentProblem[] = [];
  if (vatFamilyOf(recipe) === undefined && recipe.marks.temperatureC?.basis !== 'label') {
    const message =
      'Say the family of the vat dye, hot (IN), warm (IW) or cold (IK): heat, caustic soda and salt follow from it. Or mark the temperature as the label’s.';
    problems.push({ field: 'method', message });
  }
  if (!has('caustic')) {
    problems.push({ field: 'auxiliaries', message: 'A vat needs caustic soda: give its dose.' });
  }
  if (!has('hydros')) {
    problems.push({ field: 'auxiliaries', message: 'A vat needs sodium hydrosulphite: give its dose.' });
  }
  if (
    depthOwfMilli(recipe) > DEEPEST_OWF_MILLI &&
    recipe.marks['auxiliaries.caustic-soda']?.basis !== 'label'
  ) {
    const message =
      'Above 6 % of vat dye the caustic soda goes beyond any table: take the label’s dose and mark it as such.';
    problems.push({ field: 'dyes', message });
  }
  return problems;
}

/** How vat dye of a family is worked, in words for the steps. */
export const VAT_SAYS = {
  stock: (family: VatFamily | undefined): string =>
    `In a tenth to a twentieth of the bath’s water at ${family ? VAT_WAYS[family].vattingC : 50} °C: the pasted dye, then half of the caustic soda, dissolved in cold water, ` +
    'then half of the hydrosulphite, sprinkled in. Stand covered and still for 10 to 15 minutes: it is ready when a drop runs clear off glass, in the colour of the vat, without specks.',
  blank:
    'Blank bath: the rest of the caustic soda, dissolved in cold water, then the rest of the hydrosulphite, sprinkled in. Cover, and wait until test paper shows that the bath reduces.',
  dye: 'Pour the stock vat in below the surface through a sieve, stir gently, then lower the wet cloth, opened out, and keep it under: what comes into the air turns to streaks.',
  hold:
    'Every 10 minutes test: the bath clear, vat paper positive, pH over 12. Top up hydrosulphite and caustic soda together ' +
    `(each gram of hydrosulphite that air destroys takes ${CAUSTIC_LOST_WITH_HYDROS} g of caustic soda along): a bath that is not reduced at the end drops its dye as scum.`,
  rinse: 'Cold and overflowing, the cloth under water, until pH paper shows less than 9.',
} as const;
