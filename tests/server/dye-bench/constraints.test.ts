import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openTestHouse, type TestHouse } from '../support.ts';
import { furnish, plan } from './recipe/making.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openTestHouse();
  const { piece, recipeId, vesselId } = await furnish(house);
  await plan(house, { recipeId, vesselId, lengths: { [piece.code]: '4' } });
});
afterAll(() => house.shut());

/** Any program that opens the file is held by the file itself. */
function tryTo(sql: string): string {
  const { connection } = house.book;
  connection.exec('SAVEPOINT attempt');
  try {
    connection.exec(sql);
    return 'done';
  } catch (error) {
    return (error as Error).message;
  } finally {
    connection.exec('ROLLBACK TO attempt; RELEASE attempt');
  }
}

const RECIPE = `INSERT INTO recipe (name, version, follows_id, shade_id, fibre, dye_class, liquor_ratio_milli,
  temperature_c, hold_minutes, shrinkage_bp, ph_from_tenths, ph_to_tenths, marks, typed) VALUES `;
const BATCH = `INSERT INTO batch (code, recipe_id, vessel_id, planned_at, person_id, cancelled_at, cancelled_by) VALUES `;

describe('the file itself', () => {
  it.each([
    ['a vessel of nothing', "INSERT INTO vessel (name, volume_ml) VALUES ('Cup', 99)", 'volume_ml'],
    ['a vessel of a pond', "INSERT INTO vessel (name, volume_ml) VALUES ('Pond', 5000001)", 'volume_ml'],
    ['two vessels of one name', "INSERT INTO vessel (name, volume_ml) VALUES ('Small pot', 1000)", 'UNIQUE'],
    [
      'a liquor ratio below one',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 999, 60, 30, 0, NULL, NULL, '{}', '{}')`,
      'liquor_ratio_milli',
    ],
    [
      'a bath of 141 °C',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 141, 30, 0, NULL, NULL, '{}', '{}')`,
      'temperature_c',
    ],
    [
      'no minute of heat',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 0, 0, NULL, NULL, '{}', '{}')`,
      'hold_minutes',
    ],
    [
      'shrinkage above half',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 5001, NULL, NULL, '{}', '{}')`,
      'shrinkage_bp',
    ],
    [
      'half a range of pH',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, 40, NULL, '{}', '{}')`,
      'ph_from_tenths IS NULL',
    ],
    [
      'pH the wrong way round',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, 60, 40, '{}', '{}')`,
      'ph_to_tenths',
    ],
    [
      'marks that are no JSON',
      `${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, NULL, NULL, '{', '{}')`,
      'json_valid',
    ],
    [
      'a first version that follows',
      `${RECIPE} ('A', 1, 1, 1, 'nylon', 'acid', 20000, 60, 30, 0, NULL, NULL, '{}', '{}')`,
      'version = 1',
    ],
    [
      'a second version that follows none',
      `${RECIPE} ('A', 2, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, NULL, NULL, '{}', '{}')`,
      'version = 1',
    ],
    [
      'one version twice',
      `${RECIPE} ('Moss on nylon', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, NULL, NULL, '{}', '{}')`,
      'never replaced',
    ],
    ['a recipe changed', 'UPDATE recipe SET temperature_c = 60', 'never changed'],
    ['a recipe removed', 'DELETE FROM recipe', 'never removed'],
    ['a dye changed', 'UPDATE recipe_dye SET owf_milli = 1', 'never changed'],
    ['a dye removed', 'DELETE FROM recipe_dye', 'never changed'],
    [
      'a dye added once a batch was planned',
      "INSERT INTO recipe_dye VALUES (1, 9, 'Late', 1000, NULL)",
      'never changed',
    ],
    ['21 % of a dye', "INSERT INTO recipe_dye VALUES (99, 1, 'Much', 20001, NULL)", 'owf_milli'],
    ['an auxiliary changed', "UPDATE recipe_auxiliary SET name = 'x'", 'never changed'],
    ['an auxiliary removed', 'DELETE FROM recipe_auxiliary', 'never changed'],
    [
      'an auxiliary added once a batch was planned',
      "INSERT INTO recipe_auxiliary VALUES (1, 9, 'salt', 'as-sold', 'Salt', 'litre', 1, 'own', 'x')",
      'never changed',
    ],
    [
      'an auxiliary by the bucket',
      "INSERT INTO recipe_auxiliary VALUES (99, 1, 'salt', 'as-sold', 'Salt', 'bucket', 1, 'own', 'x')",
      'per IN',
    ],
    [
      'a source of no known kind',
      "INSERT INTO recipe_auxiliary VALUES (99, 1, 'salt', 'as-sold', 'Salt', 'litre', 1, 'hearsay', 'x')",
      'basis IN',
    ],
    ['a batch of another recipe', 'UPDATE batch SET recipe_id = 2', 'keeps its recipe'],
    ['a batch in another vessel', 'UPDATE batch SET vessel_id = 2', 'keeps its recipe'],
    ['a batch removed', 'DELETE FROM batch', 'never removed'],
    [
      'a batch replaced',
      "INSERT OR REPLACE INTO batch (id, code, recipe_id, vessel_id, planned_at, person_id) VALUES (1, 'D1', 1, 1, '2026-03-02T12:00:00.000Z', 1)",
      'never replaced',
    ],
    [
      'a cancelling by nobody',
      "UPDATE batch SET cancelled_at = '2026-03-02T12:00:00.000Z'",
      'cancelled_at IS NULL',
    ],
    ['a card that is no JSON', "UPDATE batch SET card = '{'", 'json_valid'],
    ['a day that is none', "UPDATE batch SET due_on = 'soon'", 'due_on'],
    [
      'two batches of one code',
      `${BATCH} ('D1', 1, 1, '2026-03-02T12:00:00.000Z', 1, NULL, NULL)`,
      'never replaced',
    ],
    [
      'a planned length of nothing',
      'INSERT INTO batch_piece (batch_id, piece_id, length_ticks) VALUES (1, 99, 0)',
      'length_ticks',
    ],
    ['a planned length changed', 'UPDATE batch_piece SET length_ticks = 1', 'keeps its lengths'],
    ['a planned length removed', 'DELETE FROM batch_piece', 'keeps its lengths'],
  ])('refuses %s', (_, sql, reason) => {
    expect(tryTo(sql)).toContain(reason);
  });

  it('takes what is as it should be', () => {
    expect(tryTo(`${RECIPE} ('A', 1, NULL, 1, 'nylon', 'acid', 20000, 60, 30, 0, 40, 55, '{}', '{}')`)).toBe(
      'done',
    );
    expect(tryTo(`${BATCH} ('D9', 1, 1, '2026-03-02T12:00:00.000Z', 1, NULL, NULL)`)).toBe('done');
    expect(tryTo("INSERT INTO vessel (name, volume_ml) VALUES ('Vat', 5000000)")).toBe('done');
  });
});
