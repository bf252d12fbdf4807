/**
 * Where a bath is set and how fast it is heated, by fibre and class of dye. Rates are common practice unless they name a
 * source.
 */

import {
  BROADBENT,
  COMMON_PRACTICE,
  FROM_MEMORY,
  type Provenance,
  published,
} from '../quantity/provenance.ts';
import type { RecipeClass } from './dye-class.ts';
import type { FibreCode } from './fibre.ts';

export const SYNTHETIC: readonly FibreCode[] = [
  'nylon',
  'polyester',
  'cationic-polyester',
  'acetate',
  'triacetate',
  'acrylic',
];

/** Where a bath waits on its way up. */
export interface Wait {
  readonly atC: number;
  readonly minutes: number;
  readonly says: string;
  readonly mark: Provenance;
}

export interface Heating {
  readonly setC: number;
  readonly rate: number;
  readonly mark: Provenance;
  readonly slow?: {
    readonly fromC: number;
    readonly toC: number;
    readonly rate: number;
    readonly mark: Provenance;
  };
  readonly wait?: Wait;
}

export const ACRYLIC_HEATING = published(
  `${BROADBENT}, p. 394; xingwuchemical.com, cationic dyes: 1 °C in 2 to 4 minutes, hold at 85 to 90 °C; to about 50 °C: a textbook excerpt; minutes from memory`,
);
const NYLON_MILLING: Provenance = {
  basis: 'from memory',
  source: 'from memory: 40 °C, 1 °C a minute, slower from 50 to 80 °C',
};

/** Where a bath is set and how fast it is heated. */
export function heatingFor(fibre: FibreCode, dyeClass: RecipeClass): Heating {
  if (dyeClass === 'reactive') return { setC: 40, rate: 1.5, mark: COMMON_PRACTICE };
  if (dyeClass === 'direct') {
    return {
      setC: 50,
      rate: 1.5,
      mark: published(
        'textiletipszone.blogspot.com, August 2024: start at 40 to 60 °C; rate: common practice',
      ),
    };
  }
  if (dyeClass === 'disperse' && fibre === 'polyester') {
    return {
      setC: 60,
      rate: 1,
      mark: published(
        'textilelearner.blogspot.com, January 2012: start at 60 °C; fersantekstil.com: 1 to 1.5 °C a minute',
      ),
    };
  }
  if (dyeClass === 'vat') return { setC: 60, rate: 1, mark: COMMON_PRACTICE };
  if (fibre === 'nylon' && dyeClass === 'acid-milling') {
    const slow = { fromC: 50, toC: 80, rate: 0.5, mark: NYLON_MILLING };
    return { setC: 40, rate: 1, mark: NYLON_MILLING, slow };
  }
  if (fibre === 'nylon' && dyeClass === 'disperse') return { setC: 40, rate: 1, mark: FROM_MEMORY };
  if (fibre === 'nylon') {
    return {
      setC: 50,
      rate: 1,
      mark: published('tradetextile.com, archive page 38365: start at 50 to 60 °C; rate: common practice'),
    };
  }
  if (fibre === 'acetate') return { setC: 40, rate: 1, mark: FROM_MEMORY };
  if (fibre === 'acrylic') {
    // Nearly all the dye goes on within a few degrees above the glass transition.
    return {
      setC: 60,
      rate: 1,
      mark: COMMON_PRACTICE,
      slow: { fromC: 70, toC: 85, rate: 0.4, mark: ACRYLIC_HEATING },
      wait: {
        atC: 85,
        minutes: 15,
        says: 'Hold here until the bath has nearly cleared, then on to the boil: dye that goes on unevenly does not move again.',
        mark: ACRYLIC_HEATING,
      },
    };
  }
  return { setC: SYNTHETIC.includes(fibre) ? 50 : 40, rate: 1, mark: COMMON_PRACTICE };
}
