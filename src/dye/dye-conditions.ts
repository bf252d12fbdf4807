/**
 * At what heat, for how long and how sour or alkaline each class of dye is worked on each fibre.
 *
 * Each row carries where it comes from. The dye maker's label outranks all of them.
 */

import { BROADBENT, published } from '../quantity/provenance.ts';
import type { Condition } from './condition.ts';
import type { RecipeClass } from './dye-class.ts';
import { CELLULOSE } from './dye-facts.ts';
import type { FibreCode } from './fibre.ts';
import { SELDOM_CONDITIONS } from './seldom-conditions.ts';
import { VAT_FAMILIES, VAT_TABLE, VAT_WAYS } from './vat.ts';

const REACTIVE = {
  fibres: CELLULOSE,
  dyeClass: 'reactive',
  minutes: [45, 60],
  pH: [10, 11],
  vessel: 'open',
  mark: published('fibres2fabrics.blogspot.com, March 2011; time and pH of the alkali stage: faqs.tips'),
} as const;

/** Dyes of one metal to two of dye, as a workroom uses them; those of one to one want strong acid. */
export const METAL_COMPLEX = '1:2, near neutral';

export const CONDITIONS: readonly Condition[] = [
  {
    ...REACTIVE,
    method: 'dichlorotriazine',
    temperatureC: [25, 40],
    note: 'Salt first, then soda. Very reactive: a stock solution loses strength within hours, so make it fresh.',
  },
  {
    ...REACTIVE,
    method: 'vinyl sulphone or monofluorotriazine',
    temperatureC: [40, 60],
    note: 'Salt first, then soda.',
  },
  {
    ...REACTIVE,
    method: 'monochlorotriazine',
    temperatureC: [80, 85],
    note: 'Add the salt gradually. A fifth to two fifths of the dye may be lost to the water.',
  },
  {
    ...REACTIVE,
    method: 'trichloropyrimidine',
    temperatureC: [80, 95],
    note: 'Salt first, then soda.',
  },
  {
    fibres: CELLULOSE,
    dyeClass: 'direct',
    method: 'at the boil',
    startC: [40, 60],
    temperatureC: [95, 100],
    minutes: [45, 60],
    pH: [7, 9],
    liquorRatio: 20,
    vessel: 'open',
    note: 'Wash fastness is poor.',
    mark: published('textiletipszone.blogspot.com, August 2024; pH in figures from memory'),
  },
  ...VAT_FAMILIES.map(
    (method): Condition => ({
      fibres: CELLULOSE,
      dyeClass: 'vat',
      method,
      temperatureC: VAT_WAYS[method].dyeingC,
      minutes: [45, 60],
      pH: [12, 13],
      vessel: 'open',
      note: `The label names the family. Reduced with caustic soda and hydrosulphite${VAT_WAYS[method].saltGPerLitre ? ', with salt' : ', without salt'}; oxidised in air or with perborate, then soaped for the true shade.`,
      mark: { ...VAT_TABLE, source: `${VAT_TABLE.source}; minutes from memory; pH 12: a student trial` },
    }),
  ),
  {
    fibres: ['wool'],
    dyeClass: 'acid-levelling',
    method: 'strong acid',
    temperatureC: [95, 100],
    minutes: [60, 60],
    pH: [2, 4],
    vessel: 'open',
    note: 'Evens out well at the boil; wash fastness poor to fair. Wool felts when it is boiled and handled.',
    mark: published(`${BROADBENT}, pp. 242–244; one hour: textileinformation.blogspot.com, November 2007`),
  },
  {
    fibres: ['wool'],
    dyeClass: 'acid-levelling',
    method: 'fast acid, with acetic acid',
    temperatureC: [95, 100],
    minutes: [60, 60],
    pH: [4, 6],
    vessel: 'open',
    note: 'Wool felts when it is boiled and handled.',
    mark: published(`${BROADBENT}, p. 246; one hour: textileinformation.blogspot.com, November 2007`),
  },
  {
    fibres: ['wool'],
    dyeClass: 'acid-milling',
    method: 'weak acid, acid late',
    temperatureC: [95, 100],
    minutes: [60, 60],
    pH: [5, 7],
    vessel: 'open',
    note: "No Glauber's salt: it makes milling dyes more uneven. Wool felts when it is boiled and handled.",
    mark: published(`${BROADBENT}, p. 246; one hour: textileinformation.blogspot.com, November 2007`),
  },
  {
    fibres: ['wool'],
    dyeClass: 'acid-metal-complex',
    method: METAL_COMPLEX,
    temperatureC: [95, 100],
    minutes: [60, 60],
    pH: [6, 7],
    vessel: 'open',
    note: 'Migrates poorly: heat slowly. Wool felts when it is boiled and handled.',
    mark: { basis: 'from memory', source: `from memory; super-milling dyes alike: ${BROADBENT}, p. 242` },
  },
  {
    fibres: ['wool'],
    dyeClass: 'acid-metal-complex',
    method: '1:1, strong acid',
    startC: [40, 45],
    temperatureC: [95, 100],
    minutes: [90, 120],
    pH: [1.5, 2.5],
    vessel: 'open',
    note: 'Wool only, never nylon. With sulphuric acid 8 % or formic acid 3 to 4 %: face shield, and the label’s word on it.',
    mark: published('fibre2fabrics.in, April 2020'),
  },
  ...(['acid-levelling', 'acid-milling', 'acid-metal-complex'] as const).map(
    (dyeClass): Condition => ({
      fibres: ['silk'],
      dyeClass,
      method: 'below the boil',
      startC: [40, 40],
      temperatureC: [80, 85],
      pH: [4, 6],
      vessel: 'open',
      note: "Acetic acid only: sulphuric acid harms silk, and Glauber's salt dulls it. Never above 85 °C.",
      mark: published('textilelearner.blogspot.com, January 2012, acid dyes on silk; pH from memory'),
    }),
  ),
  {
    fibres: ['nylon'],
    dyeClass: 'acid-levelling',
    method: 'weak acid',
    startC: [40, 50],
    temperatureC: [95, 100],
    minutes: [30, 45],
    pH: [4, 6],
    liquorRatio: 20,
    vessel: 'open',
    note: 'Strikes fast: start pale shades about one pH higher, with more leveller. It migrates, yet covers differences of the yarn poorly.',
    mark: published(
      'tradetextile.com, archive page 38365: pH, acid 1 to 3 %, 1:20; start, minutes: from memory; pale shades: common practice',
    ),
  },
  {
    fibres: ['nylon'],
    dyeClass: 'acid-milling',
    method: 'acid donor, no salt',
    startC: [40, 40],
    temperatureC: [95, 100],
    pH: [5, 7],
    liquorRatio: 20,
    vessel: 'open',
    note: "Migrates poorly: ammonium sulphate 2 to 4 % turns the hot open bath acid slowly. No Glauber's salt.",
    mark: published(
      `${BROADBENT}, p. 246, for wool; organicdye.com, wool with nylon; slow donors alike: Fibers and Polymers 19(12), 2018; ramp from memory`,
    ),
  },
  {
    fibres: ['nylon'],
    dyeClass: 'acid-metal-complex',
    method: METAL_COMPLEX,
    startC: [45, 50],
    temperatureC: [95, 100],
    pH: [6, 6.5],
    vessel: 'open',
    note: 'Migrates poorly and covers yarn differences poorly: heat slowly.',
    mark: published('fibre2fabrics.in, April 2020'),
  },
  {
    fibres: ['nylon'],
    dyeClass: 'disperse',
    method: 'at or below the boil',
    startC: [40, 40],
    temperatureC: [95, 98],
    minutes: [45, 60],
    pH: [5, 6],
    vessel: 'open',
    note: 'Covers differences of the yarn; wet fastness poor to moderate, so for pale shades.',
    mark: published(
      `${BROADBENT}, p. 318; dyes4dyeing.blogspot.com, July 2012; start, heat, minutes and pH from memory`,
    ),
  },
  {
    fibres: ['polyester'],
    dyeClass: 'disperse',
    method: 'at the boil, no carrier',
    startC: [60, 60],
    temperatureC: [95, 100],
    minutes: [30, 60],
    pH: [4, 5.5],
    vessel: 'open',
    note: 'A tint: at most 0.5 % of dye (our rule), a swatch first, no navy, black or deep red. Only the smallest dyes enter polyester at the boil at a practicable rate.',
    mark: published(
      '"Development of dyes and methods for dyeing polyester", discovery.researcher.life; ' +
        'pH and start: textilelearner.blogspot.com, January 2012; time: a trade page',
    ),
  },
  {
    fibres: ['polyester'],
    dyeClass: 'disperse',
    method: 'with carrier',
    temperatureC: [90, 100],
    minutes: [60, 60],
    pH: [4, 5.5],
    vessel: 'open',
    note: 'Light to medium depths. Carriers are toxic and smell: a ventilated workshop only, never a dwelling.',
    mark: published(
      'textilelearner.blogspot.com, January 2012; textileinformation.blogspot.com, December 2009',
    ),
  },
  {
    fibres: ['polyester'],
    dyeClass: 'disperse',
    method: 'under pressure',
    startC: [60, 80],
    temperatureC: [130, 130],
    minutes: [60, 60],
    pH: [4, 5.5],
    liquorRatio: 10,
    vessel: 'sealed',
    note: 'All depths. 130 °C is out of reach of any kitchen vessel: send the cloth to a commission dyer.',
    mark: published('textilelearner.blogspot.com, January 2012'),
  },
  {
    fibres: ['cationic-polyester'],
    dyeClass: 'basic',
    method: 'at the boil, easily dyed type',
    temperatureC: [98, 100],
    pH: [4, 5],
    vessel: 'open',
    note: 'The other types need a carrier at 98 °C, or 120 °C under pressure: ask which type it is.',
    mark: published("Hilton 2011, dyeingworld1.blogspot.com; a fibre maker's page, 2025"),
  },
  {
    fibres: ['acetate'],
    dyeClass: 'disperse',
    method: 'open width, below 85 °C',
    startC: [40, 40],
    temperatureC: [75, 80],
    minutes: [60, 60],
    pH: [5, 6],
    vessel: 'open',
    note: 'Hotter or alkaline baths dull it, and folds made at this heat stay: keep it open and flat.',
    mark: published(
      'dyes4dyeing.blogspot.com, July 2012: 85 °C at most; text on dyeing practice, zero-emissions.at, 2013; the figures from memory',
    ),
  },
  {
    fibres: ['triacetate'],
    dyeClass: 'disperse',
    method: 'at the boil',
    temperatureC: [95, 100],
    pH: [4.5, 5.5],
    vessel: 'open',
    note: 'Takes dye slowly; depth needs a carrier or 115 to 130 °C under pressure.',
    mark: published(`text on dyeing practice, zero-emissions.at, 2013; ${BROADBENT}, p. 317; pH from memory`),
  },
  {
    fibres: ['acrylic'],
    dyeClass: 'basic',
    method: 'slowly through 70 to 85 °C',
    startC: [60, 70],
    temperatureC: [95, 98],
    minutes: [45, 60],
    pH: [4, 5.5],
    liquorRatio: 30,
    vessel: 'open',
    note: 'Nearly all the dye goes on in a few degrees: retarder, 1 °C in 2 to 4 minutes through 75 to 85 °C, a hold there, and cool slowly. Pale shades at pH 4, dark ones a little higher. Never mix dyes of unlike K value.',
    mark: published(
      'texpedia.org, June 2012; xingwuchemical.com, cationic dyes; a trial of 2024, napstic 010rzjs202403006',
    ),
  },
  ...SELDOM_CONDITIONS,
];

/** The ways of working a class of dye on a fibre, those for an open vessel first; empty where none is known. */
export function conditionsFor(fibre: FibreCode, dyeClass: RecipeClass): readonly Condition[] {
  const rows = CONDITIONS.filter((row) => row.dyeClass === dyeClass && row.fibres.includes(fibre));
  return [...rows.filter((row) => row.vessel === 'open'), ...rows.filter((row) => row.vessel === 'sealed')];
}
