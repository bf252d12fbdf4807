import type BetterSqlite3 from 'better-sqlite3';
import type { Attack } from './attacks.ts';
import { LAWFUL } from './rows.ts';
import { seal } from './scene.ts';
import { insert, literal, quoted, type Row, raw, type Value } from './sql.ts';

interface Column {
  readonly name: string;
  readonly type: string;
  readonly notnull: number;
}

/** Tables whose rows are written by triggers or once only: what they refuse is tried statement by statement. */
const BY_HAND = ['hold', 'supply_hold', 'workroom'];

export function tablesOf(db: BetterSqlite3.Database): string[] {
  const sql = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~'";
  return (db.prepare(sql).pluck().all() as string[]).filter((table) => !BY_HAND.includes(table));
}

/** A lawful row of a table with some of its columns changed, and what else its commit needs. */
export function put(table: string, changes: Row = {}): string[] {
  const statement = insert(table, { ...LAWFUL[table], ...changes });
  return table === 'entry' || table === 'supply_entry' ? [statement, seal()] : [statement];
}

/** What another rule refuses first, or what needs more than one column: attacked by hand. */
const OTHERWISE = [
  'entry.piece_id: NULL',
  'entry.piece_id: no such piece',
  'entry.other_use_id: no such other_use',
  'entry.pair_id: no such entry',
  'entry.reverses_id: no such entry',
  'entry.reverses_id: the same again',
  'entry.length_ticks: -16000000001',
  'entry.held_ticks: -16000000001',
  'entry.held_ticks: 16000000001',
  'entry.cost_minor: -1000000000001',
  'piece.code: the same again',
  'cut_lay.plan_id, position: the same again',
  'piece_width.piece_id: NULL',
  'piece_width.piece_id: no such piece',
  'piece_width.was_ticks: NULL',
  'piece.on_hand_ticks: -1',
  'maker_label.recipe_id: no such recipe',
  'recipe.name, version: the same again',
  'recipe.follows_id: the same again',
  'recipe.shade_id: no such shade',
  'lot.code: the same again',
  'lot.joined_to_id: no such lot',
  'lot_join.lot_id: NULL',
  'lot_join.lot_id: no such lot',
  'lot_join.to_id: NULL',
  'lot_join.to_id: no such lot',
  'lot_join.request_key: the same again',
  'lot_join.undone_key: no such request',
  'lot_shade.lot_id: NULL',
  'lot_shade.lot_id: no such lot',
  'lot_shade.shade_id: NULL',
  'lot_shade.shade_id: no such shade',
  'label.batch_id: no such batch',
  'label.place_id: no such place',
  'batch.code: the same again',
  'tier.on_tier_id: no such tier',
  'tier.height_ticks',
  'series.code: the same again',
  'pleating.other_use_id: the same again',
  'photo_set.swatch_id: no such swatch',
  'photo_set.to_swatch_id: no such swatch',
  'photo_set.to_shade_id: no such shade',
  'photo.set_id, sha256: the same again',
  'swatch_job.code: the same again',
  'swatch.job_id, position: the same again',
  'colour_reading.swatch_id: no such swatch',
  'pair_judgement.swatch_id: no such swatch',
  'swatch_result.reading_id: no such colour_reading',
  'pair_judgement.to_swatch_id: no such swatch',
  'pair_judgement.to_shade_id: no such shade',
  'batch_log.undoes_id: no such batch_log',
  'batch_log.undoes_id: the same again',
  'received_cost.entry_id: no such entry',
  'supply_received_cost.supply_entry_id: no such supply_entry',
  'return_credit.entry_id: no such entry',
  'supply.name: the same again',
  'supply.dye_id: no such dye',
  'supply_lot.on_hand: -1',
  'supply_lot.cost_minor: -1',
  'supply_entry.supply_lot_id: NULL',
  'supply_entry.supply_lot_id: no such supply_lot',
  'supply_entry.amount: NULL',
  'supply_entry.cost_minor: NULL',
  'supply_entry.at: ',
  'supply_entry.person_id: ',
  'supply_entry.request_key: no such request',
  'supply_entry.reverses_id: ',
  'supply_entry.receipt_id: no such receipt',
  'supply_entry.order_line_id: no such supply_order_line',
  'supply_entry.split_of_id: no such supply_entry',
  'supply_entry.split_of_id: the same again',
];

/** What every column of every table refuses by itself, read off a sound book. */
export function attacksOnColumns(db: BetterSqlite3.Database): Attack[] {
  return attacksOf(db).filter(({ name }) => !OTHERWISE.some((other) => name.startsWith(other)));
}

function attacksOf(db: BetterSqlite3.Database): Attack[] {
  return tablesOf(db).flatMap((table) => {
    const columns = db.pragma(`table_info(${quoted(table)})`) as Column[];
    const checks = checksOf(db, table);
    return [
      ...columns.flatMap((column) => ofItsType(table, column)),
      ...columns.flatMap(({ name }) =>
        (checks.get(name) ?? []).flatMap(({ check, bad }) =>
          bad.map((value) =>
            attack(
              table,
              name,
              `${shorten(literal(value))} against ${check}`,
              { [name]: value },
              /CHECK constraint failed/,
            ),
          ),
        ),
      ),
      ...referencesOf(db, table),
      ...repeatsOf(db, table),
    ];
  });
}

