import type { Attack } from './attacks.ts';
import { put } from './attacks-on-columns.ts';
import { LAWFUL } from './rows.ts';
import { enter, NEW_PIECE, piece, seal } from './scene.ts';
import { insert, type Row } from './sql.ts';

const CHECK = /CHECK constraint failed/;
const BACK = /what comes back from dyeing is what was sent/;
const LIKE = /joins one of its cloth and shade/;

/** The columns of a judgement that stay. */
const KEPT = [
  'id',
  'lot_id',
  'to_id',
  'how',
  'delta_centi',
  'note',
  'at',
  'person_id',
  'request_key',
] as const;

/**
 * What baths as lots refuse. Of batch 1 entry 61 is in bath 2: 30 ticks of piece 60 for 30. Lot 6 is of bath 1, lot 7 of
 * bath 2 and joined to lot 3, lot 9 was joined to lot 8 and parted.
 */
export const ATTACKS_ON_BATHS: readonly Attack[] = [
  back('of another bath', { bath: 1 }, { lot_id: 6 }),
  back("of another bath's lot", {}, { lot_id: 6 }),
  back('of no bath', { bath: null }, { lot_id: 3 }),
  told(
    'entry',
    'a reversal in another bath',
    [
      enter('reversed', {
        piece_id: 60,
        length_ticks: 30,
        cost_minor: 30,
        batch_id: 1,
        bath: 1,
        reverses_id: 61,
      }),
      seal(),
    ],
    /exact opposite/,
  ),
  told('entry', 'a bath before the first', put('entry', { bath: 0 }), CHECK),
  told('entry', 'a bath beyond all', put('entry', { bath: 101 }), CHECK),
  told('entry', 'a bath of no batch', put('entry', { bath: 1, batch_id: null }), CHECK),
  told('lot', 'a bath of no batch', put('lot', { origin: 'mill', batch_id: null, bath: 1 }), CHECK),
  told('lot', 'another bath', ['UPDATE lot SET bath = 9 WHERE id = 6'], /keeps its cloth/),
  told('lot', 'a lot that starts joined', put('lot', { joined_to_id: 3 }), /starts alone/),
  told(
    'lot',
    'joined to nothing',
    ['DROP TRIGGER lot_starts_alone', ...put('lot', { joined_to_id: 999_999 })],
    /FOREIGN KEY/,
  ),
  told('lot', 'joined by nobody', ['UPDATE lot SET joined_to_id = 3 WHERE id = 8'], /by a judgement/),
  told('lot', 'parted by nobody', ['UPDATE lot SET joined_to_id = NULL WHERE id = 7'], /by a judgement/),
  told(
    'lot',
    'joined by a judgement that is undone',
    ['UPDATE lot SET joined_to_id = 8 WHERE id = 9'],
    /by a judgement/,
  ),
  joins('of another cloth', { lot_id: 4 }, LIKE),
  joins('of another shade', { lot_id: 10 }, LIKE),
  joins('with itself', { to_id: 8 }, LIKE),
  joins('of a lot that is joined', { lot_id: 7 }, LIKE),
  joins('with a lot that is joined', { to_id: 7 }, LIKE),
  joins('of a lot that others joined', { lot_id: 3, to_id: 8 }, LIKE),
  joins('measured without a figure', { delta_centi: null }, CHECK),
  joins('that is undone at once', { undone_key: 'request-0' }, /by a judgement/),
  told('lot_join', 'its removal', ['DELETE FROM lot_join WHERE id = 2'], /never removed/),
  told(
    'lot_join',
    'undoing twice',
    ["UPDATE lot_join SET undone_key = 'request-0' WHERE id = 3"],
    /undone once/,
  ),
  told(
    'lot_join',
    'undone by nobody',
    ["UPDATE lot_join SET undone_key = 'request-nowhere' WHERE id = 2"],
    /FOREIGN KEY/,
  ),
  ...KEPT.map((column) =>
    told(
      'lot_join',
      `another ${column}`,
      [`UPDATE lot_join SET ${column} = ${column} WHERE id = 2`],
      /never changed/,
    ),
  ),
  told('lot_join', 'another in its place', [replaced({ id: 1 })], /never replaced/),
  told('lot_join', 'another of its request', [replaced({ request_key: 'request-j1' })], /never replaced/),
  told(
    'lot_join',
    'the same request again',
    ['DROP TRIGGER lot_join_never_replaced', ...put('lot_join', { request_key: 'request-j1' })],
    /UNIQUE/,
  ),
  unlike('lot_id', null, /NOT NULL/),
  unlike('to_id', null, /NOT NULL/),
  unlike('lot_id', 999_999, /FOREIGN KEY/),
  unlike('to_id', 999_999, /FOREIGN KEY/),
  told('batch_log', 'a bath that ends murky', put('batch_log', { kind: 'bath end', what: 'murky' }), CHECK),
  told(
    'batch_log',
    'a shade by candlelight',
    put('batch_log', { kind: 'shade', what: 'candle: match' }),
    CHECK,
  ),
  told(
    'batch_log',
    'a grade between the half steps',
    put('batch_log', { kind: 'fastness', figure: 42 }),
    CHECK,
  ),
  told('batch_log', 'a difference by ear', put('batch_log', { kind: 'difference', what: 'ear' }), CHECK),
];

function told(table: string, what: string, statements: readonly string[], refused: RegExp): Attack {
  return { name: `${table}: ${what}`, table, statements, refused };
}

function back(what: string, entry: Row, made: Row): Attack {
  const lawful = { piece_id: NEW_PIECE, length_ticks: 30, cost_minor: 30, batch_id: 1, bath: 2, pair_id: 61 };
  return told(
    'entry',
    `a length back from dye ${what}`,
    [
      piece(NEW_PIECE, { lot_id: 7, parent_id: 60, ...made }),
      enter('back-from-dye', { ...lawful, ...entry }),
      seal(),
    ],
    BACK,
  );
}

function joins(what: string, changes: Row, refused: RegExp): Attack {
  return told('lot_join', `a judgement ${what}`, put('lot_join', changes), refused);
}

function replaced(changes: Row): string {
  return insert('lot_join', { ...LAWFUL.lot_join, ...changes }, 'INSERT OR REPLACE');
}

/** Without the rule that lots are alike, and without what follows from a judgement. */
function unlike(column: 'lot_id' | 'to_id', value: number | null, refused: RegExp): Attack {
  const aside = ['DROP TRIGGER lot_join_of_its_like', 'DROP TRIGGER lot_join_joins'];
  return told(
    'lot_join',
    `${value} in ${column}`,
    [...aside, ...put('lot_join', { [column]: value })],
    refused,
  );
}
