import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { insert } from './sql.ts';

const FIRST = put('garment_version');
const AGAIN = insert('garment_version', { ...LAWFUL.garment_version }, 'INSERT OR REPLACE');

/** What may not be done to the kept versions of a garment. */
export const ATTACKS_ON_VERSIONS: readonly Attack[] = [
  told('a gap', put('garment_version', { number: 2 }), /one after another/),
  told('another in its place', [...FIRST, AGAIN], /one after another/),
  told('a change', [...FIRST, "UPDATE garment_version SET said = 'x'"], /never changed/),
  told('its removal', [...FIRST, 'DELETE FROM garment_version'], /never removed/),
];

function told(what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `garment_version: ${what}`, table: 'garment_version', statements, refused };
}
