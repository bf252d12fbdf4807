import { SHADE_FORM } from '../server/shelf/shade/form.ts';
import { addShade } from '../server/shelf/shade/store.ts';
import type { Hand } from './hand.ts';

type How = 'instrument' | 'photo' | 'typed';

/** The shades of the parade, as if measured; the last is wanted and has no colour yet. */
export function nameShades(hand: Hand): void {
  for (const [at, shade] of SHADES.entries()) nameShade(hand, hand.before(46, `11:${10 + at}`), shade);
}

export function nameShade(hand: Hand, when: string, [name, lab, how, note]: DemoShade): void {
  const [l = '', a = '', b = ''] = lab.split(' ');
  const ground = name === 'Undyed white' || name === 'Natural' ? 'yes' : '';
  const asked = { name, ground, hex: '', l, a, b, how, note };
  hand.fillsIn(when, 'Tamsin', asked, { schema: () => SHADE_FORM, write: addShade });
}

type DemoShade = readonly [name: string, lab: string, how: How | '', note: string];

const SHADES: readonly DemoShade[] = [
  ['Undyed white', '94.2 0.1 1.8', 'instrument', 'Scoured, ready to dye.'],
  ['Natural', '89.5 0.9 9.4', 'instrument', 'Unbleached: pale shades come out warmer on it.'],
  ['Harbour ink', '21.8 5.2 -29.6', 'instrument', 'Nearly black under lanterns.'],
  ['Deep tide', '33.6 -12.4 -22.1', 'instrument', ''],
  ['Dusk violet', '39.7 24.3 -31.8', 'photo', ''],
  ['Kelp', '44.1 -18.2 20.5', 'instrument', ''],
  ['Foam', '90.3 -5.1 -2.2', 'instrument', ''],
  ['Lantern gold', '76.4 9.8 62.7', 'instrument', 'The one shade that every costume carries.'],
  ['Ember', '52.2 51.6 44.3', 'photo', ''],
  ['Buoy red', '42.5 57.9 33.8', 'instrument', ''],
  ['Coral', '66.3 36.1 26.4', 'photo', ''],
  ['Rope', '71.9 4.3 20.2', 'typed', ''],
  ['Fog grey', '68.4 -1.2 -4.1', 'typed', ''],
  ['Mussel black', '14.6 1.3 -6.2', 'typed', ''],
  ['Storm light', '', '', 'From the sketch; no swatch was dyed yet.'],
];
