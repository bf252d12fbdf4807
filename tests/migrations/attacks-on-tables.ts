import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { SPARE_PIECE } from './scene.ts';
import { insert, type Row, raw } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const UNGUARDED_RECIPE = 'DROP TRIGGER recipe_never_replaced';
const AT = '2026-03-02T12:00:00.000Z';
const EDGING = { hangs: 'edge', drop_ticks: null, on_tier_id: 1 } as const;
const ON_A_FACE = { ...EDGING, hangs: 'face', height_ticks: 5 } as const;

/** What a row refuses as a whole, and what may not be done to it later, in every table but the ledger's. */
export const ATTACKS_ON_TABLES: readonly Attack[] = [
  ...onTable('request', [
    ['done on a day in words', put('request', { done_at: '1 March' }), CHECK],
    ['done after it was entered', put('request', { done_at: '2026-03-02T12:00:01.000Z' }), CHECK],
    ['late by nothing', put('request', { done_at: AT }), CHECK],
  ]),
  ...onTable('workroom', [
    ['a second one', [insert('workroom', workroom())], /there is one workroom/],
    ['another in its place', [insert('workroom', workroom(), 'INSERT OR REPLACE')], /there is one workroom/],
    ['its removal', ['DELETE FROM workroom'], /the workroom is never removed/],
    ['another number', ['UPDATE workroom SET id = 2'], CHECK],
    [
      'another currency while entries have a price',
      [
        'DROP TRIGGER workroom_keeps_its_prices',
        'DROP TRIGGER workroom_keeps_currency_of_supplies',
        'UPDATE order_line SET price_minor = NULL, price_ticks = NULL',
        "UPDATE workroom SET currency = 'EUR'",
      ],
      /the currency stays/,
    ],
    [
      'another currency while orders have a price',
      [
        'DROP TRIGGER workroom_keeps_its_prices',
        'DROP TRIGGER workroom_keeps_currency_of_supplies',
        'DROP TRIGGER entry_never_goes',
        'DROP TRIGGER return_credit_never_goes',
        'DELETE FROM return_credit',
        'DELETE FROM entry',
        "UPDATE workroom SET currency = 'EUR'",
      ],
      /the currency stays/,
    ],
    ['no name', ["UPDATE workroom SET name = ''"], CHECK],
    ['a long name', [`UPDATE workroom SET name = '${'x'.repeat(121)}'`], CHECK],
    ['other units', ["UPDATE workroom SET length_system = 'ells'"], CHECK],
    [
      'a currency in words',
      [
        'DROP TRIGGER workroom_keeps_its_currency',
        'DROP TRIGGER workroom_keeps_its_prices',
        'DROP TRIGGER workroom_keeps_currency_of_supplies',
        "UPDATE workroom SET currency = 'Euro'",
      ],
      CHECK,
    ],
    [
      'a word for an amount',
      ["UPDATE workroom SET useful_remnant_ticks = 'many'"],
      /cannot store TEXT value/,
    ],
    ['bytes for a name', ["UPDATE workroom SET name = CAST('a' AS BLOB)"], /cannot store BLOB value/],
    ['a negative remnant', ['UPDATE workroom SET useful_remnant_ticks = -1'], CHECK],
    ['a remnant of miles', ['UPDATE workroom SET useful_remnant_ticks = 160000001'], CHECK],
    ['half invented', ['UPDATE workroom SET invented = 2'], CHECK],
    ['a mark that no key can name', ["UPDATE workroom SET mark = 'ABC12'"], CHECK],
    ['bytes for a mark', ["UPDATE workroom SET mark = CAST('abc123' AS BLOB)"], /cannot store BLOB value/],
    ...['name', 'length_system', 'currency', 'useful_remnant_ticks', 'invented'].map(
      (column): Told => [`NULL in ${column}`, [`UPDATE workroom SET ${column} = NULL`], /NOT NULL/],
    ),
  ]),
  ...onTable('request', [
    ['a change', ["UPDATE request SET answer = '[]' WHERE key = 'request-0'"], /never changed/],
    ['its removal', [...put('request'), "DELETE FROM request WHERE key = 'request-new'"], /never removed/],
    ['another in its place', [replace('request', { key: 'request-0' })], /carried out already/],
    ['another person than its entries', requestOf({ person_id: 2 }), /of its person and its instant/],
    ['another instant than its entries', requestOf({ at: '2026-03-03T12:00:00.000Z' }), /its instant/],
  ]),
  ...onTable('cloth', [
    ['usable beyond its width', put('cloth', { width_ticks: 100, usable_width_ticks: 101 }), CHECK],
    ['no usable width', put('cloth', { usable_width_ticks: 0 }), CHECK],
  ]),
  ...onTable('cloth_fibre', [
    ['more than all of it', put('cloth_fibre', { share_bp: 1001 }), /more than 100 %/],
    ['a changed share', ['UPDATE cloth_fibre SET share_bp = 1'], /replaced, not changed/],
  ]),
  ...onTable('shade', [
    ...['lab_l', 'lab_a', 'lab_b', 'lab_how'].map(
      (column): Told => [`a colour without ${column}`, put('shade', { [column]: null }), CHECK],
    ),
    ['a colour of a hundred and one', put('shade', { lab_l: 101 }), CHECK],
  ]),
  ...onTable('lot', [
    ['dyed without a batch', put('lot', { batch_id: null }), CHECK],
    ['from elsewhere', put('lot', { origin: 'elsewhere', batch_id: null }), CHECK],
    ['a number below one', put('lot', { id: 0 }), CHECK],
    ...['id = 99', 'cloth_id = 2', 'batch_id = NULL', "origin = 'mill'"].map(
      (change): Told => [`${change} later`, [`UPDATE lot SET ${change} WHERE id = 5`], /keeps its cloth/],
    ),
    ['another of its number', [replace('lot', { id: 5 })], /a lot is never replaced/],
    ['another of its code', [replace('lot', { code: 'L5' })], /a lot is never replaced/],
    ['a code twice', ['DROP TRIGGER lot_never_replaced', ...put('lot', { code: 'L1' })], /UNIQUE/],
    ["a mill's with a batch", put('lot', { origin: 'mill' }), CHECK],
  ]),
  ...onTable('piece', [
    ['a number below one', put('piece', { id: -1 }), CHECK],
    ['the number 0', put('piece', { id: 0 }), CHECK],
    ['a length of its own', put('piece', { on_hand_ticks: 5 }), /starts empty/],
    ['a length and a hold of its own', put('piece', { on_hand_ticks: 5, held_ticks: 5 }), /starts empty/],
    ['another of its number', [replace('piece', { id: SPARE_PIECE })], /never replaced/],
    ['another of its code', [replace('piece', { code: `B${SPARE_PIECE}` })], /never replaced/],
    ['its removal', [`DELETE FROM piece WHERE id = ${SPARE_PIECE}`], /never removed/],
    ...['id = 99', 'lot_id = 2', 'parent_id = 1'].map(
      (change): Told => [`${change} later`, [change_of_spare(change)], /keeps its number, lot and parent/],
    ),
    ['another code later', [change_of_spare("code = 'C1'")], /keeps its code/],
    [
      "another piece's code",
      [`UPDATE OR REPLACE piece SET code = 'B${SPARE_PIECE}' WHERE id = 1`],
      /its code/,
    ],
    ['a code twice', ['DROP TRIGGER piece_starts_empty', ...put('piece', { code: 'B1' })], /UNIQUE/],
  ]),
  ...onTable('tier', [
    ['level with none', put('tier', { level_tier_id: null }), CHECK],
    ['placed by nothing known', put('tier', { placed_by: 'elsewhere', level_tier_id: null }), CHECK],
    ['level with a tier and placed by the floor', put('tier', { placed_by: 'floor' }), CHECK],
    ['hung nowhere', put('tier', { drop_ticks: null }), CHECK],
    ['hung twice', put('tier', { on_tier_id: 1 }), CHECK],
    ['hung from the form and high up', put('tier', { height_ticks: 1 }), CHECK],
    ['hung elsewhere', put('tier', { hangs: 'elsewhere', on_tier_id: 1 }), CHECK],
    ['edging itself', put('tier', { ...EDGING, id: 9, on_tier_id: 9 }), CHECK],
    ['edging nothing', put('tier', { ...EDGING, on_tier_id: 999 }), /FOREIGN KEY/],
    ['edging at a drop', put('tier', { ...EDGING, drop_ticks: 0 }), CHECK],
    ['on no face', put('tier', { ...ON_A_FACE, on_tier_id: null }), CHECK],
    ['on a face at no height', put('tier', { ...ON_A_FACE, height_ticks: null }), CHECK],
    ['on a face at its lower edge', put('tier', { ...ON_A_FACE, height_ticks: 0 }), CHECK],
    ['on a face 10 m up', put('tier', { ...ON_A_FACE, height_ticks: 1_600_001 }), CHECK],
    ['a ratio to itself', put('tier', { id: 9, ratio_tier_id: 9 }), CHECK],
  ]),
  ...onTable('girth', [
    ['a hoop of depth alone', put('girth', { hoop_width_ticks: null }), CHECK],
    ['a hoop without depth', put('girth', { hoop_depth_ticks: 0 }), CHECK],
    ['a hoop too deep', put('girth', { hoop_depth_ticks: 16_000_001 }), CHECK],
  ]),
  ...onTable('sign_in', [
    ['of a keeper who is nobody', put('sign_in', { person_id: null }), CHECK],
    ['in bytes', put('sign_in', { token_hash: raw('zeroblob(64)') }), /cannot store BLOB value/],
  ]),
  ...onTable('network', [['a second one', put('network', { id: 2 }), CHECK]]),
  ...onTable('sewing', [['a second one', put('sewing', { id: 2 }), CHECK]]),
  ...onTable('table_rate', [['a second one', put('table_rate', { id: 2 }), CHECK]]),
  ...onTable('work_day', [['a second one', put('work_day', { id: 2 }), CHECK]]),
  ...onTable('closed_day', [
    ['an end before its beginning', put('closed_day', { to_on: '2026-12-23' }), CHECK],
  ]),
  ...onTable('order', [
    ['closed before it was sent', put('order', { closed_at: AT, sent_at: null }), CHECK],
    ['closed and cancelled', put('order', { closed_at: AT, cancelled_at: AT }), CHECK],
  ]),
  ...onTable('order_line', [
    ['a price for no length', put('order_line', { price_ticks: null }), CHECK],
    ['a length for no price', put('order_line', { price_minor: null }), CHECK],
  ]),
  ...onTable('recipe', [
    ['a number below one', put('recipe', { id: 0 }), CHECK],
    ['another of its number', [replace('recipe', { id: 3 })], /never replaced/],
    ['another after the same', [replace('recipe', { follows_id: 1 })], /never replaced/],
    ['another of its version', [replace('recipe', { name: 'Sea on nylon' })], /never replaced/],
    ['two after the same', [UNGUARDED_RECIPE, ...put('recipe', { follows_id: 1 })], /UNIQUE/],
    ['a version twice', [UNGUARDED_RECIPE, ...put('recipe', { name: 'Sea on nylon' })], /UNIQUE/],
    ['a first version that follows', put('recipe', { name: 'Weld', version: 1 }), CHECK],
    ['a later version that follows none', put('recipe', { follows_id: null }), CHECK],
    ['a pH from nothing', put('recipe', { ph_from_tenths: null }), CHECK],
    ['a pH to nothing', put('recipe', { ph_to_tenths: null }), CHECK],
    ['a falling pH', put('recipe', { ph_to_tenths: 49 }), CHECK],
    ['a pH above 14', put('recipe', { ph_to_tenths: 141 }), CHECK],
    ['a change', ["UPDATE recipe SET note = 'x'"], /a recipe is never changed/],
    ['its removal', [...put('recipe'), 'DELETE FROM recipe WHERE version = 2 AND follows_id = 2'], /removed/],
  ]),
  ...['recipe_dye', 'recipe_auxiliary'].flatMap((table) =>
    onTable(table, [
      ['a change', [`UPDATE ${table} SET name = 'x'`], /never changed/],
      ['its removal', [`DELETE FROM ${table}`], /never changed/],
      ['another in its place', [...put(table), replace(table, {})], /never changed/],
      ['one more in a recipe that was used', put(table, { recipe_id: 1, position: 3 }), /never changed/],
    ]),
  ),
  ...onTable('recipe_auxiliary', [
    ['an amount on hearsay', put('recipe_auxiliary', { basis: 'hearsay' }), CHECK],
  ]),
  ...onTable('batch', [
    ['a number below one', put('batch', { id: 0 }), CHECK],
    ['another of its number', [...put('batch'), replace('batch', { id: 3, code: 'D10' })], /never replaced/],
    ['another of its code', [...put('batch'), replace('batch', {})], /never replaced/],
    ['a code twice', ['DROP TRIGGER batch_never_replaced', ...put('batch'), ...put('batch')], /UNIQUE/],
    ['cancelled by nobody', put('batch', { cancelled_by: null }), CHECK],
    ['cancelled at no time', put('batch', { cancelled_at: null }), CHECK],
    ['its removal', [...put('batch'), "DELETE FROM batch WHERE code = 'D9'"], /never removed/],
  ]),
  ...onTable('batch_piece', [
    ['another in its place', [replace('batch_piece', { batch_id: 1, piece_id: 1 })], /keeps its lengths/],
    ['a change', ['UPDATE batch_piece SET length_ticks = 1'], /keeps its lengths/],
    ['its removal', ['DELETE FROM batch_piece'], /keeps its lengths/],
  ]),
];

type Told = readonly [what: string, statements: readonly string[], refused: RegExp];

function onTable(table: string, told: readonly Told[]): Attack[] {
  return told.map(([what, statements, refused]) => ({
    name: `${table}: ${what}`,
    table,
    statements,
    refused,
  }));
}

function replace(table: string, changes: Row): string {
  return insert(table, { ...LAWFUL[table], ...changes }, 'INSERT OR REPLACE');
}

function change_of_spare(change: string): string {
  return `UPDATE piece SET ${change} WHERE id = ${SPARE_PIECE}`;
}

function workroom(): Row {
  const units = { length_system: 'metric', currency: 'EUR', useful_remnant_ticks: 1, invented: 0 };
  return { id: 1, name: 'Another', ...units };
}

/** A request that says of itself something else than its one entry does. */
function requestOf(changes: Row): string[] {
  return [insert('entry', { ...LAWFUL.entry }), insert('request', { ...LAWFUL.request, ...changes })];
}
