import { deedOf, type SupplyDeed } from '../server/supplies/deeds.ts';
import { addSupply, supplyForm } from '../server/supplies/form.ts';
import { receivedForm, writeReceived } from '../server/supplies/receive.ts';
import { readSupply } from '../server/supplies/store.ts';
import type { Hand } from './hand.ts';

/**
 * The invented stock of what is not cloth: described, received, used and counted. Hooks ran low, and so did the dispersing
 * agent, of which a planned batch wants more.
 */
export function stockSupplies(hand: Hand): void {
  const place = { dye: 'Dye store', chemical: 'Dye store' };
  for (const [at, { dye, ...supply }] of SUPPLIES.entries()) {
    const usedAs = dye === undefined ? {} : { used_as: `dye/${hand.id('dye', dye)}` };
    const where = place[supply.kind as 'dye'] ?? 'Table shelf';
    const typed = { ...supply, ...usedAs, place_id: hand.id('place', where) };
    hand.fillsIn(hand.before(40, `13:${10 + at}`), 'Tamsin', typed, {
      schema: ({ units }) => supplyForm(hand.book, units),
      write: (tx, form, asker) => addSupply(tx, form, asker),
    });
  }
  receive(hand, '14:10', 'Dye', DYE_STORE);
  receive(hand, '14:25', 'Trims, opening stock', TABLE_SHELF);
}

/** What was taken and counted of them later. */
export function useSupplies(hand: Hand): void {
  const capelet = hand.id('garment', 'Torchlighter’s capelet');
  use(hand, 2, '16:12', 'Brass hooks and bars, size 2', 'use', {
    amount: '26',
    garment_id: capelet,
    why: 'front edges',
  });
  use(hand, 2, '16:13', 'Brass hooks and bars, size 2', 'hold', {
    amount: '12',
    garment_id: hand.id('garment', 'Lamp-bearer’s tide skirt'),
    why: 'opening of the skirt',
  });
  use(hand, 2, '16:14', 'Millinery wire, 1.2 mm', 'use', { amount: '14.5 m', why: 'hat brims' });
  use(hand, 2, '16:16', 'Crin 25 mm', 'use', { amount: '4.2 m', why: 'hem trial' });
  use(hand, 2, '16:17', 'Cotton lace, 30 mm, ecru', 'split', {
    amount: '12 m',
    why: 'cut off for the cuffs, kept',
  });
  use(hand, 2, '16:18', 'Steel', 'count', { amount: '37.4 m', why: 'the end was kinked' });
  // Too little for the batch that is planned.
  use(hand, 2, '16:20', 'Dispersing agent', 'count', { amount: '0.9 g', why: 'the rest had caked' });
  use(hand, 2, '16:22', 'Rotary blades, 45 mm', 'write-off', { amount: '1', why: 'broken' });
}

function receive(hand: Hand, time: string, note: string, rows: readonly (readonly string[])[]): void {
  const typed = rows.flatMap(([name = '', amount = '', cost = '', lot = '', openedDaysAgo = ''], at) => [
    [`rows.${at}.supply_id`, hand.id('supply', name)],
    [`rows.${at}.count`, amount.includes(' × ') ? (amount.split(' × ')[0] ?? '') : ''],
    [`rows.${at}.amount`, amount.split(' × ').at(-1) ?? ''],
    [`rows.${at}.cost`, cost],
    [`rows.${at}.lot`, lot],
    [`rows.${at}.opened_on`, openedDaysAgo === '' ? '' : hand.day(-Number(openedDaysAgo))],
  ]);
  hand.fillsIn(
    hand.before(40, time),
    'Oda',
    { ...Object.fromEntries(typed), note },
    {
      schema: (asker) => receivedForm(hand.book, asker),
      write: writeReceived,
    },
  );
}

function use(
  hand: Hand,
  days: number,
  time: string,
  name: string,
  deed: SupplyDeed,
  typed: Readonly<Record<string, string>>,
): void {
  const id = Number(hand.id('supply', name));
  const lots = hand.book.all(
    hand.book.db.selectFrom('supply_lot').select('id').where('supply_id', '=', id).orderBy('id'),
  );
  const counted = deed === 'count' || deed === 'split' ? { lot_id: String(lots[0]?.id ?? '') } : {};
  hand.fillsIn(
    hand.before(days, time),
    'Fenn',
    { ...typed, ...counted },
    {
      schema: ({ units }) => deedOf(hand.book, readSupply(hand.book, id), units, deed).schema,
      write: (tx, form, { units }) => deedOf(tx, readSupply(tx, id), units, deed).write(tx, form),
    },
  );
}

