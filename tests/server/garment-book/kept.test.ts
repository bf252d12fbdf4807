import fc from 'fast-check';
import { afterEach, expect, it, vi } from 'vitest';
import { garmentDaysPage } from '../../../server/by-when/garment-page.ts';
import { cutListPage } from '../../../server/cutting-table/tier/cut-list.ts';
import type { Reader } from '../../../server/database/book.ts';
import { garmentPage } from '../../../server/garment-book/garment-page.ts';
import { bookPage } from '../../../server/garment-book/printed-page.ts';
import { readOpenGarments } from '../../../server/garments/garment/records.ts';
import { stripRowsIn } from '../../../server/garments/garment/strip-rows.ts';
import { readNeeds } from '../../../server/short/queries.ts';
import { METRIC } from '../../../src/quantity/length-show.ts';
import { makeWorkroom, plan, steps, take, VERB_NAMES } from '../short/needs-at-work.ts';
import { asker, openTestBook, type TestBook } from '../support.ts';

// Of a book, pages keep what they read until something is written (`database/kept.ts`).

const SEQUENCES = 20;
const SEQUENCES_A_BOOK = 5;
const GARMENTS = 2;
const KEY = /[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g;

let opened: TestBook;
afterEach(() => {
  vi.restoreAllMocks();
  opened.close();
});

/** The pages of the garments that were made first. */
function pagesOf(reader: Reader, today: string): string {
  const garments = readOpenGarments(reader).sort((a, b) => a.id - b.id);
  const pages = garments.slice(0, GARMENTS).flatMap((garment) => [
    garmentPage(reader, garment.code, { units: METRIC, seesPrices: true }, today),
    bookPage(reader, garment.code, asker),
    garmentDaysPage(reader, garment.code, today),
    ...stripRowsIn(garment)
      .slice(0, 2)
      .map(({ id }) => cutListPage(reader, garment.code, id, asker)),
  ]);
  return JSON.stringify(pages).replaceAll(KEY, '');
}

/** True where the pages of the book are as they are worked out from nothing, which is for no reader but the book kept. */
function areAfresh(today = '2026-03-02'): boolean {
  const { book } = opened;
  // What is still being worked out is told as such.
  readNeeds(book, { whole: true });
  const nothingKept: Reader = {
    db: book.db,
    all: (query) => book.all(query),
    first: (query) => book.first(query),
  };
  return pagesOf(book, today) === pagesOf(nothingKept, today);
}

it('is after every step of random sequences what is worked out from nothing', async () => {
  const sequences = fc.sample(steps(VERB_NAMES), { numRuns: SEQUENCES, seed: 17 });
  let plans = 0;
  for (let from = 0; from < SEQUENCES; from += SEQUENCES_A_BOOK) {
    if (from > 0) opened.close();
    opened = await openTestBook();
    const place = makeWorkroom(opened);
    for (const sequence of sequences.slice(from, from + SEQUENCES_A_BOOK)) {
      for (const step of sequence) {
        const ended = take(opened, place, step);
        if (ended.endsWith('done')) expect(areAfresh(), `${step}`).toBe(true);
      }
      if (!plan(opened)) continue;
      plans += 1;
      // What the planner finds is not written.
      expect(areAfresh(), 'a plan').toBe(true);
    }
  }
  expect(plans).toBeGreaterThan(2);
});

it('is another on another day', async () => {
  opened = await openTestBook();
  const place = makeWorkroom(opened);
  take(opened, place, ['due day', 0, 0, 5]);
  expect(areAfresh('2026-03-02')).toBe(true);
  expect(pagesOf(opened.book, '2026-03-09')).not.toBe(pagesOf(opened.book, '2026-03-02'));
  expect(areAfresh('2026-03-09')).toBe(true);
});

it('goes stale where it is not told that something was written', async () => {
  opened = await openTestBook();
  const place = makeWorkroom(opened);
  const { book } = opened;
  const first = book.first.bind(book);
  vi.spyOn(book, 'first').mockImplementation((query) =>
    query.compile().sql.includes('total_changes') ? ({ changes: 1 } as never) : first(query),
  );
  expect(areAfresh()).toBe(true);
  for (const verb of ['girth', 'cloth as a whole', 'due day'] as const) {
    take(opened, place, [verb, 0, 0, 7]);
    expect(areAfresh(), verb).toBe(false);
  }
});
