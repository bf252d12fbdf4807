import BetterSqlite3 from 'better-sqlite3';
import type { MigrationStep } from '../../server/database/migrate.ts';
import { perform } from './perform.ts';
import { LAWFUL, REQUEST } from './rows.ts';
import { enterSupply, SECOND, SPLIT_WORK, SUPPLIES, SUPPLY_WORK } from './rows-of-supplies.ts';
import { SHELF } from './shelf.ts';
import { insert, quoted, type Row, type Value } from './sql.ts';

/** A statement that puts an entry in the ledger; what is not said of it is nothing. */
export function enter(kind: string, entry: Row, verb = 'INSERT'): string {
  const nothing = { piece_id: 1, length_ticks: 0, held_ticks: 0, cost_minor: 0, request_key: 'request-new' };
  const { at, person_id } = LAWFUL.entry as Row;
  return insert(
    'entry',
    { ...nothing, at: at as Value, person_id: person_id as Value, kind, ...entry },
    verb,
  );
}

/** A statement that writes the request of the entries before it. */
export function seal(key = 'request-new', request: Row = {}): string {
  return insert('request', { ...REQUEST, key, ...request });
}

/** A statement that makes an empty piece. */
export function piece(id: number, made: Row = {}): string {
  return insert('piece', { id, code: `B${id}`, kind: 'bolt', lot_id: 1, usable_width_ticks: 100, ...made });
}

/** A piece of 84 ticks for 84, of which use 1 holds 13, use 2 holds 9 and tier 1 holds 12. */
export const USED_PIECE = 50;

interface Done {
  /** who did it and when, where it was not the first maker at noon */
  readonly by?: Row;
  readonly pieces?: readonly string[];
  readonly entries: readonly [kind: string, entry: Row][];
}