interface SupplyStory {
  readonly name: string;
  readonly kind: string;
  readonly measure: string;
  readonly least?: string;
  readonly note?: string;
  readonly used_as?: string;
  readonly dye?: string;
}

const SUPPLIES: readonly SupplyStory[] = [
  {
    name: 'Harbour blue A, tub',
    kind: 'dye',
    measure: 'mass',
    least: '50 g',
    dye: 'Harbour blue A (invented)',
    note: 'Invented.',
  },
  { name: 'Kelp green A, tub', kind: 'dye', measure: 'mass', least: '40 g', dye: 'Kelp green A (invented)' },
  {
    name: 'Flare orange D, tub',
    kind: 'dye',
    measure: 'mass',
    least: '50 g',
    dye: 'Flare orange D (invented)',
  },
  { name: 'Straw yellow R, tub', kind: 'dye', measure: 'mass', dye: 'Straw yellow R (invented)' },
  {
    name: 'White vinegar, 5 %',
    kind: 'chemical',
    measure: 'volume',
    least: '2 L',
    used_as: 'acetic-acid/vinegar-5',
    note: 'From the grocer.',
  },
  { name: 'Soda ash', kind: 'chemical', measure: 'mass', least: '500 g', used_as: 'soda-ash/anhydrous' },
  { name: 'Cooking salt', kind: 'chemical', measure: 'mass', least: '1 kg', used_as: 'salt/as-sold' },
  {
    name: 'Dispersing agent',
    kind: 'chemical',
    measure: 'mass',
    least: '100 g',
    used_as: 'dispersant/as-sold',
    note: 'Wear gloves; see the label.',
  },
  { name: 'Polyester thread 120, black', kind: 'thread', measure: 'length', least: '2000 m' },
  {
    name: 'Crin 25 mm',
    kind: 'trim',
    measure: 'length',
    least: '10 m',
    note: 'Horsehair braid, black, with a drawing thread.',
  },
  { name: 'Millinery wire, 1.2 mm', kind: 'trim', measure: 'length' },
  { name: 'Cotton lace, 30 mm, ecru', kind: 'trim', measure: 'length' },
  {
    name: 'Steel',
    kind: 'notion',
    measure: 'length',
    least: '15 m',
    note: 'Spring steel, 7 mm. Cut with the shears on the wall.',
  },
  { name: 'Brass hooks and bars, size 2', kind: 'notion', measure: 'count', least: '24' },
  { name: 'Rotary blades, 45 mm', kind: 'tool', measure: 'count', least: '3' },
];

/** Name, amount or reels alike, price of all of it, lot, opened so many days ago. */
const DYE_STORE = [
  ['Harbour blue A, tub', '250 g', '24.50', 'H-204', '41'],
  ['Kelp green A, tub', '100 g', '12.50', 'K-031', '41'],
  ['Flare orange D, tub', '250 g', '28.00', 'F-77'],
  ['Straw yellow R, tub', '100 g', '7.20', 'S-9'],
  ['White vinegar, 5 %', '5 L', '4.50', '', '43'],
  ['White vinegar, 5 %', '5 L', '4.50'],
  ['Soda ash', '2 kg', '6.80'],
  ['Cooking salt', '5 kg', '3.90', '', '44'],
  ['Dispersing agent', '250 g', '9.40', 'DA 12'],
];

const TABLE_SHELF = [
  ['Polyester thread 120, black', '5000 m', '6.20', '', '60'],
  ['Crin 25 mm', '3 × 6.5 m', '17.55'],
  ['Millinery wire, 1.2 mm', '20 m', '8.00'],
  ['Cotton lace, 30 mm, ecru', '50 m', '35.00'],
  ['Steel', '40 m', '31.00'],
  ['Brass hooks and bars, size 2', '48', '9.60'],
  ['Rotary blades, 45 mm', '5', '27.00'],
];
