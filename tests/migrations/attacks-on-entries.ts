import type { Attack } from './attacks.ts';
import { enter, NEXT, SPARE_PIECE, seal } from './scene.ts';
import type { Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const NO_MORE = /gives no more length or cost than it has free/;
const TIER_NO_MORE = /a tier or another use gives no more length than it holds/;
const NOT_OPPOSITE = /the exact opposite of its entry/;
const LATER = /later work depends on this entry/;
const HALF = /half a split names the entry that follows it/;
const OTHER_HALF = /what a split takes off is what the new piece gets/;
const BEGINS = /begins with the one entry/;
const NULL = /NOT NULL constraint failed: entry/;
const UNSEALED = 'DROP TRIGGER request_of_its_entries';
const UNGUARDED = ['DROP TRIGGER entry_leaves_balance_standing', 'DROP TRIGGER entry_leaves_hold_standing'];

// Of piece 1 there are 807 ticks on hand for 800, of them 150 held for tier 1 and 60 for tier 2; of piece 3
// 100 ticks for 100, all free. Entry 9 was sent to dye and came back as 10; 12 is in the pot; 13 was undone
// by 14; 19 released tier 2; 21 returned a length of a receipt, an order line and a batch.

/** What the ledger refuses to enter. */
export const ATTACKS_ON_ENTRIES: readonly Attack[] = [
  // Append only.
  told('a change', ["UPDATE entry SET why = 'x' WHERE id = 21"], /never changed/),
  told('a change over others', ['UPDATE OR REPLACE entry SET id = 20 WHERE id = 21'], /never changed/),
  told('its removal', ['DELETE FROM entry WHERE id = 21'], /never removed/),
  entered(
    'another in its place',
    'recounted',
    { id: NEXT - 1, length_ticks: 1 },
    /never replaced/,
    'INSERT OR REPLACE',
  ),
  entered('a number left out', 'recounted', { id: NEXT + 1, length_ticks: 1 }, /at the end of the ledger/),
  entered('a number below the last', 'recounted', { id: 0, length_ticks: 1 }, /at the end of the ledger/),
  entered('a negative number', 'recounted', { id: -1, length_ticks: 1 }, /at the end of the ledger/),

  // The request.
  told('no request', [enter('recounted', { length_ticks: 1 })], /FOREIGN KEY/),
  told(
    'a request of yesterday',
    [enter('recounted', { length_ticks: 1, request_key: 'request-w1' })],
    /no more/,
  ),

  // More than there is, whatever the statement does about conflicts.
  ...(
    [
      ['more length than is on hand', 'written-off', { piece_id: 3, length_ticks: -101 }, NO_MORE],
      ['more cost than it has', 'written-off', { piece_id: 3, length_ticks: -9, cost_minor: -101 }, NO_MORE],
      ['the last length without its cost', 'written-off', { piece_id: 3, length_ticks: -100 }, NO_MORE],
      ['more than the tier holds', 'released', { tier_id: 2, held_ticks: -61 }, TIER_NO_MORE],
      ['the hold of another piece', 'released', { piece_id: 3, tier_id: 1, held_ticks: -1 }, TIER_NO_MORE],
    ] as const
  ).flatMap(([what, kind, entry, refused]) => [
    entered(what, kind, entry, refused),
    ...['OR IGNORE', 'OR FAIL', 'OR REPLACE', 'OR ROLLBACK'].map((or) => ({
      ...told(`${what}, ${or}`, [enter(kind, entry, `INSERT ${or}`)], refused),
      stubborn: true,
    })),
  ]),
  entered('a length that is held', 'written-off', { length_ticks: -598 }, NO_MORE),
  entered('a hold of more than is free', 'held', { tier_id: 1, held_ticks: 598 }, NO_MORE),
  entered(
    'a cut out of the hold of another tier',
    'cut',
    { tier_id: 1, strips: 1, length_ticks: -160, held_ticks: -151 },
    TIER_NO_MORE,
  ),

  // The same with the triggers gone that say it first.
  unguarded('more than is on hand', 'written-off', { piece_id: 3, length_ticks: -101, cost_minor: -100 }),
  unguarded('a length that is held', 'written-off', { length_ticks: -598 }),
  unguarded('more cost than it has', 'written-off', { piece_id: 3, length_ticks: -9, cost_minor: -101 }),
  unguarded('the last length without its cost', 'written-off', { piece_id: 3, length_ticks: -100 }),
  unguarded('more than the tier holds', 'released', { tier_id: 2, held_ticks: -61 }),
  unguarded('more than all tiers hold', 'released', { tier_id: 1, held_ticks: -211 }, [
    'DROP TRIGGER entry_moves_hold',
  ]),

  // What the rules of other tables say first.
  told(
    'no length',
    ['DROP TRIGGER entry_moves_balance', enter('recounted', { length_ticks: null }), seal()],
    NULL,
  ),
  told(
    'no hold',
    ['DROP TRIGGER entry_moves_balance', enter('recounted', { length_ticks: 1, held_ticks: null }), seal()],
    NULL,
  ),
  told(
    'no cost',
    ['DROP TRIGGER entry_moves_balance', enter('recounted', { length_ticks: 1, cost_minor: null }), seal()],
    NULL,
  ),
  told(
    'a hold for no tier',
    ['DROP TRIGGER entry_moves_hold', enter('held', { held_ticks: 1 }), seal()],
    CHECK,
  ),
  told('nobody', [UNSEALED, enter('recounted', { length_ticks: 1, person_id: 999 }), seal()], /FOREIGN KEY/),
  told('no instant', [UNSEALED, enter('recounted', { length_ticks: 1, at: 'yesterday' }), seal()], CHECK),

  // The beginning of a piece.
  entered('a second receipt', 'received', { length_ticks: 1 }, BEGINS),
  entered('a beginning with a count', 'recounted', { piece_id: SPARE_PIECE, length_ticks: 1 }, BEGINS),
  entered('no piece', 'received', { piece_id: null, length_ticks: 1 }, /NOT NULL constraint failed/),
  entered('a piece that is not there', 'received', { piece_id: 999, length_ticks: 1 }, /FOREIGN KEY/),

  // Reversals.
  ...[
    ['of another length', { reverses_id: 21, length_ticks: 9, cost_minor: 2 }],
    ['of another cost', { reverses_id: 21, length_ticks: 10, cost_minor: 1 }],
    ['of another piece', { reverses_id: 21, length_ticks: 10, cost_minor: 2, piece_id: 1 }],
    ['without its batch', { reverses_id: 21, length_ticks: 10, cost_minor: 2, batch_id: null }],
    ['without its receipt', { reverses_id: 21, length_ticks: 10, cost_minor: 2, receipt_id: null }],
    ['without its order line', { reverses_id: 21, length_ticks: 10, cost_minor: 2, order_line_id: null }],
    ['of another entry', { ...bare(), batch_id: 1, reverses_id: 21, length_ticks: 100, cost_minor: 20 }],
    ['of a reversal', { ...bare(), reverses_id: 14, length_ticks: -10, cost_minor: -2 }],
    ['of nothing', { ...bare(), reverses_id: null, length_ticks: 1 }],
  ].map(([what, entry]) =>
    entered(`a reversal ${what}`, 'reversed', { ...returned(), ...(entry as Row) }, NOT_OPPOSITE),
  ),
  entered(
    'a reversal of another hold',
    'reversed',
    { reverses_id: 19, tier_id: 2, held_ticks: 39 },
    NOT_OPPOSITE,
  ),
  entered(
    'a reversal for another tier',
    'reversed',
    { reverses_id: 19, tier_id: 1, held_ticks: 40 },
    NOT_OPPOSITE,
  ),
  entered(
    'a second reversal',
    'reversed',
    { ...bare(), reverses_id: 13, length_ticks: 10, cost_minor: 2 },
    /UNIQUE/,
  ),
  entered(
    'a second reversal in place of the first',
    'reversed',
    { ...bare(), reverses_id: 13, length_ticks: 10, cost_minor: 2 },
    /a balance is the sum of its entries/,
    'INSERT OR REPLACE',
  ),
  entered('something else that reverses', 'recounted', { reverses_id: 20, length_ticks: -7 }, CHECK),
  entered('an entry that is not there', 'recounted', { reverses_id: 999, length_ticks: -7 }, CHECK),
  told(
    'a reversal of what is not there',
    ['DROP TRIGGER entry_reverses_exactly', enter('reversed', { reverses_id: 999, length_ticks: 1 }), seal()],
    /FOREIGN KEY/,
  ),

  // What later work depends on.
  entered(
    'unsending what came back',
    'reversed',
    { piece_id: 2, reverses_id: 9, length_ticks: 200, cost_minor: 40, batch_id: 1 },
    LATER,
  ),
  entered(
    'uncutting with the remnant kept',
    'reversed',
    { reverses_id: 7, length_ticks: 100, held_ticks: 50, cost_minor: 100, tier_id: 1 },
    LATER,
  ),
  entered(
    'taking back half a split',
    'reversed',
    { reverses_id: 5, length_ticks: 100, cost_minor: 100 },
    LATER,
  ),

  // Half a split undone.
  entered('undoing the new half alone', 'reversed', { ...unjoined(), pair_id: null }, HALF),
  entered(
    'undoing the new half for nothing',
    'reversed',
    { ...unjoined(), pair_id: NEXT + 1 },
    /FOREIGN KEY/,
  ),
  entered('undoing the new half for a later one', 'reversed', { ...unjoined(), pair_id: NEXT + 2 }, HALF),
  told(
    'undoing the new half and something else',
    [enter('reversed', { ...unjoined(), pair_id: NEXT + 1 }), enter('reversed', returned(21)), seal()],
    OTHER_HALF,
  ),
  told(
    'undoing the new half and counting',
    [
      enter('reversed', { ...unjoined(), pair_id: NEXT + 1 }),
      enter('recounted', { length_ticks: 100 }),
      seal(),
    ],
    OTHER_HALF,
  ),
  entered('another undoing that names a half', 'reversed', { ...returned(21), pair_id: NEXT + 1 }, HALF),
  told(
    'undoing a remnant of a cut with a half named',
    [
      enter('reversed', {
        piece_id: 4,
        reverses_id: 8,
        length_ticks: -50,
        cost_minor: -20,
        pair_id: NEXT + 1,
      }),
      enter('reversed', { reverses_id: 7, length_ticks: 100, held_ticks: 50, cost_minor: 100, tier_id: 1 }),
      seal(),
    ],
    HALF,
  ),
];

export function told(what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `entry: ${what}`, table: 'entry', statements, refused };
}

/** One entry and its request. */
function entered(what: string, kind: string, entry: Row, refused: RegExp, verb = 'INSERT'): Attack {
  return told(what, [enter(kind, entry, verb), seal()], refused);
}

/** The checks of the tables hold where the triggers do not. */
function unguarded(what: string, kind: string, entry: Row, more: readonly string[] = []): Attack {
  return told(`${what}, unguarded`, [...UNGUARDED, ...more, enter(kind, entry), seal()], CHECK);
}

/** The opposite of entry 21, which has everything that a reversal repeats. */
function returned(reversesId = 21): Row {
  const links = { receipt_id: 1, order_line_id: 1, batch_id: 1 };
  return { ...links, piece_id: 2, reverses_id: reversesId, length_ticks: 10, cost_minor: 2 };
}

function bare(): Row {
  return { piece_id: 2, receipt_id: null, order_line_id: null, batch_id: null };
}

/** The opposite of entry 6, which joined piece 3. */
function unjoined(): Row {
  return { piece_id: 3, reverses_id: 6, length_ticks: -100, cost_minor: -100 };
}
