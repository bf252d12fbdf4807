import BetterSqlite3 from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { LAWFUL } from './rows.ts';
import { shelfOf } from './shelf.ts';
import { insert } from './sql.ts';

const steps = readMigrationSteps();
const BEFORE = steps.findIndex(({ name }) => name.endsWith('-colour-readings.sql'));
const AT = '2026-03-02T12:00:00.000Z';
const LAB = { lab_l: 40.5, lab_a: -5.25, lab_b: 3 };

/** A book as it was when a lot had one colour and a swatch its own: two lots, and three looks at swatches. */
function olderBook(): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  migrate(db, steps.slice(0, BEFORE), 0);
  const { reading_id: _, ...result } = LAWFUL.swatch_result ?? {};
  const colour = { ...LAB, how: 'typed', at: AT, person_id: 2 };
  db.exec(
    [
      ...shelfOf(db),
      insert('swatch_result', { ...result, swatch_id: 2, seen_by: 'photo', ...LAB }),
      insert('swatch_result', { ...result, swatch_id: 2, seen_by: 'eye', ...LAB, state: 'wet' }),
      insert('lot_colour', { ...colour, lot_id: 2 }),
      insert('lot_colour', { ...colour, lot_id: 1, how: 'instrument' }),
      insert('garment', { code: 'G8', name: 'Close', meet_centi_delta_e: 40 }),
      insert('garment', { code: 'G9', name: 'Far', meet_centi_delta_e: 250 }),
    ].join(';\n'),
  );
  return db;
}

it('makes readings of the colours of lots and swatches', () => {
  const db = olderBook();
  migrate(db, steps.slice(0, BEFORE + 1), BEFORE);
  const common = { ...LAB, illuminant: 'D65', observer: '2', read_on: '2026-03-02', undone_key: null };
  expect(db.prepare('SELECT * FROM colour_reading ORDER BY id').all()).toMatchObject([
    { ...common, id: 3, swatch_id: 2, lot_id: null, how: 'photo card', uncertainty_centi: 400, state: 'dry' },
    { ...common, id: 4, swatch_id: 2, lot_id: null, how: 'eye', uncertainty_centi: 800, state: 'wet' },
    { ...common, id: 5, lot_id: 1, swatch_id: null, how: 'instrument', uncertainty_centi: 50, person_id: 2 },
    { ...common, id: 6, lot_id: 2, swatch_id: null, how: 'list', uncertainty_centi: 100, person_id: 2 },
  ]);
  const results = db.prepare('SELECT id, swatch_id, verdict, seen_by, reading_id FROM swatch_result').all();
  expect(results).toEqual([
    { id: 1, swatch_id: 1, verdict: 'approved', seen_by: 'instrument', reading_id: null },
    { id: 2, swatch_id: 1, verdict: 'approved', seen_by: 'instrument', reading_id: null },
    { id: 3, swatch_id: 2, verdict: 'approved', seen_by: 'photo', reading_id: 3 },
    { id: 4, swatch_id: 2, verdict: 'approved', seen_by: 'eye', reading_id: 4 },
  ]);
  expect(db.pragma('foreign_key_check')).toEqual([]);
  expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
  expect(db.prepare("SELECT seq FROM sqlite_sequence WHERE name = 'swatch_result'").pluck().get()).toBe(4);
});

it('keeps the limit of each garment, and looks from there to one and a half', () => {
  const db = olderBook();
  migrate(db, steps.slice(0, BEFORE + 1), BEFORE);
  const limits = 'SELECT code, meet_centi_delta_e AS meet, look_centi_delta_e AS look FROM garment';
  expect(db.prepare(limits).all()).toEqual([
    { code: 'G1', meet: 100, look: 50 },
    { code: 'G3', meet: 100, look: 50 },
    { code: 'G8', meet: 40, look: 110 },
    { code: 'G9', meet: 250, look: 0 },
  ]);
});
