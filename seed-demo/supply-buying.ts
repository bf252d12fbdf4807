import { addSupplyOffer, supplyOfferForm } from '../server/orders/offer/supply-form.ts';
import { draftOrder, orderForm } from '../server/orders/order/form.ts';
import { readOrder } from '../server/orders/order/queries.ts';
import { receiveForm } from '../server/orders/receive/form.ts';
import { receiveOrder } from '../server/orders/receive/verbs.ts';
import { addSupplier, SUPPLIER_FORM } from '../server/orders/supplier/form.ts';
import type { Hand } from './hand.ts';
import { send } from './orders.ts';

/** The invented suppliers of dyes, trims and notions, and what they ask. */
export function offerSupplies(hand: Hand): void {
  for (const [at, supplier] of SUPPLIERS.entries()) {
    hand.fillsIn(hand.before(20, `09:1${at}`), 'Oda', supplier, {
      schema: () => SUPPLIER_FORM,
      write: addSupplier,
    });
  }
  for (const [at, { supplier, supply, ...offer }] of OFFERS.entries()) {
    const supplierId = Number(hand.id('supplier', supplier));
    const typed = { ...offer, supply_id: hand.id('supply', supply) };
    hand.fillsIn(hand.before(20, `10:${10 + at}`), 'Oda', typed, {
      schema: (asker) => supplyOfferForm(hand.book, supplierId, hand.day(0), asker),
      write: (tx, form, asker, text) => addSupplyOffer(tx, supplierId, form, text, asker),
    });
  }
}

const SUPPLIERS = [
  { name: 'Ferrymead Dyes', lead_days: '4', note: 'Invented. Dyes and chemicals.' },
  { name: 'Pinlane Notions', lead_days: '3', note: 'Invented. Trims, notions, thread and small tools.' },
];

interface Offered {
  readonly supplier: string;
  readonly supply: string;
  readonly article?: string;
  readonly prices: readonly {
    readonly put_up: string;
    readonly amount: string;
    readonly price: string;
    readonly from?: string;
  }[];
}

const OFFERS: readonly Offered[] = [
  {
    supplier: 'Ferrymead Dyes',
    supply: 'Harbour blue A, tub',
    article: 'invented HB 1',
    prices: [
      { put_up: 'tub', amount: '100 g', price: '11.20' },
      { put_up: 'tub', amount: '500 g', price: '43.00' },
    ],
  },
  {
    supplier: 'Ferrymead Dyes',
    supply: 'Flare orange D, tub',
    prices: [{ put_up: 'tub', amount: '250 g', price: '28.00' }],
  },
  {
    supplier: 'Ferrymead Dyes',
    supply: 'Dispersing agent',
    article: 'invented DA',
    prices: [
      { put_up: 'bottle', amount: '250 g', price: '9.40' },
      { put_up: 'bottle', amount: '1 kg', price: '24.00' },
    ],
  },
  {
    supplier: 'Pinlane Notions',
    supply: 'Brass hooks and bars, size 2',
    article: 'invented 52',
    prices: [
      { put_up: 'box', amount: '50', price: '9.80' },
      { put_up: 'box', amount: '50', price: '8.50', from: '5' },
      { put_up: 'card', amount: '12', price: '2.90' },
    ],
  },
  {
    supplier: 'Pinlane Notions',
    supply: 'Crin 25 mm',
    prices: [{ put_up: 'reel', amount: '25 m', price: '21.50' }],
  },
  {
    supplier: 'Pinlane Notions',
    supply: 'Steel',
    prices: [
      { put_up: '', amount: '1 m', price: '0.85' },
      { put_up: 'coil', amount: '50 m', price: '36.00' },
    ],
  },
  {
    supplier: 'Pinlane Notions',
    supply: 'Polyester thread 120, black',
    prices: [{ put_up: 'cone', amount: '5000 m', price: '6.40' }],
  },
];

/** What was ordered of them, of two suppliers. Gives the code of the order of dyes. */
export function orderSupplies(hand: Hand): string {
  const dyes = order(hand, hand.before(2, '16:24'), 'Ferrymead Dyes', hand.day(1), [
    ['Harbour blue A, tub', '1', 'tub', '500 g', '43.00'],
    ['Flare orange D, tub', '2', 'tub', '250 g', '28.00'],
  ]);
  send(hand, hand.before(2, '16:25'), 'Oda', dyes);
  const notions = order(hand, hand.before(2, '16:27'), 'Pinlane Notions', hand.day(2), [
    ['Brass hooks and bars, size 2', '5', 'box', '50', '8.50'],
    ['Crin 25 mm', '1', 'reel', '25 m', '21.50'],
    ['Polyester thread 120, black', '2', 'cone', '5000 m', '6.40'],
  ]);
  send(hand, hand.before(2, '16:28'), 'Oda', notions);
  return dyes;
}

/** Some of the dyes came, and the rest is awaited. */
export function receiveDyes(hand: Hand, dyes: string): void {
  const { supplies } = readOrder(hand.book, dyes);
  const [blue] = supplies;
  hand.fillsIn(
    hand.before(1, '10:05'),
    'Oda',
    {
      note: 'Invented delivery note. The flare orange follows.',
      supplies: [{ line_id: String(blue?.id ?? ''), put_ups: '1', lot: 'H-231' }],
    },
    {
      schema: (asker) => receiveForm(hand.book, asker, readOrder(hand.book, dyes)),
      write: (tx, form, asker) => receiveOrder(tx, dyes, form, asker),
    },
  );
}

type Line = [supply: string, count: string, putUp: string, holds: string, price: string];

function order(hand: Hand, when: string, supplier: string, expected: string, lines: readonly Line[]): string {
  const asked = {
    supplier_id: hand.id('supplier', supplier),
    expected_on: expected,
    price_per: 'm',
    supplies: lines.map(([supply, count, putUp, holds, price]) => ({
      supply_id: hand.id('supply', supply),
      put_ups: count,
      put_up: putUp,
      amount: holds,
      price,
    })),
  };
  const key = hand.fillsIn(when, 'Oda', asked, {
    schema: (asker) => orderForm(hand.book, asker, hand.day(0)),
    write: draftOrder,
  });
  return hand.book.answerOf(key)?.location.split('/').at(-1) ?? '';
}
