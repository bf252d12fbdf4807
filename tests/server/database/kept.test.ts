import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Reader } from '../../../server/database/book.ts';
import { keptUntilWritten } from '../../../server/database/kept.ts';
import { makeStock, openTestBook, type TestBook } from '../support.ts';

let opened: TestBook;
let worked: number;
const countShades = keptUntilWritten((reader: Reader) => {
  worked += 1;
  return reader.all(reader.db.selectFrom('shade').select('id')).length;
});

beforeEach(async () => {
  opened = await openTestBook();
  worked = 0;
});
afterEach(() => opened.close());

it('is worked out once, and again when anything was written', () => {
  expect([countShades(opened.book), countShades(opened.book), worked]).toEqual([0, 0, 1]);
  opened.write((tx) => makeStock(tx));
  expect([countShades(opened.book), countShades(opened.book), worked]).toEqual([1, 1, 2]);
});

it('is worked out anew within a write, and nothing of one that is given up is kept', () => {
  expect(countShades(opened.book)).toBe(0);
  const giveUp = () =>
    opened.write((tx) => {
      makeStock(tx);
      expect(countShades(tx)).toBe(1);
      expect(countShades(opened.book)).toBe(1);
      throw new Error('given up');
    });
  expect(giveUp).toThrow('given up');
  expect(countShades(opened.book)).toBe(0);
});

it('is another of every book', async () => {
  opened.write((tx) => makeStock(tx));
  const other = await openTestBook();
  expect([countShades(opened.book), countShades(other.book)]).toEqual([1, 0]);
  other.close();
});

it('is another for every key, and what is undefined is worked out each time', () => {
  const name = keptUntilWritten((_reader: Reader, id: number, what: string) => {
    worked += 1;
    return id === 0 ? undefined : `${what} ${id}`;
  });
  expect([name(opened.book, 1, 'lot'), name(opened.book, 1, 'lot'), name(opened.book, 1, 'piece')]).toEqual([
    'lot 1',
    'lot 1',
    'piece 1',
  ]);
  expect(worked).toBe(2);
  expect([name(opened.book, 0, 'lot'), name(opened.book, 0, 'lot'), worked]).toEqual([
    undefined,
    undefined,
    4,
  ]);
});

it('forgets the first of very many keys', () => {
  const name = keptUntilWritten((_reader: Reader, id: number) => {
    worked += 1;
    return `lot ${id}`;
  });
  for (let id = 0; id < 1000; id += 1) name(opened.book, id);
  expect([name(opened.book, 999), name(opened.book, 0), worked]).toEqual(['lot 999', 'lot 0', 1001]);
});
