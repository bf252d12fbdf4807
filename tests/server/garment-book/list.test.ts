import { afterEach, beforeEach, expect, it } from 'vitest';
import { makeStock, makeTier, openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

it('has open garments and finished ones behind each other on its pages', async () => {
  house.write((tx) => {
    for (let made = 0; made < 23; made += 1) makeTier(tx, makeStock(tx));
    tx.run(tx.db.updateTable('garment').set({ finished_at: tx.at }).where('id', '>', 18));
  });
  const [first, second] = await Promise.all(
    ['', '?page=2'].map(async (query) => (await house.data(`/garments${query}`).expect(200)).body),
  );
  expect([first.open.length, first.finished.length]).toEqual([18, 2]);
  expect([second.open.length, second.finished.length]).toEqual([0, 3]);
  const codes = [...first.finished, ...second.finished].map(({ code }: { code: string }) => code);
  expect(new Set(codes).size).toBe(5);
  const page = await house.page('/garments?page=2').expect(200);
  expect(page.text).toContain('21–23 of 23 garments');
  expect(page.text).not.toContain('All garments are finished');
});
