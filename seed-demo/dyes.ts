import { dyeForm } from '../server/dye-bench/dyes/form.ts';
import { addDye } from '../server/dye-bench/dyes/verbs.ts';
import { readWorkroom } from '../server/kit/workroom.ts';
import type { Hand } from './hand.ts';

/** Puts the tubs on the shelf of the dye bench on the list. All of them are invented. */
export function listDyes(hand: Hand): void {
  const { currency } = readWorkroom(hand.book);
  for (const [at, dye] of DYES.entries()) {
    hand.fillsIn(hand.before(40, `09:0${at}`), 'Tamsin', dye, {
      schema: () => dyeForm(currency),
      write: addDye,
    });
  }
}

const INVENTED = 'Invented: no such dye is sold.';

const DYES = [
  {
    name: 'Harbour blue A (invented)',
    dye_class: 'acid-levelling',
    strength: '100',
    lot: 'H-204',
    price: '9.80',
    price_for: '100 g',
    label_notes: `${INVENTED} Set at 40 °C; acid when the cloth is even.`,
  },
  {
    name: 'Kelp green A (invented)',
    dye_class: 'acid-levelling',
    strength: '150',
    lot: 'K-031',
    price: '12.50',
    price_for: '100 g',
    label_notes: INVENTED,
  },
  {
    name: 'Flare orange D (invented)',
    dye_class: 'disperse',
    lot: 'F-77',
    price: '28',
    price_for: '250 g',
    label_notes: `${INVENTED} Pale at the boil without carrier.`,
  },
  {
    name: 'Straw yellow R (invented)',
    dye_class: 'reactive',
    method: 'vinyl sulphone or monofluorotriazine',
    lot: 'S-9',
    price: '7.20',
    price_for: '100 g',
    label_notes: `${INVENTED} Salt 50 g/L, soda 10 g/L for medium shades.`,
  },
];
