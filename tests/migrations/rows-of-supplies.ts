import { insert, type Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** Lawful rows of supplies, of their lots and of their ledger. */
export const SUPPLY_ROWS: Readonly<Record<string, Row>> = {
  supply: {
    name: 'Citric acid',
    kind: 'chemical',
    measure: 'mass',
    note: '',
    least: 500_000,
    place_id: 1,
    supplier_id: 1,
    dye_id: null,
    auxiliary_kind: 'citric-acid',
    auxiliary_form: 'monohydrate',
    typed: '{}',
    gone_at: AT,
  },
  supply_lot: { supply_id: 1, lot: '4471', supplier_id: 1, opened_on: '2026-03-01' },
  supply_entry: {
    supply_lot_id: 1,
    kind: 'used',
    amount: -5,
    cost_minor: -1,
    at: AT,
    person_id: 1,
    why: '',
    typed: '5 mg',
    request_key: 'request-new',
    garment_id: 1,
    batch_log_id: 1,
    receipt_id: null,
    order_line_id: null,
    reverses_id: null,
    held: 0,
    split_of_id: null,
  },
  // The first entry is a lot that came for 101.
  supply_received_cost: {
    supply_entry_id: 1,
    goods_minor: 80,
    freight_minor: 10,
    tax_minor: 11,
    reclaimed_minor: 5,
  },
  supply_offer: {
    supplier_id: 1,
    supply_id: 2,
    article: 'HB 2',
    lead_days: 5,
    from_on: '2026-03-01',
    currency: 'USD',
    withdrawn: 0,
    typed: '{}',
    at: AT,
    person_id: 1,
  },
  supply_offer_price: { offer_id: 1, amount: 50, from_count: 10, put_up: 'box', price_minor: 500 },
  supply_order_line: {
    order_id: 1,
    supply_id: 2,
    offer_id: 1,
    put_ups: 2,
    put_up: 'box',
    amount: 50,
    price_minor: 500,
    typed: '{}',
  },
};

/** A statement that puts an entry in the ledger of supplies; what is not said of it is nothing. */
export function enterSupply(kind: string, entry: Row, verb = 'INSERT'): string {
  const nothing = {
    supply_lot_id: 1,
    amount: 0,
    cost_minor: 0,
    at: AT,
    person_id: 1,
    request_key: 'request-new',
  };
  return insert('supply_entry', { ...nothing, kind, ...entry }, verb);
}

/**
 * Supplies of the scene: 1 is a dye in grams with lots 1 and 4, 2 are hooks in pieces with lot 2 and the empty lot 3, 3 has no
 * lot and changed what its amounts count. Lot 5 of hooks is of an order. Lots 6 to 10 are lengths of 4, a ribbon, and lot 11
 * one of 5, a cord; 9, 10 and 11 are empty.
 */
export const SUPPLIES: readonly string[] = [
  insert('supply', { name: 'Red', kind: 'dye', measure: 'mass', dye_id: 1 }),
  insert('supply', { name: 'Hooks', kind: 'notion', measure: 'count' }),
  insert('supply', { name: 'Lace', kind: 'trim', measure: 'count' }),
  "UPDATE supply SET measure = 'length' WHERE id = 3",
  insert('supply_lot', { supply_id: 1, lot: '4471' }),
  insert('supply_lot', { supply_id: 2 }),
  insert('supply_lot', { supply_id: 2 }),
  insert('supply_lot', { supply_id: 1, lot: '4472' }),
  "UPDATE supply SET name = 'Acid red', measure = 'mass' WHERE id = 1",
  insert('garment', { code: 'G8', name: 'Coat' }),
  // Lot 5 is of hooks that were ordered; the order and the delivery are those of the scene.
  insert('supply_lot', { supply_id: 2, lot: 'H 5' }),
  insert('supply', { name: 'Ribbon', kind: 'trim', measure: 'length' }),
  ...[6, 7, 8, 9, 10].map(() => insert('supply_lot', { supply_id: 4, lot: 'R 1' })),
  insert('supply', { name: 'Cord', kind: 'trim', measure: 'length' }),
  insert('supply_lot', { supply_id: 5 }),
  insert('supply_offer', { ...SUPPLY_ROWS.supply_offer }),
  insert('supply_offer', { ...SUPPLY_ROWS.supply_offer }),
  ...[
    { offer_id: 1, amount: 50, from_count: 1 },
    { offer_id: 1, amount: 50, from_count: 20 },
    { offer_id: 1, amount: 100, from_count: 1 },
    { offer_id: 2, amount: 50, from_count: 1 },
  ].map((price) => insert('supply_offer_price', { ...price, put_up: 'box', price_minor: 600 })),
  // A supply that is ordered at no price leaves the currency to be changed.
  insert('supply_order_line', { ...SUPPLY_ROWS.supply_order_line, price_minor: null }),
  insert('supply_order_line', { ...SUPPLY_ROWS.supply_order_line, supply_id: 1, price_minor: null }),
];

/** The second maker, an hour later. */
export const SECOND = { person_id: 2, at: '2026-03-02T13:00:00.000Z' };

/**
 * What was entered of them, a request each. Of lot 1 there are 895 for 90, of lot 2 there are 40 for nothing, of lot 4 all
 * was used. Entry 2 was weighed, 4 was undone by 5, 7 was used for a garment. Of lot 5 there are 88 for 44; garment 1 holds 15
 * of them and garment 2 holds 20.
 */
export const SUPPLY_WORK: readonly (readonly [kind: string, entry: Row])[] = [
  ['received', { amount: 1000, cost_minor: 101 }],
  ['used', { amount: -100, cost_minor: -10, batch_log_id: 1 }],
  ['counted', { amount: -5, cost_minor: -1 }],
  ['written-off', { amount: -10, cost_minor: -1 }],
  ['reversed', { amount: 10, cost_minor: 1, reverses_id: 4 }],
  ['received', { supply_lot_id: 2, amount: 50 }],
  ['used', { supply_lot_id: 2, amount: -10, garment_id: 1 }],
  ['received', { supply_lot_id: 4, amount: 20, cost_minor: 20 }],
  ['used', { supply_lot_id: 4, amount: -20, cost_minor: -20, ...SECOND }],
  ['received', { supply_lot_id: 5, amount: 100, cost_minor: 50, receipt_id: 1, order_line_id: 1 }],
  ['held', { supply_lot_id: 5, held: 30, garment_id: 1 }],
  ['held', { supply_lot_id: 5, held: 20, garment_id: 2 }],
  ['released', { supply_lot_id: 5, held: -5, garment_id: 1 }],
  ['used', { supply_lot_id: 5, amount: -12, held: -10, cost_minor: -6, garment_id: 1 }],
  ['held', { supply_lot_id: 5, held: 8, garment_id: 1 }],
  ['reversed', { supply_lot_id: 5, held: -8, garment_id: 1, reverses_id: 15 }],
  ['held', { supply_lot_id: 1, held: 9, garment_id: 1 }],
  ['held', { supply_lot_id: 1, held: 4, garment_id: 2 }],
  ['released', { supply_lot_id: 1, held: -9, garment_id: 1 }],
  ['released', { supply_lot_id: 1, held: -4, garment_id: 2 }],
  ['held', { supply_lot_id: 1, held: 40, garment_id: 1 }],
  ['held', { supply_lot_id: 5, held: 2, garment_id: 1 }],
  ['released', { supply_lot_id: 5, held: -2, garment_id: 1 }],
  ['released', { supply_lot_id: 1, held: -40, garment_id: 1, batch_log_id: 1 }],
];

/**
 * What was cut off lengths of the ribbon and kept, a request each, after all of SUPPLY_WORK: entries 27 and 28 are a length
 * of 300 that is lot 7 now; 29 and 30 another, which 31 and 32 took back. Of lot 6 there are 600 for 60.
 */
export const SPLIT_WORK: readonly (readonly (readonly [kind: string, entry: Row])[])[] = [
  [['received', { supply_lot_id: 6, amount: 1000, cost_minor: 100 }]],
  [['counted', { supply_lot_id: 6, amount: -100, cost_minor: -10 }]],
  [
    ['counted', { supply_lot_id: 6, amount: -300, cost_minor: -30 }],
    ['received', { supply_lot_id: 7, amount: 300, cost_minor: 30, split_of_id: 27 }],
  ],
  [
    ['counted', { supply_lot_id: 6, amount: -200, cost_minor: -20 }],
    ['received', { supply_lot_id: 8, amount: 200, cost_minor: 20, split_of_id: 29 }],
  ],
  [
    ['reversed', { supply_lot_id: 8, amount: -200, cost_minor: -20, reverses_id: 30 }],
    ['reversed', { supply_lot_id: 6, amount: 200, cost_minor: 20, reverses_id: 29 }],
  ],
];
