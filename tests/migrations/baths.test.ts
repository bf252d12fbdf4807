import BetterSqlite3 from 'better-sqlite3';
import { expect, it } from 'vitest';
import { migrate, readMigrationSteps } from '../../server/database/migrate.ts';
import { enter, piece, seal } from './scene.ts';
import { shelfOf } from './shelf.ts';

const steps = readMigrationSteps();
const BEFORE = steps.findIndex(({ name }) => name.endsWith('-baths.sql'));

/** A book as it was before baths were lots: of batch 1 one length is back in lot 3 and one is in the pot. */
function olderBook(): BetterSqlite3.Database {
  const db = new BetterSqlite3(':memory:');
  migrate(db, steps.slice(0, BEFORE), 0);
  const work = [
    piece(1),
    piece(2, { lot_id: 3, parent_id: 1 }),
    enter('received', { length_ticks: 1000, cost_minor: 1000 }),
    enter('sent-to-dye', { length_ticks: -200, cost_minor: -200, batch_id: 1 }),
    enter('sent-to-dye', { length_ticks: -300, cost_minor: -300, batch_id: 1 }),
    enter('back-from-dye', { piece_id: 2, length_ticks: 200, cost_minor: 210, batch_id: 1, pair_id: 2 }),
    seal(),
  ];
  db.exec(['BEGIN', ...shelfOf(db), ...work, 'COMMIT'].join(';\n'));
  return db;
}

const rowsOf = (db: BetterSqlite3.Database, table: string) =>
  db.prepare(`SELECT * FROM ${table} ORDER BY 1, 2`).all() as Record<string, unknown>[];

it('keeps every lot, entry and row of the log, and says of none which bath it was of', () => {
  const db = olderBook();
  const tables = ['lot', 'entry', 'batch_log', 'batch_piece', 'batch_amount', 'vessel'];
  const before = tables.map((table) => rowsOf(db, table));
  migrate(db, steps, BEFORE);
  tables.forEach((table, at) => {
    const now = rowsOf(db, table);
    expect(now, table).toMatchObject(before[at] ?? []);
    expect(now, table).toHaveLength(before[at]?.length ?? 0);
  });
  expect(
    rowsOf(db, 'lot').filter(({ bath, joined_to_id }) => bath !== null || joined_to_id !== null),
  ).toEqual([]);
  expect(rowsOf(db, 'entry').filter(({ bath }) => bath !== null)).toEqual([]);
  expect(rowsOf(db, 'vessel')).toMatchObject([{ pots: 1 }]);
});

it('takes what was in the pot back into the lot of the batch, and into no lot of a bath', () => {
  const db = olderBook();
  migrate(db, steps, BEFORE);
  const bringBack = (lotId: number, bath: number | null) =>
    db.exec(
      [
        'BEGIN',
        piece(3, { lot_id: lotId, parent_id: 1 }),
        enter('back-from-dye', {
          piece_id: 3,
          length_ticks: 300,
          cost_minor: 300,
          batch_id: 1,
          bath,
          pair_id: 3,
          request_key: 'request-later',
        }),
        seal('request-later'),
        'COMMIT',
      ].join(';\n'),
    );
  db.exec(
    "INSERT INTO lot (code, cloth_id, shade_id, origin, batch_id, bath) VALUES ('L30', 1, 2, 'dyed', 1, 1)",
  );
  const { lastId } = db.prepare('SELECT max(id) AS lastId FROM lot').get() as { lastId: number };
  expect(() => bringBack(lastId, 1)).toThrow(/what comes back from dyeing/);
  db.exec('ROLLBACK');
  bringBack(3, null);
  expect(rowsOf(db, 'piece').at(-1)).toMatchObject({ lot_id: 3, on_hand_ticks: 300 });
});
