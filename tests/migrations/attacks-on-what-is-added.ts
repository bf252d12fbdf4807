import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, type Row } from './sql.ts';

/** Tables that are added to only, where each row has a number. */
const NUMBERED: readonly (readonly [table: string, replaced: RegExp])[] = [
  ['cut_plan', /given up, not replaced/],
  ['cut_lay', /a lay is never replaced/],
  ['piece_flaw', /struck out, not replaced/],
  ['piece_width', /a measured width is never replaced/],
  ['supplier_terms', /newer ones, not replaced/],
  ['reservation', /ends and is never replaced/],
  ['sample_request', /never replaced/],
  ['offer', /an offer is followed by a newer one, not replaced/],
  ['inspection', /an inspection is followed by a newer one, not replaced/],
  ['garment_budget', /a budget is followed by a newer one, not replaced/],
  ['energy_price', /a price of energy is followed by a newer one, not replaced/],
  ['auxiliary_price', /a price of an auxiliary is followed by a newer one, not replaced/],
  ['hour_price', /a price of an hour is followed by a newer one, not replaced/],
  ['maker_label', /a label of a maker is followed by a newer one, not replaced/],
  ['water_test', /a test of the water is followed by a newer one, not replaced/],
  ['work_tap', /a tap is followed by another, not replaced/],
  ['grading_rule', /a rule of grading is followed by a newer one, not replaced/],
  ['label_address', /an address of the workroom is followed by a newer one, not replaced/],
  ['label_run', /a run of labels is never replaced/],
  ['other_use', /cut or held for is never replaced/],
  ['supply_offer', /an offer of a supply is followed by a newer one, not replaced/],
];

/** What tells of what happened stays as it was written: no other row in its place, no change, no removal. */
export const ATTACKS_ON_WHAT_IS_ADDED: readonly Attack[] = [
  ...NUMBERED.map(([table, refused]) =>
    again(table, { id: 99 }, refused, table === 'cut_lay' ? { position: 4 } : {}),
  ),
  // The same place in a plan, whatever the number of the lay.
  again('cut_lay', {}, /a lay is never replaced/),
  again('cut_lay_tier', {}, /what a lay gives is never replaced/),
  again('offer_price', {}, /a price is followed by a newer one, not replaced/),
  again('supply_offer_price', {}, /a price of a supply is followed by a newer one, not replaced/),
  again('label', {}, /a label is never replaced/),
  ...stays('garment_budget', 'budget_minor', /a budget is followed/, /a budget stays/),
  ...stays('energy_price', 'price_minor', /a price of energy is followed/, /a price of energy stays/),
  ...stays(
    'auxiliary_price',
    'price_minor',
    /a price of an auxiliary is followed/,
    /a price of an auxiliary stays/,
  ),
  ...stays('hour_price', 'price_minor', /a price of an hour is followed/, /a price of an hour stays/),
  ...stays('maker_label', 'person_id', /a label of a maker is followed/, /a label of a maker stays/),
  ...stays('water_test', 'alkalinity_tenths', /a test of the water is followed/, /a test of the water stays/),
  ...stays('work_tap', 'person_id', /a tap is followed by another/, /a tap stays/),
  ...stays('grading_rule', 'most_points', /a rule of grading is followed/, /a rule of grading stays/),
  ...stays(
    'label_address',
    'person_id',
    /an address of the workroom is followed/,
    /an address of the workroom stays/,
  ),
  ...stays(
    'label_run',
    'first_place',
    /a run of labels is never changed/,
    /a run of labels is never removed/,
  ),
  ...stays('other_use', 'person_id', /cut or held for is never changed/, /cut or held for is never removed/),
  ...stays('label', 'on_hand_ticks', /a label is never changed/, /a label is never removed/),
];

function again(table: string, key: Row, refused: RegExp, changes: Row = {}): Attack {
  const second = insert(table, { ...LAWFUL[table], ...key, ...changes }, 'INSERT OR REPLACE');
  const what = 'id' in key ? 'another in its place' : 'another in its place, by its columns';
  return { name: `${table}: ${what}`, table, statements: [...put(table, key), second], refused };
}

function stays(table: string, column: string, changed: RegExp, removed: RegExp): Attack[] {
  const where = table === 'label' ? 'position = 2' : 'id = last_insert_rowid()';
  return [
    {
      name: `${table}: a change`,
      table,
      statements: [...put(table), `UPDATE ${table} SET ${column} = 1 WHERE ${where}`],
      refused: changed,
    },
    {
      name: `${table}: its removal`,
      table,
      statements: [...put(table), `DELETE FROM ${table} WHERE ${where}`],
      refused: removed,
    },
  ];
}