/** Lawful work of every kind, a request a line. Entries are numbered from 1 in this order. */
const WORK: readonly Done[] = [
  {
    pieces: [piece(1), piece(2)],
    entries: [
      ['received', { length_ticks: 1000, cost_minor: 1000 }],
      ['received', { piece_id: 2, length_ticks: 500, cost_minor: 100, receipt_id: 1, order_line_id: 1 }],
      ['held', { tier_id: 1, held_ticks: 200 }],
      ['held', { tier_id: 2, held_ticks: 100 }],
    ],
  },
  {
    pieces: [piece(3, { parent_id: 1 })],
    entries: [
      ['split-off', { length_ticks: -100, cost_minor: -100, pair_id: 6 }],
      ['joined', { piece_id: 3, length_ticks: 100, cost_minor: 100, pair_id: 5 }],
    ],
  },
  {
    pieces: [piece(4, { parent_id: 1, usable_width_ticks: 40 })],
    entries: [
      ['cut', { length_ticks: -100, held_ticks: -50, cost_minor: -100, tier_id: 1, strips: 2 }],
      ['joined', { piece_id: 4, length_ticks: 50, cost_minor: 20, pair_id: 7 }],
    ],
  },
  { entries: [['sent-to-dye', { piece_id: 2, length_ticks: -200, cost_minor: -40, batch_id: 1 }]] },
  {
    pieces: [piece(5, { lot_id: 3, parent_id: 2 })],
    entries: [
      ['back-from-dye', { piece_id: 5, length_ticks: 200, cost_minor: 40, batch_id: 1, pair_id: 9 }],
      ['shrunk', { piece_id: 5, length_ticks: -5, batch_id: 1 }],
    ],
  },
  { entries: [['sent-to-dye', { piece_id: 2, length_ticks: -100, cost_minor: -20, batch_id: 1 }]] },
  { entries: [['written-off', { piece_id: 2, length_ticks: -10, cost_minor: -2 }]] },
  { entries: [['reversed', { piece_id: 2, length_ticks: 10, cost_minor: 2, reverses_id: 13 }]] },
  // A split with a hold in it, and its undoing.
  {
    pieces: [piece(6, { parent_id: 1 })],
    entries: [
      ['split-off', { length_ticks: -50, held_ticks: -10, tier_id: 1, cost_minor: -50, pair_id: 16 }],
      ['joined', { piece_id: 6, length_ticks: 50, held_ticks: 10, tier_id: 1, cost_minor: 50, pair_id: 15 }],
    ],
  },
  {
    entries: [
      [
        'reversed',
        {
          piece_id: 6,
          length_ticks: -50,
          held_ticks: -10,
          tier_id: 1,
          cost_minor: -50,
          pair_id: 18,
          reverses_id: 16,
        },
      ],
      ['reversed', { length_ticks: 50, held_ticks: 10, tier_id: 1, cost_minor: 50, reverses_id: 15 }],
    ],
  },
  { entries: [['released', { tier_id: 2, held_ticks: -40 }]] },
  {
    by: { person_id: 2, at: '2026-03-03T08:30:00.000Z' },
    entries: [
      ['recounted', { length_ticks: 7 }],
      [
        'returned',
        { piece_id: 2, length_ticks: -10, cost_minor: -2, receipt_id: 1, order_line_id: 1, batch_id: 1 },
      ],
    ],
  },
  // Sent, back, un-done twice over, and brought back again.
  {
    pieces: [piece(7, { lot_id: 3, parent_id: 2 }), piece(8, { lot_id: 3, parent_id: 2 })],
    entries: [
      ['sent-to-dye', { piece_id: 2, length_ticks: -20, cost_minor: -4, batch_id: 1 }],
      ['back-from-dye', { piece_id: 7, length_ticks: 20, cost_minor: 5, batch_id: 1, pair_id: 22 }],
      ['reversed', { piece_id: 7, length_ticks: -20, cost_minor: -5, batch_id: 1, reverses_id: 23 }],
      ['back-from-dye', { piece_id: 8, length_ticks: 20, cost_minor: 4, batch_id: 1, pair_id: 22 }],
      ['reversed', { piece_id: 8, length_ticks: -20, cost_minor: -4, batch_id: 1, reverses_id: 25 }],
      ['reversed', { piece_id: 2, length_ticks: 20, cost_minor: 4, batch_id: 1, reverses_id: 22 }],
    ],
  },
  // A cut with two remnants kept, all undone.
  {
    pieces: [
      piece(9, { parent_id: 1, usable_width_ticks: 50 }),
      piece(10, { parent_id: 1, usable_width_ticks: 50 }),
    ],
    entries: [
      ['cut', { length_ticks: -10, cost_minor: -10, tier_id: 2, strips: 1 }],
      ['joined', { piece_id: 9, length_ticks: 10, cost_minor: 5, pair_id: 28 }],
      ['joined', { piece_id: 10, length_ticks: 10, cost_minor: 5, pair_id: 28 }],
      ['reversed', { piece_id: 10, length_ticks: -10, cost_minor: -5, reverses_id: 30 }],
      ['reversed', { piece_id: 9, length_ticks: -10, cost_minor: -5, reverses_id: 29 }],
      ['reversed', { length_ticks: 10, cost_minor: 10, tier_id: 2, reverses_id: 28 }],
    ],
  },
  {
    pieces: [piece(11, { lot_id: 3, parent_id: 5 })],
    entries: [
      ['split-off', { piece_id: 5, length_ticks: -20, cost_minor: -4, pair_id: 35 }],
      ['joined', { piece_id: 11, length_ticks: 20, cost_minor: 4, pair_id: 34 }],
    ],
  },
  // Two tiers hold of one piece, and one gives all of it back.
  {
    entries: [
      ['held', { piece_id: 5, tier_id: 1, held_ticks: 3 }],
      ['held', { piece_id: 5, tier_id: 2, held_ticks: 4 }],
      ['released', { piece_id: 5, tier_id: 2, held_ticks: -4 }],
    ],
  },
  // A drop that two tiers share, with a remnant as long as the drop, all undone.
  {
    pieces: [piece(40, { parent_id: 3, usable_width_ticks: 50 })],
    entries: [
      ['cut', { piece_id: 3, length_ticks: -5, cost_minor: -5, tier_id: 1, strips: 1 }],
      ['cut', { piece_id: 3, length_ticks: -5, cost_minor: -5, tier_id: 2, strips: 1 }],
      ['joined', { piece_id: 40, length_ticks: 10, cost_minor: 5, pair_id: 39 }],
      ['reversed', { piece_id: 40, length_ticks: -10, cost_minor: -5, reverses_id: 41 }],
      ['reversed', { piece_id: 3, length_ticks: 5, cost_minor: 5, tier_id: 2, reverses_id: 40 }],
      ['reversed', { piece_id: 3, length_ticks: 5, cost_minor: 5, tier_id: 1, reverses_id: 39 }],
    ],
  },
  // A piece that a tier and two other uses hold of, one use of another piece too: one is cut out of its hold with a
  // remnant kept, another is cut and uncut, and a split takes a hold with it.
  {
    pieces: [
      piece(USED_PIECE),
      piece(51, { parent_id: USED_PIECE, usable_width_ticks: 50 }),
      piece(52, { parent_id: USED_PIECE }),
    ],
    entries: [
      ['received', { piece_id: USED_PIECE, length_ticks: 100, cost_minor: 100 }],
      ['held', { piece_id: USED_PIECE, other_use_id: 1, held_ticks: 20 }],
      ['held', { piece_id: USED_PIECE, other_use_id: 2, held_ticks: 8 }],
      ['held', { piece_id: USED_PIECE, tier_id: 1, held_ticks: 12 }],
      ['cut', { piece_id: USED_PIECE, length_ticks: -10, held_ticks: -5, cost_minor: -10, other_use_id: 1 }],
      ['joined', { piece_id: 51, length_ticks: 10, cost_minor: 5, pair_id: 49 }],
      ['released', { piece_id: USED_PIECE, other_use_id: 2, held_ticks: -8 }],
      ['held', { piece_id: USED_PIECE, other_use_id: 2, held_ticks: 9 }],
      ['cut', { piece_id: USED_PIECE, length_ticks: -4, held_ticks: -4, cost_minor: -4, other_use_id: 2 }],
      [
        'reversed',
        {
          piece_id: USED_PIECE,
          length_ticks: 4,
          held_ticks: 4,
          cost_minor: 4,
          other_use_id: 2,
          reverses_id: 53,
        },
      ],
      [
        'split-off',
        {
          piece_id: USED_PIECE,
          length_ticks: -6,
          held_ticks: -2,
          other_use_id: 1,
          cost_minor: -6,
          pair_id: 56,
        },
      ],
      [
        'joined',
        { piece_id: 52, length_ticks: 6, held_ticks: 2, other_use_id: 1, cost_minor: 6, pair_id: 55 },
      ],
      ['held', { piece_id: 5, other_use_id: 1, held_ticks: 6 }],
    ],
  },
  // A piece of which two baths of batch 1 got some: the first bath is back.
  {
    pieces: [piece(60), piece(61, { lot_id: 6, parent_id: 60 })],
    entries: [
      ['received', { piece_id: 60, length_ticks: 100, cost_minor: 100 }],
      ['sent-to-dye', { piece_id: 60, length_ticks: -40, cost_minor: -40, batch_id: 1, bath: 1 }],
      [
        'back-from-dye',
        { piece_id: 61, length_ticks: 40, cost_minor: 40, batch_id: 1, bath: 1, pair_id: 59 },
      ],
      ['sent-to-dye', { piece_id: 60, length_ticks: -30, cost_minor: -30, batch_id: 1, bath: 2 }],
    ],
  },
  // A piece of which two lengths go back to the supplier: see `CREDITED`.
  {
    pieces: [piece(62)],
    entries: [
      ['received', { piece_id: 62, length_ticks: 100, cost_minor: 100 }],
      ['returned', { piece_id: 62, length_ticks: -10, cost_minor: -10 }],
      ['returned', { piece_id: 62, length_ticks: -5, cost_minor: -5 }],
    ],
  },
];

