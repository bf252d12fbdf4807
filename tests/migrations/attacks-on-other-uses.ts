import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { told } from './attacks-on-entries.ts';
import { enter, NEW_PIECE, NEXT, piece, seal, USED_PIECE } from './scene.ts';
import type { Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const NOWHERE = /FOREIGN KEY constraint failed/;
const TWICE = /UNIQUE constraint failed/;
const HOLD_SUM = /a hold is the sum of its entries/;
const USE_NO_MORE = /a tier or another use gives no more length than it holds/;
const UNGUARDED_HOLD = 'DROP TRIGGER hold_put_follows_entries';

/** What is refused of lengths that are cut and held for something besides a tier. Entry 51 released use 2. */
export const ATTACKS_ON_OTHER_USES: readonly Attack[] = [
  { name: 'other_use: none that is known, and no note', ...onUses(put('other_use', { kind: 'other' })) },
  ...['INSERT', 'INSERT OR IGNORE', 'INSERT OR FAIL'].map((verb) => ({
    ...told(
      `more than the use holds, ${verb}`,
      [enter('released', used({ other_use_id: 2, held_ticks: -10 }), verb)],
      USE_NO_MORE,
    ),
    stubborn: true,
  })),
  entered(
    'cut out of the hold of another use',
    'cut',
    { other_use_id: 2, length_ticks: -12, held_ticks: -12 },
    USE_NO_MORE,
  ),
  entered(
    'cut out of the hold of a tier',
    'cut',
    { other_use_id: 2, length_ticks: -12, held_ticks: -10 },
    USE_NO_MORE,
  ),
  entered('cut for a use that is not there', 'cut', { other_use_id: 999, length_ticks: -1 }, NOWHERE),
  entered('cut for nothing', 'cut', { length_ticks: -1 }, CHECK),
  entered(
    'cut for a tier and a use',
    'cut',
    { other_use_id: 1, tier_id: 1, strips: 1, length_ticks: -1 },
    CHECK,
  ),
  entered('strips of a use', 'cut', { other_use_id: 1, strips: 1, length_ticks: -1 }, CHECK),
  entered('strips of nothing', 'recounted', { strips: 1, length_ticks: -1 }, CHECK),
  entered(
    'a reversal for another use',
    'reversed',
    { other_use_id: 1, held_ticks: 8, reverses_id: 51 },
    /the exact opposite of its entry/,
  ),
  told(
    'a split whose other half holds for another use',
    [
      piece(NEW_PIECE, { parent_id: USED_PIECE }),
      enter(
        'split-off',
        used({ length_ticks: -6, held_ticks: -2, cost_minor: -6, other_use_id: 1, pair_id: NEXT + 1 }),
      ),
      enter('joined', {
        piece_id: NEW_PIECE,
        length_ticks: 6,
        held_ticks: 2,
        cost_minor: 6,
        other_use_id: 2,
        pair_id: NEXT,
      }),
      seal(),
    ],
    /what a split takes off is what the new piece gets/,
  ),
  onHolds('for nothing', [UNGUARDED_HOLD, hold(USED_PIECE, 'NULL', 'NULL', 5)], CHECK),
  onHolds('for a tier and a use', [UNGUARDED_HOLD, hold(11, 1, 1, 5)], CHECK),
  onHolds('for a use that is not there', [UNGUARDED_HOLD, hold(11, 'NULL', 999, 5)], NOWHERE),
  onHolds('of no piece', [UNGUARDED_HOLD, hold('NULL', 'NULL', 1, 5)], /NOT NULL constraint failed/),
  onHolds('for a use, without an entry', [hold(11, 'NULL', 1, 5)], HOLD_SUM),
  onHolds('for a tier once more', [hold(USED_PIECE, 1, 'NULL', 12)], TWICE),
  onHolds('for a use once more', [hold(USED_PIECE, 'NULL', 1, 13)], TWICE),
  onHolds('its removal', [`DELETE FROM hold WHERE other_use_id = 2`], HOLD_SUM),
  ...['UPDATE', 'UPDATE OR REPLACE'].map((verb) =>
    // Both uses hold 9 of the piece then, so that no sum tells them apart.
    onHolds(
      `for another use, by ${verb}`,
      [
        enter('released', used({ other_use_id: 1, held_ticks: -4 })),
        seal(),
        `${verb} hold SET other_use_id = 2 WHERE piece_id = ${USED_PIECE} AND other_use_id = 1`,
      ],
      /a hold is the sum of its entries|UNIQUE/,
    ),
  ),
];

function used(entry: Row): Row {
  return { piece_id: USED_PIECE, ...entry };
}

function entered(what: string, kind: string, entry: Row, refused: RegExp): Attack {
  return told(what, [enter(kind, used(entry)), seal()], refused);
}

function onUses(statements: readonly string[]) {
  return { table: 'other_use', statements, refused: CHECK };
}

function onHolds(what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `hold: ${what}`, table: 'hold', statements, refused };
}

function hold(
  pieceId: number | string,
  tierId: number | string,
  useId: number | string,
  ticks: number,
): string {
  const values = [pieceId, tierId, useId, ticks].join(', ');
  return `INSERT INTO hold (piece_id, tier_id, other_use_id, held_ticks) VALUES (${values})`;
}
