import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { enterSupply } from './rows-of-supplies.ts';
import { seal } from './scene.ts';
import type { Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const FOREIGN = /FOREIGN KEY constraint failed/;
const NO_MORE = /gives no more than it has free/;
const HOLDS_NO_MORE = /gives no more of a supply than it holds/;
const HOLD_SUM = /a hold of a supply is the sum of its entries/;
const NOT_OPPOSITE = /exact opposite of its entry of a supply/;
const OF_ITS_LINE = /the supply that its line asked for/;
const NOWHERE = 999_999;
const SPARE_LOT = 3;
const UNGUARDED = 'DROP TRIGGER supply_entry_leaves_balance_standing';
const HELD_UNGUARDED = 'DROP TRIGGER supply_entry_leaves_hold_standing';
const UNMOVED = 'DROP TRIGGER supply_entry_moves_hold';
const UNPROVED = 'DROP TRIGGER supply_hold_put_follows_entries';

// Of lot 5 there are 88 for 44; garment 1 holds 15 of them and garment 2 holds 20; see SUPPLY_WORK. Line 1 asks for its
// supply, line 2 for another.

/** What is offered, ordered and held of supplies refuses. */
export const ATTACKS_ON_SUPPLY_ORDERS: readonly Attack[] = [
  told('supply_offer', 'a change', ['UPDATE supply_offer SET withdrawn = 1'], /newer one, not changed/),
  told(
    'supply_offer',
    'its removal',
    [...put('supply_offer'), 'DELETE FROM supply_offer WHERE id = 3'],
    /stays/,
  ),
  told('supply_offer_price', 'a change', ['UPDATE supply_offer_price SET price_minor = 1'], /not changed/),
  told('supply_offer_price', 'its removal', ['DELETE FROM supply_offer_price'], /a price of a supply stays/),
  told(
    'workroom',
    'another currency while a supply is ordered at a price',
    [
      ...put('supply_order_line'),
      'DROP TRIGGER workroom_keeps_its_currency',
      'DROP TRIGGER workroom_keeps_its_prices',
      'DROP TRIGGER workroom_keeps_currency_of_supplies',
      "UPDATE workroom SET currency = 'EUR'",
    ],
    /once a supply is ordered at a price/,
  ),

  told('supply_lot', 'a hold from the start', put('supply_lot', { held: 5 }), CHECK),
  told('supply_lot', 'a hold of nothing told', put('supply_lot', { held: null }), /NOT NULL/),
  told('supply_lot', 'less held by hand', ['UPDATE supply_lot SET held = 34 WHERE id = 5'], /is the sum of/),

  told('supply_hold', 'less by hand', ['UPDATE supply_hold SET held = 14 WHERE garment_id = 1'], HOLD_SUM),
  told('supply_hold', 'one without an entry', [hold(SPARE_LOT, 1, 5)], HOLD_SUM),
  told('supply_hold', 'one of nothing', [hold(SPARE_LOT, 1, 0)], CHECK),
  told('supply_hold', 'one of NULL', [hold(SPARE_LOT, 1, null)], /NOT NULL/),
  told('supply_hold', 'one of no lot', [UNPROVED, hold(null, 1, 5)], /NOT NULL/),
  told('supply_hold', 'one of no garment', [UNPROVED, hold(SPARE_LOT, null, 5)], /NOT NULL/),
  told('supply_hold', 'half a piece', [UNPROVED, hold(SPARE_LOT, 1, 1.5)], /cannot store REAL value/),
  told('supply_hold', 'no such lot', [UNPROVED, hold(NOWHERE, 1, 5)], FOREIGN),
  told('supply_hold', 'no such garment', [UNPROVED, hold(5, NOWHERE, 5)], FOREIGN),
  told('supply_hold', 'another in its place', [hold(5, 1, 999, 'INSERT OR REPLACE')], HOLD_SUM),
  told('supply_hold', 'a second one', [UNPROVED, hold(5, 1, 15)], /UNIQUE/),
  told('supply_hold', 'its removal', ['DELETE FROM supply_hold WHERE garment_id = 1'], HOLD_SUM),
  ...['UPDATE', 'UPDATE OR REPLACE'].flatMap((verb) => [
    // Both garments hold 15 then, so that no sum tells them apart.
    told(
      'supply_hold',
      `another garment, by ${verb}`,
      [
        enterSupply('released', { supply_lot_id: 5, held: -5, garment_id: 2 }),
        seal(),
        `${verb} supply_hold SET garment_id = 3 - garment_id WHERE supply_lot_id = 5 AND garment_id = 1`,
      ],
      /a hold of a supply is the sum of its entries|UNIQUE/,
    ),
    told(
      'supply_hold',
      `another lot, by ${verb}`,
      [
        enterSupply('held', { supply_lot_id: 2, held: 15, garment_id: 1 }),
        seal(),
        `${verb} supply_hold SET supply_lot_id = 2 WHERE supply_lot_id = 5 AND garment_id = 1`,
      ],
      /a hold of a supply is the sum of its entries|UNIQUE/,
    ),
  ]),

  ...[
    ['a hold of more than is free', 'held', { held: 54, garment_id: 1 }],
    ['a use of what others hold', 'used', { amount: -54, cost_minor: -27, garment_id: 1 }],
  ].flatMap(([what, kind, row]) => [
    of5(String(what), String(kind), row as Row, NO_MORE),
    of5(`${what}, unguarded`, String(kind), row as Row, CHECK, [UNGUARDED]),
  ]),
  of5('a release of more than is held', 'released', { held: -16, garment_id: 1 }, HOLDS_NO_MORE),
  told(
    'supply_entry',
    'a release of what another garment holds',
    [...put('garment'), enterSupply('released', { supply_lot_id: 5, held: -1, garment_id: 3 }), seal()],
    HOLDS_NO_MORE,
  ),
  of5('a use of nothing', 'used', { garment_id: 1 }, CHECK),
  of5('a use of more than is held', 'used', { amount: -16, held: -16, garment_id: 1 }, HOLDS_NO_MORE),
  of5('a release of another lot', 'released', { supply_lot_id: 1, held: -1, garment_id: 1 }, HOLDS_NO_MORE),
  of5('a release of more, unguarded', 'released', { held: -16, garment_id: 1 }, CHECK, [HELD_UNGUARDED]),
  of5('a release of more than all hold', 'released', { held: -36, garment_id: 1 }, CHECK, [
    HELD_UNGUARDED,
    UNMOVED,
  ]),
  of5('a hold for no garment', 'held', { held: 1 }, CHECK, [UNMOVED]),
  of5('no hold told', 'held', { held: null, garment_id: 1 }, /NOT NULL/, [
    'DROP TRIGGER supply_entry_moves_balance',
  ]),
  of5(
    'a receipt that holds',
    'received',
    { supply_lot_id: SPARE_LOT, amount: 5, held: 1, garment_id: 1 },
    CHECK,
  ),
  of5('a use that holds', 'used', { amount: -1, held: 1, garment_id: 1 }, CHECK),
  of5('a use of less than it releases', 'used', { amount: -1, held: -2, garment_id: 1 }, CHECK),
  of5('a hold of an amount', 'held', { amount: 1, held: 1, garment_id: 1 }, CHECK),
  of5('a hold of nothing', 'held', { garment_id: 1 }, CHECK),
  of5('a hold that costs', 'held', { held: 1, cost_minor: -1, garment_id: 1 }, CHECK),
  of5('a release of an amount', 'released', { amount: -1, held: -1, garment_id: 1 }, CHECK),
  of5('a release of nothing', 'released', { garment_id: 1 }, CHECK),
  of5('a release that costs', 'released', { held: -1, cost_minor: -1, garment_id: 1 }, CHECK),
  of5('a hold for the pot', 'held', { held: 1, garment_id: 1, batch_log_id: 1 }, CHECK),
  ...['counted', 'written-off'].map((kind) =>
    of5(`what is ${kind} and released`, kind, { amount: -1, held: -1 }, CHECK, [UNMOVED, HELD_UNGUARDED]),
  ),
  of5('a reversal of another hold', 'reversed', { held: 31, garment_id: 1, reverses_id: 11 }, NOT_OPPOSITE),

  of5('a count of a delivery', 'counted', { amount: 1, receipt_id: 1 }, CHECK),
  came('no such delivery', { receipt_id: NOWHERE }, FOREIGN),
  came('a line without a delivery', { receipt_id: null }, OF_ITS_LINE),
  came('a line without a delivery, unguarded', { receipt_id: null }, CHECK, true),
  came('a delivery of another order', { receipt_id: 3 }, OF_ITS_LINE),
  came('another supply than was ordered', { order_line_id: 2 }, OF_ITS_LINE),
  came('no such line', { order_line_id: NOWHERE }, OF_ITS_LINE),
  came('no such line, unguarded', { order_line_id: NOWHERE }, FOREIGN, true),
  told(
    'supply_order_line',
    'its removal once it was delivered',
    ['DELETE FROM supply_order_line WHERE id = 1'],
    FOREIGN,
  ),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function hold(lotId: number | null, garmentId: number | null, held: number | null, verb = 'INSERT'): string {
  return `${verb} INTO supply_hold (supply_lot_id, garment_id, held) VALUES (${lotId}, ${garmentId}, ${held})`;
}

/** An entry of lot 5 and its request. */
function of5(what: string, kind: string, row: Row, refused: RegExp, first: readonly string[] = []): Attack {
  return told(
    'supply_entry',
    what,
    [...first, enterSupply(kind, { supply_lot_id: 5, ...row }), seal()],
    refused,
  );
}

/** Hooks that came of line 1 in its delivery, but for what is said. */
function came(what: string, row: Row, refused: RegExp, isUnguarded = false): Attack {
  const line = 'order_line_id' in row || refused !== FOREIGN ? { order_line_id: 1 } : {};
  const hooks = { supply_lot_id: SPARE_LOT, amount: 5, receipt_id: 1, ...line, ...row };
  return told(
    'supply_entry',
    what,
    [
      ...(isUnguarded ? ['DROP TRIGGER supply_entry_of_its_line'] : []),
      ...put('receipt', { id: 3, order_id: null }),
      enterSupply('received', hooks),
      seal(),
    ],
    refused,
  );
}
