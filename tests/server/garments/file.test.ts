import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeStock, makeTier, openTestBook, type TestBook } from '../support.ts';

let opened: TestBook;
let tierId: number;
beforeAll(async () => {
  opened = await openTestBook();
  tierId = opened.write((tx) => makeTier(tx, makeStock(tx)));
});
afterAll(() => opened.close());

/** Runs a statement as another program would, past everything that the app checks. */
function refusal(sql: string): string {
  try {
    opened.book.connection.prepare(sql.replaceAll(':tier', String(tierId))).run();
    return 'taken';
  } catch (error) {
    return error instanceof Error ? error.message : '';
  }
}

describe('the file itself refuses', () => {
  it.each([
    ['a garment without a name', "INSERT INTO garment (code, name) VALUES ('X1', '')"],
    ['a second garment of a code', "INSERT INTO garment (code, name) SELECT code, 'Twin' FROM garment"],
    ['a day that is none', "UPDATE garment SET due_on = '1 April'"],
    ['a version below the first', 'UPDATE garment SET version = 0'],
    ['a change by nobody', 'UPDATE garment SET changed_by_id = 999'],
    ['a change at no moment', "UPDATE garment SET changed_at = 'noon'"],
    ['a girth of nothing', 'UPDATE girth SET girth_ticks = 0'],
    ['two girths at one drop', 'UPDATE girth SET drop_ticks = 5'],
    ['a drop above the waist', 'UPDATE girth SET drop_ticks = -1'],
    ['texts that are no JSON', "UPDATE girth SET typed = 'eh'"],
    ['a tier that hangs from nothing', 'UPDATE tier SET drop_ticks = NULL WHERE id = :tier'],
    ['a tier that hangs twice', 'UPDATE tier SET on_tier_id = 999 WHERE id = :tier'],
    [
      'a tier that edges itself',
      "UPDATE tier SET hangs = 'edge', drop_ticks = NULL, on_tier_id = id WHERE id = :tier",
    ],
    ['a tier of no cloth', 'UPDATE tier SET cloth_id = 999 WHERE id = :tier'],
    ['a fullness below 1', 'UPDATE tier SET fullness_milli = 999 WHERE id = :tier'],
    ['a negative hanging seam', 'UPDATE tier SET hang_seam_ticks = -1 WHERE id = :tier'],
    ['a strip of nothing', 'UPDATE tier SET strip_length_ticks = 0 WHERE id = :tier'],
    ['a block of no strips', 'UPDATE colour_block SET strips = 0'],
    ['a block of no shade', 'UPDATE colour_block SET shade_id = 999'],
    ['a lot rule of its own', "UPDATE colour_block SET lots = 'some'"],
    ['a size without a depth', 'INSERT INTO tier_size SELECT :tier, 0, cloth_id, 0, 100 FROM tier'],
    ['a size of no tier', 'INSERT INTO tier_size SELECT 999, 0, cloth_id, 100, 100 FROM tier'],
    ['a size from before the ledger', 'INSERT INTO tier_size SELECT :tier, -1, cloth_id, 100, 100 FROM tier'],
    ['a tier that goes while it has colour blocks', 'DELETE FROM tier WHERE id = :tier'],
  ])('%s', (_, sql) => {
    expect(refusal(sql)).toMatch(/CHECK|UNIQUE|FOREIGN KEY/);
  });
});