function ofItsType(table: string, { name, type, notnull }: Column): Attack[] {
  if (!(name in (LAWFUL[table] ?? {}))) return [];
  const attacks: Attack[] = [];
  const of = `${table}.${name}`;
  if (notnull) {
    attacks.push(
      attack(table, name, 'NULL', { [name]: null }, new RegExp(`NOT NULL constraint failed: ${of}`)),
    );
  }
  if (type === 'INTEGER' && !/(^|_)id$|_by$/.test(name)) {
    const refused = new RegExp(`cannot store (REAL|TEXT) value in INTEGER column ${of}`);
    attacks.push(attack(table, name, 'one and a half', { [name]: 1.5 }, refused));
    attacks.push(attack(table, name, 'a word', { [name]: 'many' }, refused));
  }
  if (type === 'TEXT') {
    const blob = raw("CAST('{}' AS BLOB)");
    const refused = new RegExp(`cannot store BLOB value in TEXT column ${of}`);
    attacks.push(attack(table, name, 'bytes', { [name]: blob }, refused));
  }
  return attacks;
}

function referencesOf(db: BetterSqlite3.Database, table: string): Attack[] {
  const keys = db.pragma(`foreign_key_list(${quoted(table)})`) as { from: string; table: string }[];
  return keys.map(({ from, table: parent }) => {
    const nowhere = parent === 'request' ? 'request-nowhere' : 999_999;
    return attack(table, from, `no such ${parent}`, { [from]: nowhere }, /FOREIGN KEY constraint failed/);
  });
}

/** The values of the first row of the table once more, for every set of columns that may hold them once. */
function repeatsOf(db: BetterSqlite3.Database, table: string): Attack[] {
  const indexes = db.pragma(`index_list(${quoted(table)})`) as {
    name: string;
    unique: number;
    origin: string;
  }[];
  return indexes
    .filter(({ unique, origin }) => unique && origin !== 'pk')
    .map(({ name }) => {
      const columns = (db.pragma(`index_info(${quoted(name)})`) as { name: string }[]).map((at) => at.name);
      const where = columns.map((column) => `${quoted(column)} IS NOT NULL`).join(' AND ');
      const known = db.prepare(`SELECT * FROM ${quoted(table)} WHERE ${where}`).get() as Record<
        string,
        Value
      >;
      const repeated = Object.fromEntries(columns.map((column) => [column, known[column] ?? null]));
      return attack(table, columns.join(', '), 'the same again', repeated, /UNIQUE constraint failed/);
    });
}

interface Check {
  readonly check: string;
  readonly bad: readonly Value[];
}

/** The checks that stand beside a column, each with the values just outside it. */
function checksOf(db: BetterSqlite3.Database, table: string): Map<string, Check[]> {
  const written = db.prepare('SELECT sql FROM sqlite_schema WHERE name = ?').pluck().get(table) as string;
  // Columns that were added later stand in one line behind the others.
  const sql = written.replace(/\) STRICT.*$/, '').replaceAll(/, (?=\w+ (?:INTEGER|TEXT|REAL)\b)/g, ',\n  ');
  const found = new Map<string, Check[]>();
  for (const [, column = '', check = ''] of sql.matchAll(/^ {2}(\w+) [A-Z].*?CHECK \((.*)\),?$/gm)) {
    found.set(column, [{ check, bad: outside(check) }]);
  }
  return found;
}

/** Values that a check of a usual form must refuse; checks of other forms are attacked by hand. */
function outside(check: string): Value[] {
  const words = (count: number) => 'x'.repeat(count);
  const between = /^(length\()?\w+\)? BETWEEN (-?\d+) AND (-?\d+)$/.exec(check);
  if (between) {
    const [least, most] = [Number(between[2]), Number(between[3])];
    return between[1] ? [words(least - 1), words(most + 1)] : [least - 1, most + 1];
  }
  const length = /^length\(\w+\) (<=|=) (\d+)$/.exec(check);
  if (length)
    return [words(Number(length[2]) + 1), ...(length[1] === '=' ? [words(Number(length[2]) - 1)] : [])];
  const over = /^\w+ (>=|>) (\d+)$/.exec(check);
  if (over) return [over[1] === '>' ? Number(over[2]) : Number(over[2]) - 1];
  if (/ IN \((\d+, )*\d+\)$/.test(check)) return [2, -1];
  if (/ IN \('/.test(check)) return ['elsewhere'];
  if (/^\w+ GLOB /.test(check)) return ['yesterday', '2026-03-02 12:00'];
  if (/json_valid\(\w+\)$/.test(check)) return ['{'];
  return [];
}

function attack(table: string, column: string, what: string, changes: Row, refused: RegExp): Attack {
  return { name: `${table}.${column}: ${what}`, table, statements: put(table, changes), refused };
}

function shorten(text: string): string {
  return text.length > 24 ? `${text.slice(0, 20)}… of ${text.length}` : text;
}
