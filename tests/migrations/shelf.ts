import type BetterSqlite3 from 'better-sqlite3';
import { LAWFUL, REQUEST } from './rows.ts';
import { insert, type Row } from './sql.ts';

const AT = '2026-03-02T12:00:00.000Z';

/** What a recipe and its version are for that are not for what the others are for. */
const WELD = { name: 'Weld on wool', shade_id: 2, fibre: 'wool' };

/** Rows that come before those of the ledger: the scene of the attacks. */
export const SHELF: readonly (readonly [table: string, row: Row])[] = [
  ['person', { name: 'Second maker' }],
  ['request', { ...REQUEST, key: 'request-0' }],
  ['supplier', { name: 'Weaver' }],
  ['place', { name: 'Shelf 1' }],
  ['shade', { name: 'Undyed', ground: 1 }],
  ['shade', { name: 'Sea', ground: 0 }],
  ['cloth', { name: 'Organza', construction: 'organza', width_ticks: 110, usable_width_ticks: 100 }],
  ['cloth', { name: 'Tulle', construction: 'tulle', width_ticks: 110, usable_width_ticks: 100 }],
  ['cloth_fibre', { cloth_id: 1, fibre: 'nylon', share_bp: 10_000 }],
  ['cloth_fibre', { cloth_id: 2, fibre: 'nylon', share_bp: 9_000 }],
  ['dye', { name: 'Red', dye_class: 'acid-levelling', typed: '{}' }],
  ['dye', { name: 'Blue', dye_class: 'acid-levelling', typed: '{}' }],
  ['vessel', { name: 'Pot', volume_ml: 20_000 }],
  ['recipe', { ...LAWFUL.recipe, name: 'Sea on nylon', version: 1, follows_id: null }],
  ['recipe', { ...LAWFUL.recipe, version: 1, follows_id: null }],
  ['recipe', { ...LAWFUL.recipe, name: 'Sea on nylon', follows_id: 1 }],
  ['recipe', { ...LAWFUL.recipe, ...WELD, version: 1, follows_id: null }],
  ['recipe', { ...LAWFUL.recipe, ...WELD, follows_id: 4 }],
  ['recipe_dye', { ...LAWFUL.recipe_dye, recipe_id: 1, position: 1 }],
  ['recipe_dye', { ...LAWFUL.recipe_dye, recipe_id: 1 }],
  ['recipe_dye', { ...LAWFUL.recipe_dye, position: 1 }],
  ['recipe_auxiliary', { ...LAWFUL.recipe_auxiliary, recipe_id: 1, position: 1 }],
  ['recipe_auxiliary', { ...LAWFUL.recipe_auxiliary, recipe_id: 1 }],
  ['recipe_auxiliary', { ...LAWFUL.recipe_auxiliary, position: 1 }],
  ['batch', { code: 'D1', recipe_id: 1, vessel_id: 1, planned_at: AT, person_id: 1 }],
  ['batch', { code: 'D2', recipe_id: 1, vessel_id: 1, planned_at: AT, person_id: 1 }],
  ['batch_amount', { ...LAWFUL.batch_amount, batch_id: 1 }],
  ['batch_bath', { ...LAWFUL.batch_bath, batch_id: 1, bath: 2 }],
  ['batch_bath', { ...LAWFUL.batch_bath, bath: 2 }],
  ['batch_log', { ...LAWFUL.batch_log }],
  ['batch_log', { ...LAWFUL.batch_log, batch_id: 2 }],
  ['batch_log', { ...LAWFUL.batch_log, kind: 'undone', figure: null, undoes_id: 1 }],
  ['lot', { code: 'L1', cloth_id: 1, shade_id: 1, origin: 'mill' }],
  ['lot', { code: 'L2', cloth_id: 1, shade_id: 1, origin: 'mill' }],
  ['lot', { code: 'L3', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 1 }],
  ['lot', { code: 'L4', cloth_id: 2, shade_id: 2, origin: 'dyed', batch_id: 1 }],
  ['lot', { code: 'L5', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 2 }],
  ['lot', { code: 'L6', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 1, bath: 1 }],
  ['lot', { code: 'L7', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 1, bath: 2 }],
  ['lot', { code: 'L8', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 2, bath: 1 }],
  ['lot', { code: 'L10', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 2, bath: 2 }],
  ['lot', { code: 'L11', cloth_id: 1, shade_id: 2, origin: 'dyed', batch_id: 2, bath: 3 }],
  ['lot_shade', { ...LAWFUL.lot_shade, lot_id: 10 }],
  ['swatch_job', { ...LAWFUL.swatch_job, code: 'W1' }],
  ['swatch_job', { ...LAWFUL.swatch_job, code: 'W2' }],
  ['swatch_job', { ...LAWFUL.swatch_job, code: 'W3' }],
  ['swatch', { ...LAWFUL.swatch, position: 1 }],
  ['swatch', { ...LAWFUL.swatch, position: 2 }],
  ['swatch', { ...LAWFUL.swatch, job_id: 2, position: 1 }],
  ['swatch_dye_lot', { ...LAWFUL.swatch_dye_lot, name: 'Red' }],
  ['swatch_dye_lot', { ...LAWFUL.swatch_dye_lot, name: 'Green' }],
  ['swatch_dye_lot', { ...LAWFUL.swatch_dye_lot, job_id: 2, name: 'Red' }],
  ['colour_reading', { ...LAWFUL.colour_reading }],
  ['colour_reading', { ...LAWFUL.colour_reading, lot_id: null, swatch_id: 1 }],
  ['colour_reading', { ...LAWFUL.colour_reading, undone_key: 'request-0' }],
  ['dyed_swatch', { ...LAWFUL.dyed_swatch }],
  ['dyed_swatch', { ...LAWFUL.dyed_swatch }],
  ['dyed_swatch', { ...LAWFUL.dyed_swatch, undone_key: 'request-0' }],
  ['dyed_swatch_dye', { ...LAWFUL.dyed_swatch_dye, swatch_id: 1, dye_id: 1 }],
  ['dyed_swatch_dye', { ...LAWFUL.dyed_swatch_dye, swatch_id: 1 }],
  ['dyed_swatch_dye', { ...LAWFUL.dyed_swatch_dye, dye_id: 1 }],
  ['pair_judgement', { ...LAWFUL.pair_judgement }],
  ['pair_judgement', { ...LAWFUL.pair_judgement, undone_key: 'request-0' }],
  ['swatch_result', { ...LAWFUL.swatch_result }],
  ['swatch_result', { ...LAWFUL.swatch_result, reading_id: 2 }],
  ['series', { ...LAWFUL.series, code: 'S1' }],
  ['series', { ...LAWFUL.series, code: 'S2' }],
  ['series', { ...LAWFUL.series, code: 'S3' }],
  ['series_step', { ...LAWFUL.series_step, position: 1 }],
  ['series_step', { ...LAWFUL.series_step, position: 2 }],
  ['series_step', { ...LAWFUL.series_step, series_id: 2, position: 1 }],
  ['dip', { ...LAWFUL.dip, batch_id: 1 }],
  ['dip_move', { ...LAWFUL.dip_move }],
  ['photo_set', { ...LAWFUL.photo_set }],
  ['photo_set', { ...LAWFUL.photo_set }],
  ['photo_set', { ...LAWFUL.photo_set }],
  ['photo', { ...LAWFUL.photo, sha256: 'a'.repeat(64) }],
  ['photo', { ...LAWFUL.photo, sha256: 'a'.repeat(64), set_id: 2, left_out_key: 'request-0' }],
  ['photo', { ...LAWFUL.photo, sha256: 'd'.repeat(64) }],
  ['photo', { ...LAWFUL.photo, sha256: 'a'.repeat(64), set_id: 2 }],
  ['photo_marking', { ...LAWFUL.photo_marking }],
  ['photo_result', { ...LAWFUL.photo_result, request_key: 'request-0' }],
  ['garment', { code: 'G1', name: 'Skirt' }],
  ['girth', { garment_id: 1, drop_ticks: 0, girth_ticks: 100, typed: '{}' }],
  ['tier', { ...LAWFUL.tier, position: 1, taken_out_at: null, ratio_tier_id: null }],
  ['tier', { ...LAWFUL.tier, position: 2, hangs: 'edge', drop_ticks: null, on_tier_id: 1 }],
  ['tier_size', { ...LAWFUL.tier_size, after_entry_id: 0 }],
  ['colour_block', { tier_id: 1, position: 1, shade_id: 2, strips: 2 }],
  ['other_use', { ...LAWFUL.other_use }],
  ['other_use', { ...LAWFUL.other_use, kind: 'other', garment_id: null, note: 'sash' }],
  ['order', { code: 'O1', supplier_id: 1, drafted_at: AT }],
  ['order_line', { ...LAWFUL.order_line }],
  ['receipt', { order_id: 1, at: AT, person_id: 1 }],
  ['offer', { ...LAWFUL.offer }],
  ['offer', { ...LAWFUL.offer, shade_id: 2 }],
  ['cut_plan', { ...LAWFUL.cut_plan, given_up_key: null }],
  ['cut_plan', { ...LAWFUL.cut_plan }],
  ['label_address', { ...LAWFUL.label_address }],
  ['label_sheet', { ...LAWFUL.label_sheet, name: 'Ten on Letter' }],
  ['label_run', { ...LAWFUL.label_run }],
  ['label_run', { ...LAWFUL.label_run, first_place: 3 }],
  ['list_in', { ...LAWFUL.list_in }],
];

/** The statements that put these rows into a book of earlier steps: what it had no table or column for is left out. */
export function shelfOf(db: BetterSqlite3.Database): string[] {
  return SHELF.flatMap(([table, row]) => {
    const columns = db.prepare('SELECT name FROM pragma_table_info(?)').pluck().all(table) as string[];
    const known = Object.entries(row).filter(([column]) => columns.includes(column));
    const lost = Object.entries(row).some(([column, value]) => value !== null && !columns.includes(column));
    // A lot of a bath, of which there was one a batch.
    return columns.length === 0 || (lost && table === 'lot')
      ? []
      : [insert(table, Object.fromEntries(known))];
  });
}
