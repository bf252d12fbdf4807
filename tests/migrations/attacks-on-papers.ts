import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { raw } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const NOWHERE = /FOREIGN KEY constraint failed/;
const NO_PIECE = { piece_id: null, on_hand_ticks: null };

/** What labels, lists that came in and costs refuse as a whole. */
export const ATTACKS_ON_PAPERS: readonly Attack[] = [
  told('label', 'of nothing', put('label', NO_PIECE), CHECK),
  told('label', 'of a piece and its place', put('label', { place_id: 1 }), CHECK),
  told('label', 'of a piece of no length', put('label', { on_hand_ticks: null }), CHECK),
  told('label', 'of a batch with a length', put('label', { piece_id: null, batch_id: 1 }), CHECK),
  told('label', 'of no such batch', put('label', { ...NO_PIECE, batch_id: 999 }), NOWHERE),
  told('label', 'of no such place', put('label', { ...NO_PIECE, place_id: 999 }), NOWHERE),
  told(
    'label_address',
    'in bytes',
    put('label_address', { address: raw("CAST('http://192.0.2.20' AS BLOB)") }),
    /cannot store BLOB value/,
  ),
  told('list_in', 'that is lost', put('list_in', { state: 'lost' }), CHECK),
  told('list_row', 'a piece of no request', put('list_row', { request_key: null }), CHECK),
  told('list_row', 'a request without a piece', put('list_row', { piece_id: null }), CHECK),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}
