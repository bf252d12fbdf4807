import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { enterSupply } from './rows-of-supplies.ts';
import { seal } from './scene.ts';
import { insert, type Row } from './sql.ts';

const NOT_KEPT = /what a count took off another length/;
const NOT_WHOLE = /goes back onto its reel whole/;
const NOWHERE = 999_999;
/** The first number that an attack's entries get; see SPLIT_WORK. */
const NEXT = 33;

/** What single lengths of a supply refuse. */
export const ATTACKS_ON_SUPPLY_LENGTHS: readonly Attack[] = [
  split('off nothing', {}, { split_of_id: NOWHERE }),
  split('off what was written off', { kind: 'written-off' }),
  split('off a count of before', {}, { split_of_id: 26 }),
  split('of another length', {}, { amount: 99 }),
  split('of another cost', {}, { cost_minor: 9 }),
  split('of another supply', {}, { supply_lot_id: 11 }),
  split(
    'of what is counted',
    { supply_lot_id: 2, amount: -10, cost_minor: 0 },
    { supply_lot_id: 3, amount: 10, cost_minor: 0 },
  ),
  split('that was there', { cost_minor: 0 }, { kind: 'counted', supply_lot_id: 7, cost_minor: 0 }),
  split('of a delivery', {}, { receipt_id: 1 }),
  attack('kept twice', [off({}), part({}), part({ supply_lot_id: 10 }), seal()], /UNIQUE/),
  attack(
    'off an entry that is not there',
    ['DROP TRIGGER supply_entry_splits_a_length', part({ split_of_id: NOWHERE }), seal()],
    /FOREIGN KEY constraint failed/,
  ),
  attack(
    'undone without its reel',
    [back({ supply_lot_id: 7, amount: -300, cost_minor: -30, reverses_id: 28 }), seal()],
    NOT_WHOLE,
  ),
  attack(
    'undone on its reel alone',
    [back({ supply_lot_id: 6, amount: 300, cost_minor: 30, reverses_id: 27 }), seal()],
    NOT_WHOLE,
  ),
];

/** A length of 100 off lot 6, kept as lot 9, where one thing is otherwise. */
function split(what: string, taken: Row, kept: Row = {}): Attack {
  return attack(what, [off(taken), part(kept), seal()], NOT_KEPT);
}

function off({ kind = 'counted', ...row }: Row): string {
  return enterSupply(String(kind), { supply_lot_id: 6, amount: -100, cost_minor: -10, ...row });
}

function part({ kind = 'received', ...row }: Row): string {
  const kept = { supply_lot_id: 9, amount: 100, cost_minor: 10, split_of_id: NEXT };
  return enterSupply(String(kind), { ...kept, ...row });
}

function back(row: Row): string {
  return enterSupply('reversed', row);
}

function attack(what: string, statements: readonly string[], refused: RegExp): Attack {
  return {
    name: `supply_entry: a length cut off and kept, ${what}`,
    table: 'supply_entry',
    statements,
    refused,
  };
}

const COST = 'supply_received_cost';
const CHECK = /CHECK constraint failed/;
const UNSUMMED = 'DROP TRIGGER supply_received_cost_adds_up';

/** What the parts of a supply's cost refuse: entry 1 came for 101, entry 10 for 50, entry 11 is a hold. */
export const ATTACKS_ON_SUPPLY_COSTS: readonly Attack[] = [
  ...[
    ['come to less', { goods_minor: 79 }],
    ['come to more, though the tax is reclaimed', { goods_minor: 81, reclaimed_minor: 6 }],
    ['leave freight out', { goods_minor: 91, freight_minor: 11 }],
    ['leave tax out', { goods_minor: 91, tax_minor: 12 }],
    ['are of another', { supply_entry_id: 10 }],
    ['are of a hold', { supply_entry_id: 11, goods_minor: 0, freight_minor: 0, tax_minor: 0 }],
  ].map(([what, row]) => costed(String(what), put(COST, row as Row), /add up to what came/)),
  ...['goods_minor', 'freight_minor', 'tax_minor'].flatMap((part) => [
    costed(`${part} of nothing`, [UNSUMMED, ...put(COST, { [part]: null })], /NOT NULL/),
    costed(`${part} below nothing`, [UNSUMMED, ...put(COST, { [part]: -1 })], CHECK),
    costed(`${part} too much`, [UNSUMMED, ...put(COST, { [part]: 1_000_000_000_001 })], CHECK),
  ]),
  costed('are of nothing that came', [UNSUMMED, ...put(COST, { supply_entry_id: NOWHERE })], /FOREIGN KEY/),
  costed('change', [...put(COST), `UPDATE ${COST} SET tax_minor = 1`], /never changed/),
  costed('go', [...put(COST), `DELETE FROM ${COST}`], /stay in the book/),
  costed(
    'are replaced',
    [...put(COST), insert(COST, { ...LAWFUL[COST] }, 'INSERT OR REPLACE')],
    /never replaced/,
  ),
];

function costed(what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${COST}: parts that ${what}`, table: COST, statements, refused };
}
