import BetterSqlite3 from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';

const steps = readMigrationSteps();

/** A book as it was before forms and tiers were built again, with a skirt, its ruffle, and a tier that is gone. */
function olderBook(): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  migrate(
    db,
    steps.filter(({ number }) => number <= 6),
    0,
  );
  const tier = (id: number, drop: string, edges: string, fullness: number) => `
    INSERT INTO tier (id, garment_id, position, name, drop_ticks, edges_tier_id, cloth_id, depth_ticks,
      fullness_milli, ring, seam_ticks, end_ticks, heading_ticks, hang_seam_ticks, hem_ticks, strip_length_ticks,
      finish_repeat, typed, version)
    VALUES (${id}, 1, ${id}, 'Tier ${id}', ${drop}, ${edges}, 1, 4800, ${fullness}, 1, 160, 0, 0, 240, 160, NULL,
      1, '{"a":1}', 3);`;
  db.exec(`
    INSERT INTO shade (name, ground) VALUES ('Sea', 0);
    INSERT INTO cloth (name, construction, width_ticks, usable_width_ticks) VALUES ('Organza', 'organza', 24000, 23520);
    INSERT INTO garment (code, name) VALUES ('G1', 'Skirt');
    INSERT INTO girth VALUES (1, 0, 11200, '{}');
    ${tier(4, '160', 'NULL', 2500)}
    ${tier(6, 'NULL', '4', 2000)}
    ${tier(9, '160', 'NULL', 1000)}
    DELETE FROM tier WHERE id = 9;
    INSERT INTO colour_block VALUES (4, 1, 1, 2, 'any'), (6, 1, 1, 1, 'one');
    INSERT INTO tier_size VALUES (4, 0, 5200, 23520);
  `);
  return db;
}

it('keeps every tier, block, size and number when tiers are built again', () => {
  const db = olderBook();
  migrate(db, steps, 6);
  expect(db.prepare('SELECT * FROM tier').all()).toMatchObject([
    {
      id: 4,
      name: 'Tier 4',
      hangs: 'form',
      drop_ticks: 160,
      on_tier_id: null,
      fullness_milli: 2500,
      ratio_tier_id: null,
      direction: 'across',
      seam_kind: 'plain',
      lower_edge: 'narrow',
      upper_edge: 'seam',
      hang_seam_ticks: 240,
      offset_strips: 0,
      typed: '{"a":1}',
      version: 3,
    },
    { id: 6, hangs: 'edge', drop_ticks: null, on_tier_id: 4, height_ticks: null },
  ]);
  expect(db.prepare('SELECT * FROM colour_block').all()).toEqual([
    { tier_id: 4, position: 1, shade_id: 1, cloth_id: null, strips: 2, lots: 'any' },
    { tier_id: 6, position: 1, shade_id: 1, cloth_id: null, strips: 1, lots: 'one' },
  ]);
  expect(db.prepare('SELECT * FROM tier_size').all()).toEqual([
    { tier_id: 4, after_entry_id: 0, cloth_id: 1, cut_depth_ticks: 5200, strip_length_ticks: 23520 },
  ]);
  expect(
    db.prepare('SELECT profile, meet_centi_delta_e, hoop_width_ticks FROM garment, girth').all(),
  ).toEqual([{ profile: 'straight', meet_centi_delta_e: 100, hoop_width_ticks: null }]);
  expect(db.pragma('foreign_key_check')).toEqual([]);
  // No number is given twice: that of the tier that is gone stays gone.
  db.exec(`INSERT INTO tier (garment_id, position, name, hangs, drop_ticks, cloth_id, depth_ticks, fullness_milli,
    ring, seam_ticks, end_ticks, heading_ticks, hem_ticks, finish_repeat, typed)
    VALUES (1, 7, 'Next', 'form', 0, 1, 1, 1000, 1, 0, 0, 0, 0, 0, '{}')`);
  expect(db.prepare('SELECT max(id) FROM tier').pluck().get()).toBe(10);
});
