import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert, literal } from './sql.ts';

const FIRST = put('garment_part', { id: 5 });
const AGAIN = insert('garment_part', { ...LAWFUL.garment_part, id: 5 }, 'INSERT OR REPLACE');

/** What may not be done to the parts of a garment. */
export const ATTACKS_ON_PARTS: readonly Attack[] = [
  told('a number below one', put('garment_part', { id: 0 }), /CHECK constraint failed/),
  told('another in its place', [...FIRST, AGAIN], /never removed/),
  told('its removal', [...FIRST, 'DELETE FROM garment_part'], /never removed/),
  ...Object.entries({ id: 6, garment_id: 2, kind: 'trim' }).map(([column, value]) =>
    told(
      `another ${column} later`,
      [...put('garment'), ...FIRST, `UPDATE garment_part SET ${column} = ${literal(value)} WHERE id = 5`],
      /stays what it is/,
    ),
  ),
];

function told(what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `garment_part: ${what}`, table: 'garment_part', statements, refused };
}
