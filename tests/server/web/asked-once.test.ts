import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { openTestHouse, type TestHouse } from '../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
});
afterEach(() => house.shut());

it('reads people and the workroom once for a page, however often it asks who works at it', async () => {
  const [all, first] = [vi.spyOn(house.book, 'all'), vi.spyOn(house.book, 'first')];
  await house.page('/shelf/shades').expect(200);
  const asked = [...all.mock.calls, ...first.mock.calls].map(([query]) => query.compile().sql);
  const of = (table: string) => asked.filter((text) => text.includes(`from "${table}"`)).length;
  expect([of('workroom'), asked.filter((text) => text.includes('"left_at" is null')).length]).toEqual([1, 1]);
});
