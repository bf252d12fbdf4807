import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { makeBolt, makeLot, makeStock, openTestHouse, type TestHouse } from '../support.ts';

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

it('asks the book as often for a cloth in many shades as in one', async () => {
  const questions = async (clothId: number) => {
    const [all, first] = [vi.spyOn(house.book, 'all'), vi.spyOn(house.book, 'first')];
    const before = all.mock.calls.length + first.mock.calls.length;
    await house.page(`/shelf/cloths/${clothId}`).expect(200);
    return all.mock.calls.length + first.mock.calls.length - before;
  };
  const { one, many } = house.write((tx) => {
    const stock = makeStock(tx);
    makeBolt(tx, stock.lotId, '5 m');
    const others = Array.from({ length: 6 }, () => makeStock(tx));
    for (const { shadeId } of others) makeBolt(tx, makeLot(tx, others[0]?.clothId ?? 0, shadeId), '3 m');
    return { one: stock.clothId, many: others[0]?.clothId ?? 0 };
  });
  await questions(one);
  expect(await questions(many)).toBe(await questions(one));
});
