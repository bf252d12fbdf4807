import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';

const STAYS = /stays as it was held/;

/** What may not be done to a plan that was held, its lays and what they give. */
export const ATTACKS_ON_PLANS: readonly Attack[] = [
  told(
    'cut_plan',
    'its removal',
    ['DELETE FROM cut_lay_tier', 'DELETE FROM cut_plan'],
    /not removed|never removed/,
  ),
  told(
    'cut_plan',
    'the removal of an empty one',
    [
      'INSERT INTO cut_plan SELECT 9, garment_id, cloth_id, shade_id, held_key, NULL, job_hash, wish, 0, 0, 0, 0, bound_over FROM cut_plan WHERE id = 1',
      'DELETE FROM cut_plan WHERE id = 9',
    ],
    /given up, not removed/,
  ),
  told('cut_lay', 'its removal', ['DELETE FROM cut_lay WHERE id = 3'], /never removed/),
  told(
    'cut_lay',
    'two in one place',
    ['DROP TRIGGER cut_lay_never_replaced', ...put('cut_lay', { position: 1 })],
    /UNIQUE constraint failed/,
  ),
  told('cut_lay_tier', 'other strips', ['UPDATE cut_lay_tier SET strips = 2'], STAYS),
  told('cut_lay_tier', 'its removal', ['DELETE FROM cut_lay_tier'], /never removed/),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}