const ENTERED = WORK.reduce((count, { entries }) => count + entries.length, 0);

/** Credit comes for one of two returns, and the other is undone. */
const CREDITED: readonly string[] = [
  insert('return_credit', {
    ...LAWFUL.return_credit,
    entry_id: ENTERED - 1,
    come_minor: null,
    come_on: null,
  }),
  insert('return_credit', { ...LAWFUL.return_credit, entry_id: ENTERED }),
  'BEGIN',
  enter('reversed', {
    piece_id: 62,
    length_ticks: 10,
    cost_minor: 10,
    reverses_id: ENTERED - 1,
    request_key: 'request-back',
  }),
  seal('request-back'),
  'COMMIT',
  `UPDATE return_credit SET come_minor = 2 WHERE entry_id = ${ENTERED}`,
  `UPDATE return_credit SET come_minor = NULL WHERE entry_id = ${ENTERED - 1}`,
];

/** Lots that were judged to be one: 7 with 3, parted and judged again by eye; 9 with 8, parted. */
const JOINED: readonly string[] = [
  ...joined('j1', insert('lot_join', { ...LAWFUL.lot_join, lot_id: 7, request_key: 'request-j1' })),
  ...joined('j2', "UPDATE lot_join SET undone_key = 'request-j2' WHERE id = 1"),
  ...joined(
    'j3',
    insert('lot_join', {
      ...LAWFUL.lot_join,
      lot_id: 7,
      how: 'eye',
      delta_centi: null,
      request_key: 'request-j3',
    }),
  ),
  ...joined('j4', insert('lot_join', { ...LAWFUL.lot_join, lot_id: 9, to_id: 8, request_key: 'request-j4' })),
  ...joined('j5', "UPDATE lot_join SET undone_key = 'request-j5' WHERE id = 3"),
];

function joined(key: string, statement: string): string[] {
  return ['BEGIN', statement, seal(`request-${key}`), 'COMMIT'];
}

