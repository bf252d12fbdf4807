import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const AMOUNT = put('batch_amount');

/** What is in the workroom's currency, beside the ledger and the lines of orders. */
const PRICES: readonly (readonly [table: string, what: string, ...statements: string[]])[] = [
  ['dye', 'dyes have'],
  ['supplier_terms', 'terms have'],
  ['offer_price', 'offers have', ...put('offer')],
  ['order_terms', 'an order has terms and'],
  ['garment_budget', 'a budget is'],
  ['energy_price', 'fuel has'],
  ['auxiliary_price', 'auxiliaries have'],
  ['hour_price', 'an hour has'],
];

/** What the dyes of the workroom and the amounts of a batch refuse. */
export const ATTACKS_ON_DYE_AMOUNTS: readonly Attack[] = [
  told('dye', 'a price for no mass', put('dye', { price_mg: null }), CHECK),
  told('dye', 'a mass without a price', put('dye', { price_minor: null }), CHECK),
  told('batch_amount', 'a mass of no basis', put('batch_amount', { basis: null }), CHECK),
  told('batch_amount', 'a basis of no mass', put('batch_amount', { scale_mg: null }), CHECK),
  told('batch_amount', 'cloth weighed wet', put('batch_amount', { basis: 'wet' }), CHECK),
  told(
    'batch_amount',
    'a change',
    [...AMOUNT, "UPDATE batch_amount SET parts = '[1]' WHERE batch_id = 2"],
    /keeps its plan/,
  ),
  told(
    'batch_amount',
    'another in its place',
    [...AMOUNT, insert('batch_amount', { ...LAWFUL.batch_amount }, 'INSERT OR REPLACE')],
    /keeps its plan/,
  ),
  told(
    'batch_amount',
    'its removal',
    [...AMOUNT, 'DELETE FROM batch_amount WHERE batch_id = 2'],
    /keeps its plan/,
  ),
  told('vessel', 'a pot of tin', put('vessel', { material: 'tin' }), CHECK),
  told('vessel', 'a heater of coal', put('vessel', { heater: 'coal' }), CHECK),
  told('vessel', 'a weightless pot', put('vessel', { empty_mg: 0 }), CHECK),
  told('vessel', 'a pot of a ton and more', put('vessel', { empty_mg: 1_000_000_001 }), CHECK),
  told('vessel', 'a heater of no power', put('vessel', { heater_watts: 0 }), CHECK),
  told('vessel', 'a heater of a megawatt and more', put('vessel', { heater_watts: 1_000_001 }), CHECK),
  told('workroom', 'a balance of no step', ['UPDATE workroom SET balance_mg = 0'], CHECK),
  told('workroom', 'a balance for sacks', ['UPDATE workroom SET balance_mg = 100001'], CHECK),
  told('workroom', 'a balance in words', ["UPDATE workroom SET balance_mg = 'fine'"], /cannot store TEXT/),
  ...PRICES.map(([table, what, ...statements]) =>
    told(
      'workroom',
      `another currency while ${what} a price`,
      [
        'DROP TRIGGER workroom_keeps_its_currency',
        'DROP TRIGGER workroom_keeps_currency_of_supplies',
        'DROP TRIGGER offer_price_never_goes',
        'DELETE FROM offer_price',
        ...statements,
        ...put(table),
        "UPDATE workroom SET currency = 'EUR'",
      ],
      /the currency stays/,
    ),
  ),
  told('maker_label', 'of neither a dye nor a recipe', put('maker_label', { dye_id: null }), CHECK),
  told(
    'maker_label',
    'no such recipe',
    put('maker_label', { dye_id: null, recipe_id: 999_999 }),
    /FOREIGN KEY constraint failed/,
  ),
  told('maker_label', 'of a dye and a recipe', put('maker_label', { recipe_id: 1 }), CHECK),
  told('workroom', 'an instrument that nobody knows', ["UPDATE workroom SET measures_with = 'eye'"], CHECK),
  told('workroom', 'NULL in measures_with', ['UPDATE workroom SET measures_with = NULL'], /NOT NULL/),
  told('workroom', 'amounts that are never off', ['UPDATE workroom SET amount_off_bp = 49'], CHECK),
  told(
    'workroom',
    'amounts that are off by more than half',
    ['UPDATE workroom SET amount_off_bp = 5001'],
    CHECK,
  ),
  told('workroom', 'a part in words', ["UPDATE workroom SET amount_off_bp = 'little'"], /cannot store TEXT/),
  told('workroom', 'NULL in amount_off_bp', ['UPDATE workroom SET amount_off_bp = NULL'], /NOT NULL/),
  told('workroom', 'NULL in balance_mg', ['UPDATE workroom SET balance_mg = NULL'], /NOT NULL/),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}
