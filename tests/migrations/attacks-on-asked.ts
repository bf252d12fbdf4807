import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { enter, seal } from './scene.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;

/**
 * What is asked of suppliers, and what went back to them. Reservation 1 and sample 1 are there; entry 21 went back, line 2 was
 * asked for in one lot.
 */
export const ATTACKS_ON_ASKED: readonly Attack[] = [
  told(
    'lot_answer',
    'another in its place',
    [...put('lot_answer'), replaced('lot_answer', {})],
    /never replaced/,
  ),
  told('lot_answer', 'a change', [...put('lot_answer'), 'UPDATE lot_answer SET met = 0'], /never changed/),
  told('lot_answer', 'its removal', [...put('lot_answer'), 'DELETE FROM lot_answer'], /stays in the book/),
  ...['id', 'supplier_id', 'cloth_id', 'shade_id', 'length_ticks'].map((column) =>
    told(
      'reservation',
      `another ${column}`,
      [`UPDATE reservation SET ${column} = ${column}`],
      /keeps what it is of/,
    ),
  ),
  told('reservation', 'its removal', ['DELETE FROM reservation'], /stays in the book/),
  ...['id', 'supplier_id', 'cloth_id', 'shade_id'].map((column) =>
    told(
      'sample_request',
      `another ${column}`,
      [`UPDATE sample_request SET ${column} = ${column}`],
      /keeps what was asked/,
    ),
  ),
  told(
    'sample_request',
    'another asked_on',
    ["UPDATE sample_request SET asked_on = '2026-02-01'"],
    /keeps what was asked/,
  ),
  told('sample_request', 'its removal', ['DELETE FROM sample_request'], /stays in the book/),
  told(
    'sample_request',
    'a day before it was asked',
    put('sample_request', { came_on: '2026-02-28' }),
    CHECK,
  ),
  told('sample_request', 'a verdict of what did not come', put('sample_request', { came_on: null }), CHECK),
  told('return_credit', 'credit without its day', put('return_credit', { come_on: null }), CHECK),
  told('return_credit', 'a day without its credit', put('return_credit', { come_minor: null }), CHECK),
  // Entry 13 was written off.
  told(
    'return_credit',
    'credit for what was written off',
    put('return_credit', { entry_id: 13 }),
    /what went back/,
  ),
  told(
    'return_credit',
    'credit for nothing',
    ['DROP TRIGGER return_credit_of_a_return', ...put('return_credit', { entry_id: 999_999 })],
    /FOREIGN KEY/,
  ),
  told(
    'return_credit',
    'another in its place',
    [...put('return_credit'), replaced('return_credit', {})],
    /never replaced/,
  ),
  told(
    'return_credit',
    'its removal',
    [...put('return_credit'), 'DELETE FROM return_credit'],
    /stays in the book/,
  ),
  ...['entry_id = entry_id', 'expected_minor = 3'].map((change) =>
    told(
      'return_credit',
      `another ${change}`,
      [...put('return_credit'), `UPDATE return_credit SET ${change}`],
      /keeps its return/,
    ),
  ),
  told(
    'return_credit',
    'credit for a return that was undone',
    [
      ...put('return_credit', { come_minor: null, come_on: null }),
      undone(),
      seal(),
      "UPDATE return_credit SET come_minor = 1, come_on = '2026-03-05'",
    ],
    /gets no credit/,
  ),
  told(
    'entry',
    'the undoing of a return that credit came for',
    [...put('return_credit'), undone(), seal()],
    /not undone/,
  ),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function replaced(table: string, changes: Row): string {
  return insert(table, { ...LAWFUL[table], ...changes }, 'INSERT OR REPLACE');
}

function undone(): string {
  return enter('reversed', {
    piece_id: 2,
    length_ticks: 10,
    cost_minor: 2,
    receipt_id: 1,
    order_line_id: 1,
    batch_id: 1,
    reverses_id: 21,
  });
}
