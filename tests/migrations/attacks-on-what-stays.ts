import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { literal, quoted, type Row } from './sql.ts';

const LATER = '2026-03-03T12:00:00.000Z';

/** Columns that stay as they were written while others of their row may be written later, each changed by itself. */
export const ATTACKS_ON_WHAT_STAYS: readonly Attack[] = [
  ...stays('batch', 3, put('batch'), /keeps its recipe and vessel/, {
    id: 99,
    code: 'D99',
    recipe_id: 2,
    vessel_id: 1,
    planned_at: LATER,
    person_id: 2,
  }),
  ...stays('lot', 4, [], /keeps its cloth, shade and batch/, { batch_id: 2 }),
  ...stays('cut_plan', 3, [...put('garment'), ...put('cut_plan')], /stays as it was held/, {
    id: 9,
    garment_id: 2,
    cloth_id: 2,
    shade_id: 2,
    held_key: 'request-w0',
    job_hash: 'b'.repeat(64),
    wish: 'least length',
    short_strips: 2,
    charged_ticks: 1,
    charged_area: 1,
    bound_area: 1,
    bound_over: 'these lots',
  }),
  ...stays('cut_lay', 4, put('cut_lay'), /stays as it was held/, {
    id: 9,
    plan_id: 2,
    position: 4,
    piece_id: 2,
    from_ticks: 1,
    length_ticks: 1,
    slit_into: '[1]',
  }),
  ...stays('piece_flaw', 1, put('piece_flaw'), /stays as it was marked/, {
    id: 9,
    piece_id: 2,
    from_ticks: 11,
    to_ticks: 21,
    left_ticks: 1,
    right_ticks: 11,
    after_entry_id: 2,
    what: 'hole',
    at: LATER,
    person_id: 2,
  }),
];

function stays(
  table: string,
  id: number,
  before: readonly string[],
  refused: RegExp,
  changes: Row,
): Attack[] {
  return Object.entries(changes).map(([column, value]) => ({
    name: `${table}: another ${column} later`,
    table,
    statements: [...before, `UPDATE ${quoted(table)} SET ${column} = ${literal(value)} WHERE id = ${id}`],
    refused,
  }));
}
