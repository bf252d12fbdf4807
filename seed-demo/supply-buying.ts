import { addSupplyOffer, supplyOfferForm } from '../server/orders/offer/supply-form.ts';
import { addSupplier, SUPPLIER_FORM } from '../server/orders/supplier/form.ts';
import type { Hand } from './hand.ts';

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
