import { dyeForm } from '../server/dye-bench/dyes/form.ts';
import { addDye } from '../server/dye-bench/dyes/verbs.ts';
import { MAKER_LABEL } from '../server/dye-bench/label/form.ts';
import { keepDyeLabel } from '../server/dye-bench/label/page.ts';
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
  const [yellow] = hand.book.all(
    hand.book.db.selectFrom('dye').select('id').where('name', '=', 'Straw yellow R (invented)'),
  );
  if (!yellow) throw new Error('the story knows no straw yellow');
  hand.fillsIn(hand.before(40, '09:08'), 'Tamsin', YELLOW_LABEL, {
    schema: () => MAKER_LABEL,
    write: (tx, form, _, typed) => keepDyeLabel(tx, yellow.id, form, typed),
  });
}

/** What the invented tub says, whole. */
const YELLOW_LABEL = {
  source: 'tub of 100 g, invented',
  start: '30',
  temperature: '60',
  hold: '60',
  'additions.0.what': 'salt',
  'additions.0.minutes': '10',
  'additions.1.what': 'dye',
  'additions.1.at': '40',
  'additions.1.minutes': '15',
  'additions.2.what': 'soda-ash',
  'additions.2.at': '60',
  'additions.2.minutes': '10',
  'doses.0.what': 'salt/as-sold',
  'doses.0.up_to': '1 %',
  'doses.0.amount': '30 g/L',
  'doses.1.what': 'salt/as-sold',
  'doses.1.amount': '50 g/L',
  'doses.2.what': 'soda-ash/anhydrous',
  'doses.2.amount': '10 g/L',
  'washes.0.says': 'Rinse cold twice, then warm, until the salt is out.',
  'washes.0.at': '30',
  'washes.0.minutes': '15',
  'washes.1.says': 'Soap just under the boil.',
  'washes.1.at': '95',
  'washes.1.minutes': '15',
  'washes.1.what': 'detergent/as-sold',
  'washes.1.amount': '1',
};

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
    name: 'Rowan red A (invented)',
    dye_class: 'acid-levelling',
    strength: '100',
    lot: 'R-118',
    price: '8.40',
    price_for: '100 g',
    label_notes: INVENTED,
  },
  {
    name: 'Gorse yellow A (invented)',
    dye_class: 'acid-levelling',
    strength: '100',
    lot: 'G-052',
    price: '7.90',
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
