import type { Attack } from './attacks.ts';
import { enter, SPARE_PIECE, seal } from './scene.ts';
import type { Row } from './sql.ts';

const SUM = /a balance is the sum of its entries/;
const HOLD_SUM = /a hold is the sum of its entries/;
const CHECK = /CHECK constraint failed/;

/** Balances and holds written by hand, and what each kind of entry may not do to them. */
export const ATTACKS_ON_BALANCES: readonly Attack[] = [
  ...['', ' OR IGNORE', ' OR FAIL', ' OR REPLACE'].flatMap((or) => [
    onTable('piece', `${or} more on hand`, [`UPDATE${or} piece SET on_hand_ticks = 808 WHERE id = 1`], SUM),
    onTable('piece', `${or} less on hand`, [`UPDATE${or} piece SET on_hand_ticks = 806 WHERE id = 1`], SUM),
    onTable('piece', `${or} less held`, [`UPDATE${or} piece SET held_ticks = 0 WHERE id = 1`], SUM),
    onTable('piece', `${or} less cost`, [`UPDATE${or} piece SET cost_minor = 0 WHERE id = 1`], SUM),
    onTable('hold', `${or} less held`, [`UPDATE${or} hold SET held_ticks = 1 WHERE tier_id = 1`], HOLD_SUM),
  ]),
  onTable(
    'piece',
    'length without an entry',
    [`UPDATE piece SET on_hand_ticks = 5 WHERE id = ${SPARE_PIECE}`],
    SUM,
  ),
  onTable('piece', 'NULL on hand', ['UPDATE piece SET on_hand_ticks = NULL'], /NOT NULL/),
  onTable('piece', 'NULL held', ['UPDATE piece SET held_ticks = NULL'], /NOT NULL/),
  onTable('piece', 'NULL for a cost', ['UPDATE piece SET cost_minor = NULL'], /NOT NULL/),
  onTable('hold', 'a hold without an entry', [hold(SPARE_PIECE, 1, 5)], HOLD_SUM),
  onTable('hold', 'a hold of nothing', [hold(SPARE_PIECE, 1, 0)], CHECK),
  onTable('hold', 'a hold of NULL', [hold(SPARE_PIECE, 1, 'NULL')], /NOT NULL/),
  onTable('hold', 'another in its place', [hold(1, 1, 999, 'INSERT OR REPLACE')], HOLD_SUM),
  onTable('hold', 'another piece', [`UPDATE hold SET piece_id = ${SPARE_PIECE} WHERE tier_id = 1`], HOLD_SUM),
  onTable(
    'hold',
    'another piece that holds as much, by UPDATE OR REPLACE',
    [
      enter('released', { tier_id: 1, held_ticks: -90 }),
      enter('held', { piece_id: 3, tier_id: 1, held_ticks: 60 }),
      seal(),
      'UPDATE OR REPLACE hold SET piece_id = 3 WHERE piece_id = 1 AND tier_id = 1',
    ],
    HOLD_SUM,
  ),
  onTable(
    'hold',
    'all that the tier holds',
    ['UPDATE hold SET held_ticks = 165 WHERE piece_id = 1 AND tier_id = 1'],
    HOLD_SUM,
  ),
  onTable('hold', 'its removal', ['DELETE FROM hold WHERE tier_id = 1'], HOLD_SUM),
  ...['UPDATE', 'UPDATE OR REPLACE'].map((verb) =>
    // Both tiers hold 60 of piece 1 then, so that no sum tells them apart.
    onTable(
      'hold',
      `another tier, by ${verb}`,
      [
        enter('released', { tier_id: 1, held_ticks: -90 }),
        seal(),
        `${verb} hold SET tier_id = 3 - tier_id WHERE piece_id = 1 AND tier_id = 1`,
      ],
      /a hold is the sum of its entries|UNIQUE/,
    ),
  ),
  onTable('hold', 'a piece that is not there', [unguardedHold(), hold(999, 1, 5)], /FOREIGN KEY/),
  onTable('hold', 'a tier that is not there', [unguardedHold(), hold(1, 999, 5)], /FOREIGN KEY/),
  onTable('hold', 'half a tick', [unguardedHold(), hold(SPARE_PIECE, 1, 1.5)], /cannot store REAL value/),

  // Each kind of entry, and every number that it may not carry; pieces 1 and 3 have what it takes.
  ...kind('received', { piece_id: SPARE_PIECE, length_ticks: 9, tier_id: 1 }, [
    { held_ticks: 1 },
    { held_ticks: -1 },
  ]),
  ...kind('cut', { length_ticks: -9, tier_id: 1, strips: 1 }, [
    { length_ticks: 0, cost_minor: -1 },
    { length_ticks: 9 },
    { held_ticks: 1 },
    { held_ticks: -10 },
    { cost_minor: 1 },
  ]),
  ...kind('cut', { length_ticks: -9, tier_id: 1, strips: 1 }, [{ tier_id: null }, { strips: null }]),
  ...kind('held', { tier_id: 1, held_ticks: 9 }, [
    { length_ticks: 1 },
    { length_ticks: -1 },
    { held_ticks: 0 },
    { held_ticks: -1 },
    { cost_minor: 1 },
    { cost_minor: -1 },
    { tier_id: null },
  ]),
  ...kind('released', { tier_id: 1, held_ticks: -9 }, [
    { length_ticks: 1 },
    { length_ticks: -1 },
    { held_ticks: 0 },
    { held_ticks: 1 },
    { cost_minor: 1 },
    { cost_minor: -1 },
    { tier_id: null },
  ]),
  ...kind('sent-to-dye', { length_ticks: -9, batch_id: 1, tier_id: 1 }, [
    { length_ticks: 0, cost_minor: -1 },
    { length_ticks: 9 },
    { held_ticks: 1 },
    { held_ticks: -10 },
    { cost_minor: 1 },
    { batch_id: null },
  ]),
  ...kind('shrunk', { length_ticks: -9, batch_id: 1, tier_id: 1 }, [
    { length_ticks: 0 },
    { length_ticks: 9 },
    { held_ticks: 1 },
    { held_ticks: -1 },
    { cost_minor: 1 },
    { cost_minor: -1 },
    { batch_id: null },
  ]),
  ...kind('recounted', { length_ticks: 9, tier_id: 1 }, [
    { length_ticks: 0, cost_minor: -1 },
    { held_ticks: 1 },
    { held_ticks: -1 },
    { cost_minor: 1 },
    { pair_id: 1 },
  ]),
  ...['written-off', 'returned'].flatMap((taking) =>
    kind(taking, { length_ticks: -9, tier_id: 1 }, [
      { length_ticks: 0, cost_minor: -1 },
      { length_ticks: 9 },
      { held_ticks: 1 },
      { held_ticks: -1 },
      { cost_minor: 1 },
    ]),
  ),
  ...kind('lost', { length_ticks: -9 }, [{}]),
  onTable('entry', 'a receipt of no length', [enter('received', { piece_id: SPARE_PIECE }), seal()], CHECK),
  onTable(
    'entry',
    'a cost beyond all bounds',
    [enter('received', { piece_id: SPARE_PIECE, length_ticks: 1, cost_minor: 1_000_000_000_001 }), seal()],
    CHECK,
  ),
  // More than an entry may carry, of a piece that has it.
  onTable('entry', 'a hold beyond all bounds', [...endless(), enter('held', beyond(1)), seal()], CHECK),
  onTable(
    'entry',
    'a release beyond all bounds',
    [...endless(), ...heldTwice(), enter('released', beyond(-1)), seal()],
    CHECK,
  ),
  onTable(
    'entry',
    'a length beyond all bounds',
    [...endless(), enter('written-off', { piece_id: SPARE_PIECE, length_ticks: -16_000_000_001 }), seal()],
    CHECK,
  ),
];

