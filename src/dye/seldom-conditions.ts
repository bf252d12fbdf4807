/**
 * Ways of working that a workroom seldom takes: given from memory unless a row names its source, so that no pair of
 * fibre and dye that can work is left without a word. The dye maker's label outranks all of them.
 */

import { BROADBENT, FROM_MEMORY, published } from '../quantity/provenance.ts';
import type { Condition } from './condition.ts';

export const SELDOM_CONDITIONS: readonly Condition[] = [
  {
    fibres: ['silk'],
    dyeClass: 'reactive',
    method: 'slightly alkaline',
    temperatureC: [50, 60],
    pH: [8, 9],
    vessel: 'open',
    note: 'As little alkali and heat as the label allows: both spoil silk.',
    mark: {
      basis: 'from memory',
      source: 'slightly alkaline: jtst.ir, article 115182; figures from memory',
    },
  },
  {
    fibres: ['silk'],
    dyeClass: 'direct',
    method: 'below the boil',
    temperatureC: [80, 85],
    pH: [6, 7],
    vessel: 'open',
    note: 'Wet fastness is modest.',
    mark: FROM_MEMORY,
  },
  {
    fibres: ['silk'],
    dyeClass: 'basic',
    method: 'warm, weak acid',
    temperatureC: [60, 85],
    pH: [5, 6],
    vessel: 'open',
    note: 'Brilliant, and fades in light.',
    mark: FROM_MEMORY,
  },
  {
    fibres: ['wool'],
    dyeClass: 'reactive',
    method: 'types made for wool',
    temperatureC: [95, 100],
    minutes: [60, 60],
    pH: [5, 6],
    vessel: 'open',
    note: 'Other reactive dyes want alkali, which harms wool.',
    mark: FROM_MEMORY,
  },
  {
    fibres: ['cationic-polyester'],
    dyeClass: 'basic',
    method: 'under pressure',
    temperatureC: [120, 120],
    pH: [4, 5],
    vessel: 'sealed',
    note: 'With 6 g/L of sodium sulphate. It is attacked by water more easily than plain polyester.',
    mark: published("Hilton 2011, dyeingworld1.blogspot.com; a fibre maker's page, 2025"),
  },
  {
    fibres: ['cationic-polyester'],
    dyeClass: 'disperse',
    method: 'at the boil',
    temperatureC: [95, 100],
    pH: [4, 5.5],
    vessel: 'open',
    note: 'As plain polyester, and somewhat deeper.',
    mark: FROM_MEMORY,
  },
  {
    fibres: ['triacetate'],
    dyeClass: 'disperse',
    method: 'under pressure',
    temperatureC: [120, 130],
    pH: [4.5, 5.5],
    vessel: 'sealed',
    note: 'All depths.',
    mark: published(`text on dyeing practice, zero-emissions.at, 2013; ${BROADBENT}, p. 317; pH from memory`),
  },
  {
    fibres: ['acrylic'],
    dyeClass: 'disperse',
    method: 'pale shades',
    temperatureC: [95, 98],
    pH: [5, 6],
    vessel: 'open',
    note: 'Heat slowly from 70 to 80 °C and cool slowly.',
    mark: FROM_MEMORY,
  },
];
