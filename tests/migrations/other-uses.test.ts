import BetterSqlite3 from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { enter, piece, seal } from './scene.ts';
import { shelfOf } from './shelf.ts';

const steps = readMigrationSteps();
const BEFORE = 18;

/** A book as it was before other uses, with holds, a cut and its remnant, a split and an undone length in it. */
function olderBook(): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  migrate(db, steps.slice(0, BEFORE), 0);
  const work = [
    piece(1),
    piece(2, { parent_id: 1, usable_width_ticks: 40 }),
    piece(3, { parent_id: 1 }),
    enter('received', { length_ticks: 1000, cost_minor: 1000 }),
    enter('held', { tier_id: 1, held_ticks: 200 }),
    enter('held', { tier_id: 2, held_ticks: 100 }),
    enter('cut', { length_ticks: -100, held_ticks: -50, cost_minor: -100, tier_id: 1, strips: 2 }),
    enter('joined', { piece_id: 2, length_ticks: 50, cost_minor: 20, pair_id: 4 }),
    enter('split-off', { length_ticks: -100, cost_minor: -100, pair_id: 7 }),
    enter('joined', { piece_id: 3, length_ticks: 100, cost_minor: 100, pair_id: 6 }),
    enter('written-off', { length_ticks: -10, cost_minor: -10, why: 'stained', typed: '1 cm' }),
    seal(),
    enter('reversed', { length_ticks: 10, cost_minor: 10, reverses_id: 8, request_key: 'request-undo' }),
    seal('request-undo'),
  ];
  db.exec(['BEGIN', ...shelfOf(db), ...work, 'COMMIT'].join(';\n'));
  return db;
}

it('keeps every entry, hold and number when the ledger is built again', () => {
  const db = olderBook();
  const rows = (table: string) => db.prepare(`SELECT * FROM ${table} ORDER BY 1, 2`).all() as object[];
  const [entries, holds, pieces] = [rows('entry'), rows('hold'), rows('piece')];
  expect(entries).toHaveLength(9);
  migrate(db, steps.slice(0, BEFORE + 1), BEFORE);
  expect(rows('entry')).toEqual(entries.map((entry) => ({ ...entry, other_use_id: null })));
  expect(rows('hold')).toEqual(holds.map((hold) => ({ ...hold, other_use_id: null })));
  expect(rows('piece')).toEqual(pieces);
  expect(db.pragma('foreign_key_check')).toEqual([]);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.prepare("SELECT name, seq FROM sqlite_sequence WHERE name LIKE 'entry%'").all()).toEqual([
    { name: 'entry', seq: 9 },
  ]);
});

it('goes on in the ledger where it was, for tiers and for other uses', () => {
  const db = olderBook();
  migrate(db, steps.slice(0, BEFORE + 1), BEFORE);
  db.exec(
    [
      'BEGIN',
      "INSERT INTO other_use (kind, garment_id, note, at, person_id) VALUES ('sold', NULL, '', '2026-03-02T12:00:00.000Z', 1)",
      enter('released', { tier_id: 1, held_ticks: -150, request_key: 'request-next' }),
      enter('held', { other_use_id: 1, held_ticks: 30, request_key: 'request-next' }),
      enter('cut', {
        length_ticks: -20,
        held_ticks: -20,
        cost_minor: -20,
        other_use_id: 1,
        request_key: 'request-next',
      }),
      seal('request-next'),
      'COMMIT',
    ].join(';\n'),
  );
  expect(db.prepare('SELECT * FROM hold ORDER BY held_ticks').all()).toEqual([
    { piece_id: 1, tier_id: null, other_use_id: 1, held_ticks: 10 },
    { piece_id: 1, tier_id: 2, other_use_id: null, held_ticks: 100 },
  ]);
  expect(db.prepare('SELECT max(id) FROM entry').pluck().get()).toBe(12);
  expect(() => db.exec('DELETE FROM entry')).toThrow('an entry is never removed');
  expect(() => db.exec("UPDATE workroom SET currency = 'USD'")).toThrow('the currency stays');
});
