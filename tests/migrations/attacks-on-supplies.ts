import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { enterSupply } from './rows-of-supplies.ts';
import { seal } from './scene.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const NO_MORE = /gives no more than it has/;
const NOT_OPPOSITE = /exact opposite of its entry of a supply/;
const BEGINS = /begins with the one entry that it was received by/;
const FOREIGN = /FOREIGN KEY constraint failed/;
const NOWHERE = 999_999;
const UNGUARDED = 'DROP TRIGGER supply_entry_leaves_balance_standing';
const UNSEALED = 'DROP TRIGGER request_of_its_supply_entries';
const SPARE_LOT = 3;

// Of lot 1 there are 895 for 90, of lot 2 there are 40 for nothing; see SUPPLY_WORK.

/** What supplies, their lots and their ledger refuse. */
export const ATTACKS_ON_SUPPLIES: readonly Attack[] = [
  told('supply', 'a number below one', put('supply', { id: 0 }), CHECK),
  told('supply', 'its removal', ['DELETE FROM supply WHERE id = 3'], /put away, never removed/),
  told('supply', 'another in its place', [again('supply', { id: 3 })], /a supply is never replaced/),
  told('supply', 'another by its name', [again('supply', { name: 'Lace' })], /a supply is never replaced/),
  told('supply', 'the name of another', ["UPDATE supply SET name = 'Lace' WHERE id = 1"], /UNIQUE/),
  told('supply', 'a chemical without its form', put('supply', { auxiliary_form: null }), CHECK),
  told('supply', 'a dye and a chemical', put('supply', { dye_id: 1 }), CHECK),
  told(
    'supply',
    'no such dye',
    put('supply', { dye_id: NOWHERE, auxiliary_kind: null, auxiliary_form: null }),
    FOREIGN,
  ),
  told('supply', 'another measure', ["UPDATE supply SET measure = 'count' WHERE id = 1"], /keeps what its/),

  told('supply_lot', 'a number below one', put('supply_lot', { id: 0 }), CHECK),
  told('supply_lot', 'an amount from the start', put('supply_lot', { on_hand: 5 }), /starts empty/),
  told('supply_lot', 'a cost from the start', put('supply_lot', { cost_minor: 5 }), CHECK),
  told('supply_lot', 'no balance', put('supply_lot', { on_hand: null }), /NOT NULL/),
  told('supply_lot', 'no cost', put('supply_lot', { cost_minor: null }), /NOT NULL/),
  told('supply_lot', 'another in its place', [again('supply_lot', { id: SPARE_LOT })], /never replaced/),
  told('supply_lot', 'its removal', [`DELETE FROM supply_lot WHERE id = ${SPARE_LOT}`], /never removed/),
  told('supply_lot', 'another number', ['UPDATE supply_lot SET id = 99 WHERE id = 3'], /keeps its number/),
  told('supply_lot', 'another supply', ['UPDATE supply_lot SET supply_id = 1 WHERE id = 3'], /keeps its/),
  told('supply_lot', 'more by hand', ['UPDATE supply_lot SET on_hand = 900 WHERE id = 1'], /is the sum of/),
  told('supply_lot', 'a cost by hand', ['UPDATE supply_lot SET cost_minor = 91 WHERE id = 1'], /the sum of/),

  entry('a change', ["UPDATE supply_entry SET why = 'x' WHERE id = 7"], /never changed/),
  entry('its removal', ['DELETE FROM supply_entry WHERE id = 7'], /never removed/),
  entered('a number below one', 'counted', { id: 0, amount: 1 }, CHECK),
  entered('another in its place', 'counted', { id: 7, amount: 1 }, /never replaced/, 'INSERT OR REPLACE'),
  entry('no request', [enterSupply('counted', { amount: 1 })], FOREIGN),
  entered('a request of before', 'counted', { amount: 1, request_key: 'request-s1' }, /no more entries/),
  entry('another person', [enterSupply('counted', { amount: 1, person_id: 2 }), seal()], /of their person/),
  entry(
    'another instant',
    [enterSupply('counted', { amount: 1, at: '2026-03-02T13:00:00.000Z' }), seal()],
    /of their person/,
  ),
  entry('nobody', [UNSEALED, enterSupply('counted', { amount: 1, person_id: NOWHERE }), seal()], FOREIGN),
  entry('no instant', [UNSEALED, enterSupply('counted', { amount: 1, at: 'yesterday' }), seal()], CHECK),
  ...[{ person_id: null }, { at: null }].map((nothing) =>
    entry(
      `${Object.keys(nothing)} of nothing`,
      [UNSEALED, enterSupply('counted', { amount: 1, ...nothing }), seal()],
      /NOT NULL/,
    ),
  ),
  entered('a second receipt', 'received', { amount: 1 }, BEGINS),
  entered('a beginning with a count', 'counted', { supply_lot_id: SPARE_LOT, amount: 1 }, BEGINS),
  entered('no lot', 'received', { supply_lot_id: null, amount: 1 }, /NOT NULL/),
  entered('a lot that is not there', 'received', { supply_lot_id: NOWHERE, amount: 1 }, FOREIGN),

  ...[
    ['more than there is', { amount: -896, cost_minor: -90 }],
    ['more cost than it has', { amount: -5, cost_minor: -91 }],
    ['the last of it without its cost', { amount: -895, cost_minor: -89 }],
  ].flatMap(([what, more]) => [
    entered(String(what), 'used', more as Row, NO_MORE),
    {
      ...entry(`${what}, OR IGNORE`, [enterSupply('used', more as Row, 'INSERT OR IGNORE')], NO_MORE),
      stubborn: true,
    },
    entry(`${what}, unguarded`, [UNGUARDED, enterSupply('used', more as Row), seal()], CHECK),
  ]),
  entry(
    'no amount',
    ['DROP TRIGGER supply_entry_moves_balance', enterSupply('counted', { amount: null }), seal()],
    /NOT NULL/,
  ),
  entry(
    'a cost of nothing',
    [
      'DROP TRIGGER supply_entry_moves_balance',
      enterSupply('counted', { amount: 1, cost_minor: null }),
      seal(),
    ],
    /NOT NULL/,
  ),
  entered('too much', 'received', { supply_lot_id: SPARE_LOT, amount: 1_000_000_000_001 }, CHECK),
  entered(
    'too dear',
    'received',
    { supply_lot_id: SPARE_LOT, amount: 1, cost_minor: 1_000_000_000_001 },
    CHECK,
  ),
  entered('a receipt of nothing', 'received', { supply_lot_id: SPARE_LOT, amount: 0 }, CHECK),
  entered('a use that gives', 'used', { amount: 1 }, CHECK),
  entered('a use that costs', 'used', { amount: -1, cost_minor: 1 }, CHECK),
  entered('a count of no difference', 'counted', { amount: 0 }, CHECK),
  entered('a count that costs', 'counted', { amount: 1, cost_minor: 1 }, CHECK),
  entered('a write-off that gives', 'written-off', { amount: 1 }, CHECK),
  entered('a write-off that costs', 'written-off', { amount: -1, cost_minor: 1 }, CHECK),
  entered('another kind', 'lost', { amount: -1 }, CHECK),
  entered('a count that undoes', 'counted', { amount: 5, reverses_id: 3 }, CHECK),
  entered('a count for a garment', 'counted', { amount: 5, garment_id: 1 }, CHECK),
  entered('a count for the pot', 'counted', { amount: 5, batch_log_id: 1 }, CHECK),

  ...[
    ['of another amount', { amount: 99 }],
    ['of another cost', { cost_minor: 9 }],
    ['of another lot', { supply_lot_id: 2 }],
    ['without what was weighed', { batch_log_id: null }],
    ['for a garment', { garment_id: 1 }],
    ['of another entry', { reverses_id: 3 }],
    ['of nothing', { reverses_id: null }],
    ['of a reversal', { reverses_id: 5, amount: -10, cost_minor: -1, batch_log_id: null }],
  ].map(([what, changed]) =>
    entered(`a reversal ${what}`, 'reversed', { ...opposite(), ...(changed as Row) }, NOT_OPPOSITE),
  ),
  entered('a second reversal', 'reversed', { amount: 10, cost_minor: 1, reverses_id: 4 }, /UNIQUE/),
  entry(
    'a reversal of what is not there',
    [
      'DROP TRIGGER supply_entry_reverses_exactly',
      enterSupply('reversed', { amount: 1, reverses_id: NOWHERE }),
      seal(),
    ],
    FOREIGN,
  ),
  told(
    'workroom',
    'another currency while supplies have a price',
    [
      'DROP TRIGGER workroom_keeps_its_currency',
      'DROP TRIGGER workroom_keeps_its_prices',
      "UPDATE workroom SET currency = 'EUR'",
    ],
    /once a supply has a price/,
  ),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function entry(what: string, statements: readonly string[], refused: RegExp): Attack {
  return told('supply_entry', what, statements, refused);
}

/** One entry and its request. */
function entered(what: string, kind: string, row: Row, refused: RegExp, verb = 'INSERT'): Attack {
  return entry(what, [enterSupply(kind, row, verb), seal()], refused);
}

function again(table: string, key: Row): string {
  return insert(table, { ...LAWFUL[table], ...key }, 'INSERT OR REPLACE');
}

/** The opposite of entry 2. */
function opposite(): Row {
  return { amount: 100, cost_minor: 10, batch_log_id: 1, reverses_id: 2 };
}