function onTable(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

/** A lawful entry of a kind with one thing wrong at a time. */
function kind(name: string, lawful: Row, wrongs: readonly Row[]): Attack[] {
  return wrongs.map((wrong) =>
    onTable(
      'entry',
      `${name} with ${JSON.stringify(wrong)}`,
      [enter(name, { ...lawful, ...wrong }), seal()],
      /CHECK constraint failed|gives no more length/,
    ),
  );
}

function hold(pieceId: number, tierId: number, ticks: number | string, verb = 'INSERT'): string {
  return `${verb} INTO hold (piece_id, tier_id, held_ticks) VALUES (${pieceId}, ${tierId}, ${ticks})`;
}

function unguardedHold(): string {
  return 'DROP TRIGGER hold_put_follows_entries';
}

/** Fills the spare piece twice over with as much as an entry may carry. */
function endless(): string[] {
  const most = { piece_id: SPARE_PIECE, length_ticks: 16_000_000_000 };
  return [enter('received', most), enter('recounted', most)];
}

function heldTwice(): string[] {
  const most = { piece_id: SPARE_PIECE, tier_id: 1, held_ticks: 16_000_000_000 };
  return [enter('held', most), enter('held', { ...most, held_ticks: 1 })];
}

function beyond(sign: number): Row {
  return { piece_id: SPARE_PIECE, tier_id: 1, held_ticks: sign * 16_000_000_001 };
}
