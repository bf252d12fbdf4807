import type { Attack } from './attacks.ts';
import { told } from './attacks-on-entries.ts';
import { enter, NEW_PIECE, NEXT, piece, seal } from './scene.ts';
import type { Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const HALF = /half a split names the entry that follows it/;
const OTHER_HALF = /what a split takes off is what the new piece gets/;
const CAME_OFF = /what joins the shelf came off another piece/;
const JOINS = /what joins the shelf/;
const KEPT = /what joins the shelf is no more than came off/;
const BACK = /what comes back from dyeing is what was sent/;

/** Entries that come in pairs: splits, remnants kept of a cut, lengths sent to dye and back. */
export const ATTACKS_ON_PAIRS: readonly Attack[] = [
  // A split of 30 ticks for 30, with 10 of them held.
  split('without its other half', {}, null, /FOREIGN KEY/),
  split('naming an earlier entry', { pair_id: 1 }, {}, HALF),
  split('naming a later entry than the next', { pair_id: NEXT + 2 }, {}, HALF),
  split('naming nothing', { pair_id: null }, null, CHECK),
  split('of no length', { length_ticks: 0, held_ticks: 0, cost_minor: -1 }, null, CHECK),
  split('that adds length', { length_ticks: 5, held_ticks: 0 }, null, CHECK),
  split('that adds a hold', { held_ticks: 1 }, null, CHECK),
  split('that takes more hold than length', { held_ticks: -31 }, null, CHECK),
  split('that adds cost', { cost_minor: 1 }, null, CHECK),
  split('whose other half is longer', {}, { length_ticks: 31 }, /a split takes off|no more than came off/),
  split('whose other half is shorter', {}, { length_ticks: 29 }, OTHER_HALF),
  split('whose other half costs more', {}, { cost_minor: 31 }, /a split takes off|no more than came off/),
  split('whose other half costs less', {}, { cost_minor: 29 }, OTHER_HALF),
  split('whose other half holds less', {}, { held_ticks: 9 }, OTHER_HALF),
  split('whose other half holds for another tier', {}, { tier_id: 2 }, OTHER_HALF),
  split('whose other half names another', {}, { pair_id: 7 }, /what a split takes off|came off another/),
  split('whose other half is another lot', {}, {}, CAME_OFF, { lot_id: 2 }),
  split('whose other half has another parent', {}, {}, CAME_OFF, { parent_id: 2 }),
  split('whose other half has no parent', {}, {}, CAME_OFF, { parent_id: null }),
  split('into a piece that has begun', {}, { piece_id: 4 }, /begins with the one entry/),
  told(
    'a split that a receipt follows',
    [
      piece(NEW_PIECE, { parent_id: 1 }),
      enter('split-off', { length_ticks: -30, cost_minor: -30, pair_id: NEXT + 1 }),
      enter('received', { piece_id: NEW_PIECE, length_ticks: 30, cost_minor: 30 }),
      seal(),
    ],
    OTHER_HALF,
  ),
  told(
    'a split that a reversal follows',
    [
      enter('split-off', { piece_id: 3, length_ticks: -30, cost_minor: -30, pair_id: NEXT + 1 }),
      enter('reversed', { piece_id: 2, reverses_id: 12, length_ticks: 100, cost_minor: 20, batch_id: 1 }),
      seal(),
    ],
    OTHER_HALF,
  ),

  told(
    'a split with a count between its halves',
    [
      piece(NEW_PIECE, { parent_id: 1 }),
      enter('split-off', { length_ticks: -30, cost_minor: -30, pair_id: NEXT + 2 }),
      enter('recounted', { length_ticks: 1 }),
      enter('joined', { piece_id: NEW_PIECE, length_ticks: 30, cost_minor: 30, pair_id: NEXT }),
      seal(),
    ],
    HALF,
  ),
  told(
    'a split whose other half is a remnant of a cut',
    [
      piece(NEW_PIECE, { parent_id: 1 }),
      enter('cut', { length_ticks: -30, cost_minor: -30, tier_id: 2, strips: 1 }),
      enter('split-off', { length_ticks: -5, pair_id: NEXT + 2 }),
      enter('joined', { piece_id: NEW_PIECE, length_ticks: 5, pair_id: NEXT }),
      seal(),
    ],
    OTHER_HALF,
  ),
  split('wider than the piece', {}, {}, KEPT, { usable_width_ticks: 101 }),

  // A remnant.
  joined('that came off nothing', { pair_id: null }, CHECK),
  joined('that came off a receipt', { pair_id: 1 }, JOINS),
  joined("that came off another split's half", { pair_id: 5, length_ticks: 100, cost_minor: 100 }, JOINS),
  joined('that came off an entry to come', { pair_id: NEXT + 1 }, CAME_OFF),
  joined('of no length', { pair_id: 7, length_ticks: 0 }, CHECK),
  joined("of yesterday's cut", { pair_id: 7 }, CAME_OFF),
  kept('of no length', [{ length_ticks: 0 }], CHECK),
  kept('that names another entry', [{ pair_id: 21 }], CAME_OFF),
  told(
    'a remnant of what was written off',
    [
      piece(NEW_PIECE, { parent_id: 1 }),
      enter('written-off', { length_ticks: -30, cost_minor: -30 }),
      enter('joined', { piece_id: NEW_PIECE, length_ticks: 5, pair_id: NEXT }),
      seal(),
    ],
    CAME_OFF,
  ),
  kept('that is held', [{ held_ticks: 1, tier_id: 1 }], CAME_OFF),
  kept('of another lot', [{}], CAME_OFF, { lot_id: 2 }),
  kept('of another parent', [{}], CAME_OFF, { parent_id: 2 }),
  kept('longer than the cut', [{ length_ticks: 31 }], KEPT, { usable_width_ticks: 10 }),
  kept('wider than the piece', [{ length_ticks: 5 }], KEPT, { usable_width_ticks: 101 }),
  kept('for more than the cut', [{ cost_minor: 31 }], KEPT),
  kept('for more than the cut together', [{ cost_minor: 16 }, { cost_minor: 15 }], KEPT, {
    usable_width_ticks: 10,
  }),
  kept('larger than the cut together', [{ length_ticks: 30 }, { length_ticks: 30 }], KEPT, {
    usable_width_ticks: 51,
  }),
  shared('longer than both cuts', 21, [{ length_ticks: -10, tier_id: 2 }]),
  shared('longer than what was cut of its piece', 11, [{ piece_id: 2, length_ticks: -10, tier_id: 2 }]),
  shared('longer than what was cut', 11, [{ kind: 'written-off', length_ticks: -10 }]),
  shared('longer than what stands', 11, [
    { length_ticks: -10, tier_id: 2 },
    { kind: 'reversed', length_ticks: 10, tier_id: 2, reverses_id: NEXT + 1 },
  ]),
  told(
    'a remnant of a cut that is undone',
    [
      piece(NEW_PIECE, { parent_id: 3 }),
      enter('cut', { piece_id: 3, length_ticks: -30, cost_minor: -30, tier_id: 1, strips: 1 }),
      enter('reversed', { piece_id: 3, length_ticks: 30, cost_minor: 30, tier_id: 1, reverses_id: NEXT }),
      enter('joined', { piece_id: NEW_PIECE, length_ticks: 5, pair_id: NEXT }),
      seal(),
    ],
    KEPT,
  ),

  // Of batch 1, entry 12 is in the pot: 100 ticks of piece 2 for 20. Entry 9 came back, entry 22 was undone.
  back('of nothing', { pair_id: null }, CHECK),
  back('of no batch', { batch_id: null }, CHECK),
  back('of no length', { length_ticks: 0, cost_minor: 0 }, CHECK),
  back('that is held', { held_ticks: 1, tier_id: 1 }, CHECK),
  back('that names another entry', { pair_id: 13 }, BACK),
  back('of a length returned', { pair_id: 21, length_ticks: 10, cost_minor: 2 }, BACK),
  back('of what was not sent', { pair_id: 13, length_ticks: 10 }, BACK),
  back('of another batch', { batch_id: 2 }, BACK, { lot_id: 5 }),
  back('longer than it was sent', { length_ticks: 101 }, BACK),
  back('shorter than it was sent', { length_ticks: 99 }, BACK),
  back('for less than it was sent', { cost_minor: 19 }, BACK),
  back('of another lot', {}, BACK, { lot_id: 1 }),
  back("of another batch's lot", {}, BACK, { lot_id: 5 }),
  back("of another cloth's lot", {}, BACK, { lot_id: 4 }),
  back('of another parent', {}, BACK, { parent_id: 1 }),
  back('a second time', { pair_id: 9, length_ticks: 200, cost_minor: 40 }, BACK),
  back('of an undone sending', { pair_id: 22, length_ticks: 20, cost_minor: 4 }, BACK),
];

function split(what: string, off: Row, other: Row | null, refused: RegExp, made: Row = {}): Attack {
  const whole = { length_ticks: -30, held_ticks: -10, cost_minor: -30, tier_id: 1, pair_id: NEXT + 1 };
  const half = { length_ticks: 30, held_ticks: 10, cost_minor: 30, tier_id: 1, pair_id: NEXT };
  return told(
    `a split ${what}`,
    [
      piece(NEW_PIECE, { parent_id: 1, ...made }),
      enter('split-off', { ...whole, ...off }),
      ...(other ? [enter('joined', { piece_id: NEW_PIECE, ...half, ...other })] : []),
      seal(),
    ],
    refused,
  );
}

function joined(what: string, entry: Row, refused: RegExp): Attack {
  const remnant = { piece_id: NEW_PIECE, length_ticks: 5, ...entry };
  return told(
    `a remnant ${what}`,
    [piece(NEW_PIECE, { parent_id: 1 }), enter('joined', remnant), seal()],
    refused,
  );
}

/** Remnants kept of a cut of 30 ticks for 30. */
function kept(what: string, remnants: readonly Row[], refused: RegExp, made: Row = {}): Attack {
  const pieces = remnants.map((_, index) => piece(NEW_PIECE + index, { parent_id: 1, ...made }));
  const cut = enter('cut', { length_ticks: -30, cost_minor: -30, tier_id: 2, strips: 1 });
  const entries = remnants.map((remnant, index) =>
    enter('joined', { piece_id: NEW_PIECE + index, length_ticks: 5, pair_id: NEXT, ...remnant }),
  );
  return told(`a remnant of a cut ${what}`, [...pieces, cut, ...entries, seal()], refused);
}

function back(what: string, entry: Row, refused: RegExp, made: Row = {}): Attack {
  const lawful = { piece_id: NEW_PIECE, length_ticks: 100, cost_minor: 20, batch_id: 1, pair_id: 12 };
  return told(
    `a length back from dye ${what}`,
    [
      piece(NEW_PIECE, { lot_id: 3, parent_id: 2, ...made }),
      enter('back-from-dye', { ...lawful, ...entry }),
      seal(),
    ],
    refused,
  );
}

/** A remnant of a width of 10, of a cut of 10 ticks of piece 1 beside which the request did something else. */
function shared(
  what: string,
  lengthTicks: number,
  others: readonly (Row & { readonly kind?: string })[],
): Attack {
  return told(
    `a remnant of a shared drop ${what}`,
    [
      piece(NEW_PIECE, { parent_id: 1, usable_width_ticks: 10 }),
      enter('cut', { length_ticks: -10, tier_id: 1, strips: 1 }),
      ...others.map(({ kind = 'cut', ...entry }) =>
        enter(String(kind), kind === 'cut' ? { strips: 1, ...entry } : entry),
      ),
      enter('joined', { piece_id: NEW_PIECE, length_ticks: lengthTicks, pair_id: NEXT }),
      seal(),
    ],
    KEPT,
  );
}
