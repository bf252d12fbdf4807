import { setSpare, spareForm } from '../server/buying/rules.ts';
import { addOffer, offerForm } from '../server/orders/offer/form.ts';
import { draftOrder, orderForm } from '../server/orders/order/form.ts';
import { addSupplier, SUPPLIER_FORM } from '../server/orders/supplier/form.ts';
import { setTerms, termsForm } from '../server/orders/supplier/terms-form.ts';
import { inspectionForm, inspectPiece } from '../server/shelf/inspection/form.ts';
import { readGradingRule } from '../server/shelf/inspection/store.ts';
import { readPieceId } from '../server/shelf/piece/facts.ts';
import { VOILE } from './great-skirt.ts';
import type { Hand } from './hand.ts';
import { pieceOf } from './table.ts';

/** A flawed piece is inspected, and prices are written down at the suppliers. */
export function lookAtPrices(hand: Hand): void {
  inspectGold(hand);
  askForPrices(hand);
  keepSpare(hand);
}

interface Asked {
  readonly cloth: string;
  readonly shade?: string;
  readonly article?: string;
  readonly price_per?: 'm' | 'yd';
  readonly step?: string;
  readonly least?: string;
  readonly from_on?: string;
  readonly bolts?: readonly { length: string; price: string }[];
  readonly prices?: readonly { length: string; price: string }[];
}

function askForPrices(hand: Hand): void {
  hand.fillsIn(
    hand.before(21, '09:10'),
    'Oda',
    { name: 'Skerry Silk and Net', lead_days: '12', note: 'Invented. Across the sea; whole bolts.' },
    { schema: () => SUPPLIER_FORM, write: addSupplier },
  );
  for (const [at, [supplier, terms]] of Object.entries(TERMS).entries()) {
    hand.fillsIn(hand.before(21, `09:${20 + at}`), 'Oda', terms, {
      schema: termsForm,
      write: (tx, form, asker) => setTerms(tx, Number(hand.id('supplier', supplier)), form, asker),
    });
  }
  for (const [at, [supplier, asked]] of offers(hand).entries())
    askForPrice(hand, hand.before(21, `10:${10 + at}`), supplier, asked);
}

/** The undyed cloth of the great skirt by the bolt. */
export function askForVoile(hand: Hand): void {
  askForPrice(hand, hand.before(20, '10:18'), 'Marram Net and Lawn', {
    cloth: VOILE,
    shade: 'Undyed white',
    article: 'invented V-1',
    bolts: [
      { length: '50', price: '165' },
      { length: '10', price: '36' },
    ],
  });
}

function askForPrice(hand: Hand, when: string, supplier: string, asked: Asked): void {
  const supplierId = Number(hand.id('supplier', supplier));
  const { cloth, shade, ...prices } = asked;
  const form = {
    price_per: 'm',
    ...prices,
    cloth_id: hand.id('cloth', cloth),
    shade_id: shade === undefined ? '' : hand.id('shade', shade),
  };
  hand.fillsIn(when, 'Oda', form, {
    schema: (asker) => offerForm(hand.book, supplierId, hand.day(0), asker),
    write: (tx, read, asker, typed) => addOffer(tx, supplierId, read, typed, asker),
  });
}

const TERMS = {
  'Copperlane Sheers': {
    currency: 'EUR',
    freight: '7.90',
    free_from: '120',
    tax: '19',
    tax_is: 'reclaimed',
    discount: '5',
    cut_fee: '1.50',
    least_order: '15',
    returns: 'Uncut bolts within 14 days; flaws are reported before the first cut.',
  },
  'Skerry Silk and Net': {
    currency: 'GBP',
    rate: '1.17',
    freight: '18.50',
    free_from: '400',
    tax: '0',
    least_line_length: '30 yd',
  },
  'Marram Net and Lawn': { currency: 'EUR', tax: '19' },
};

function offers(hand: Hand): readonly [supplier: string, asked: Asked][] {
  return [
    [
      'Copperlane Sheers',
      {
        cloth: 'Nylon organza 150',
        article: 'invented 4130',
        step: '10 cm',
        least: '50 cm',
        from_on: hand.day(-40),
        bolts: [{ length: '30', price: '165' }],
        prices: [{ length: '', price: '6.60' }],
      },
    ],
    [
      'Copperlane Sheers',
      {
        cloth: 'Nylon organza 150',
        article: 'invented 4130',
        step: '10 cm',
        least: '50 cm',
        from_on: hand.day(-8),
        bolts: [
          { length: '30', price: '171' },
          { length: '50', price: '270' },
        ],
        prices: [
          { length: '', price: '6.80' },
          { length: '10', price: '6.20' },
        ],
      },
    ],
    [
      'Copperlane Sheers',
      { cloth: 'Polyester organza 150', article: 'invented 4155', prices: [{ length: '', price: '4.60' }] },
    ],
    [
      'Skerry Silk and Net',
      {
        cloth: 'Nylon organza 150',
        article: 'invented S-9',
        bolts: [{ length: '40 yd', price: '148' }],
      },
    ],
    [
      'Skerry Silk and Net',
      {
        cloth: 'Polyester tulle 137',
        shade: 'Foam',
        article: 'invented T-2',
        bolts: [{ length: '40 yd', price: '52' }],
      },
    ],
    [
      'Marram Net and Lawn',
      {
        cloth: 'Polyester organza 150',
        price_per: 'yd',
        step: '1/8 yd',
        prices: [{ length: '', price: '3.95' }],
      },
    ],
  ];
}

function keepSpare(hand: Hand): void {
  const asked = { cloth_id: hand.id('cloth', 'Nylon organza 150'), spare: '5' };
  hand.fillsIn(hand.before(21, '11:05'), 'Oda', asked, {
    schema: () => spareForm(hand.book),
    write: setSpare,
  });
}

/** Two bolts from across the sea are drafted, in other money. */
export function draftBolts(hand: Hand): void {
  const asked = {
    supplier_id: hand.id('supplier', 'Skerry Silk and Net'),
    expected_on: hand.day(14),
    note: 'To the side door, please; the stairs are narrow.',
    price_per: 'yd',
    lines: [
      {
        cloth_id: hand.id('cloth', 'Nylon organza 150'),
        shade_id: hand.id('shade', 'Harbour ink'),
        bolts: '2',
        length: '40 yd',
        price: '148',
        lot: 'one',
      },
    ],
  };
  hand.fillsIn(hand.before(1, '09:30'), 'Oda', asked, {
    schema: (asker) => orderForm(hand.book, asker, hand.day(0), { supplier_id: asked.supplier_id }),
    write: draftOrder,
  });
}

/** A bolt that is shorter than its ticket says, with more flaws than pass. */
function inspectGold(hand: Hand): void {
  const pieceId = readPieceId(hand.book, pieceOf(hand, 'Polyester tulle 137', 'Lantern gold', 'T-44'));
  const asked = {
    marked: '12.5',
    length: '12.1',
    width: '137',
    swatch_area: '100',
    swatch_mass: '0.11',
    flaws: [
      { from: '3.2', length: '8', what: 'slub' },
      { from: '7.05', length: '1.5', hole: 'yes', left: '40', what: '' },
      { from: '9.4', length: '25', what: 'stain' },
    ],
    note: 'Looked over on the light table.',
  };
  hand.fillsIn(hand.before(21, '08:55'), 'Fenn', asked, {
    schema: inspectionForm,
    write: (tx, form, asker, typed) => inspectPiece(tx, pieceId, form, readGradingRule(tx), typed, asker),
  });
}
