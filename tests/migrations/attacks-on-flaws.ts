import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import type { Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const MARK = put('piece_flaw', { struck_at: null, struck_by: null });

/** What the tables of flaws, measured widths and plies refuse. */
export const ATTACKS_ON_FLAWS: readonly Attack[] = [
  on('piece_flaw', 'no length', put('piece_flaw', { to_ticks: 10 }), CHECK),
  on('piece_flaw', 'no width', put('piece_flaw', { left_ticks: 10 }), CHECK),
  on('piece_flaw', 'beyond any piece', put('piece_flaw', { to_ticks: 16_000_000_001 }), CHECK),
  on('piece_flaw', 'beyond any width', put('piece_flaw', { right_ticks: 1_600_001 }), CHECK),
  on('piece_flaw', 'struck out by nobody', put('piece_flaw', { struck_by: null }), CHECK),
  on('piece_flaw', 'struck out at no time', put('piece_flaw', { struck_at: null }), CHECK),
  on('piece_flaw', 'its removal', [...MARK, 'DELETE FROM piece_flaw'], /struck out, not removed/),
  on('piece_width', 'from another width', put('piece_width', { was_ticks: 99 }), /follows the width/),
  on(
    'piece_width',
    'a change',
    [...put('piece_width'), 'UPDATE piece_width SET width_ticks = 80'],
    /never changed/,
  ),
  on('piece_width', 'its removal', [...put('piece_width'), 'DELETE FROM piece_width'], /never removed/),
  on('piece_width', 'from no width', unguarded({ was_ticks: null }), /NOT NULL/),
  on('piece_width', 'of no piece', unguarded({ piece_id: null }), /NOT NULL/),
  on('piece_width', 'of a piece that is not there', unguarded({ piece_id: 999 }), /FOREIGN KEY/),
  on(
    'piece',
    'a width that nobody measured',
    ['UPDATE piece SET usable_width_ticks = 90 WHERE id = 1'],
    /measuring it again/,
  ),
  on('cloth', 'cut in no ply', put('cloth', { ply_limit: 0 }), CHECK),
  on('cloth', 'cut in a hundred plies', put('cloth', { ply_limit: 25 }), CHECK),
  on('cloth', 'a way of another number', put('cloth', { one_way: 2 }), CHECK),
  on('cloth', 'a half-drop of another number', put('cloth', { half_drop: 2 }), CHECK),
  on('cloth', 'a half-drop of no pattern', put('cloth', { repeat_ticks: null }), CHECK),
  on('cloth', 'a pattern that never repeats', put('cloth', { repeat_ticks: 0 }), CHECK),
  on('cloth', 'folded so often', put('cloth', { fold_limit: 4 }), CHECK),
  on('cloth', 'folded less than never', put('cloth', { fold_limit: -1 }), CHECK),
];

function on(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function unguarded(changes: Row): string[] {
  return ['DROP TRIGGER piece_width_follows', ...put('piece_width', changes)];
}