/** The number that the first entry of an attack gets, and the first piece that it makes. */
export const NEXT = ENTERED + 2;
export const SPARE_PIECE = 12;
export const NEW_PIECE = 13;

/** A book of these steps in memory, with lawful work in it, open to any statement like any other file. */
export function openScene(steps: readonly MigrationStep[]): BetterSqlite3.Database {
  const db = openEmpty(steps);
  doLawfulWork(db);
  return db;
}

export function openEmpty(steps: readonly MigrationStep[]): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  // A page for each of some 250 tables and indexes is most of a small book, which is copied for every mutant.
  db.pragma('page_size = 512');
  for (const step of steps) db.exec(step.sql);
  return db;
}

const LAWFUL_WORK: readonly string[] = [
  "UPDATE workroom SET currency = 'USD'",
  ...SHELF.map(([table, row]) => insert(table, row)),
  ...WORK.flatMap(({ pieces = [], by = {}, entries }, index) => [
    'BEGIN',
    ...pieces,
    ...entries.map(([kind, entry]) => enter(kind, { ...entry, ...by, request_key: `request-w${index}` })),
    seal(`request-w${index}`, by),
    'COMMIT',
  ]),
  ...CREDITED,
  ...JOINED,
  ...SUPPLIES,
  ...SUPPLY_WORK.flatMap(([kind, entry], index) => [
    'BEGIN',
    enterSupply(kind, { ...entry, request_key: `request-s${index}` }),
    seal(`request-s${index}`, entry.person_id === SECOND.person_id ? SECOND : {}),
    'COMMIT',
  ]),
  ...SPLIT_WORK.flatMap((entries, index) => [
    'BEGIN',
    ...entries.map(([kind, entry]) => enterSupply(kind, { ...entry, request_key: `request-l${index}` })),
    seal(`request-l${index}`),
    'COMMIT',
  ]),
  // A price, while the workroom gets a name, and its currency again.
  insert('order_terms', { ...LAWFUL.order_terms }),
  insert('supply_order_line', { ...LAWFUL.supply_order_line }),
  "UPDATE workroom SET name = 'Loft', currency = 'USD'",
  'DELETE FROM order_terms',
  'DELETE FROM supply_order_line WHERE price_minor IS NOT NULL',
  piece(SPARE_PIECE),
  insert('batch_piece', { batch_id: 1, piece_id: 1, length_ticks: 10 }),
  insert('batch_piece', { batch_id: 1, piece_id: 2, length_ticks: 10 }),
  insert('batch_piece', { batch_id: 2, piece_id: 1, length_ticks: 10 }),
  // Rows that share all of their key but one column.
  ...[
    [1, 1],
    [1, 3],
    [2, 1],
  ].map(([run = 0, position = 0]) => insert('label', { ...LAWFUL.label, label_run_id: run, position })),
  ...[
    [1, 'length', 1],
    [1, 'length', 2],
    [1, 'bolt', 1],
    [2, 'length', 1],
  ].map(([of = 0, putUp = '', length = 0]) =>
    insert('offer_price', { ...LAWFUL.offer_price, offer_id: of, put_up: putUp, length_ticks: length }),
  ),
  insert('list_row', { ...LAWFUL.list_row, row_number: 1 }),
  insert('pleating', { ...LAWFUL.pleating, other_use_id: 2 }),
  insert('cut_lay', { ...LAWFUL.cut_lay, position: 1, cut_key: null }),
  insert('cut_lay', { ...LAWFUL.cut_lay, position: 2, cut_key: null }),
  insert('cut_lay', { ...LAWFUL.cut_lay, plan_id: 2, position: 1, cut_key: null }),
  ...[
    [1, 1],
    [2, 1],
    [2, 2],
  ].map(([lay = 0, tier = 0]) =>
    insert('cut_lay_tier', { ...LAWFUL.cut_lay_tier, lay_id: lay, tier_id: tier }),
  ),
];

export function doLawfulWork(db: BetterSqlite3.Database): void {
  for (const statement of LAWFUL_WORK) perform(db, statement);
}

const readers = new WeakMap<BetterSqlite3.Database, BetterSqlite3.Statement[]>();

/** All that is in the book, to tell whether an attack left something behind. */
export function contents(db: BetterSqlite3.Database): string {
  const ofBook = readers.get(db) ?? readersOf(db);
  readers.set(db, ofBook);
  return JSON.stringify(ofBook.map((reader) => reader.all()));
}

function readersOf(db: BetterSqlite3.Database): BetterSqlite3.Statement[] {
  const tables = db
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
    .pluck()
    .all() as string[];
  return tables.map((table) => db.prepare(`SELECT * FROM ${quoted(table)}`).raw());
}
