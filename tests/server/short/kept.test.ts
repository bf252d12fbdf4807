import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { KeptNeeds } from '../../../server/short/kept.ts';
import { needsAfresh, readNeeds } from '../../../server/short/queries.ts';
import { FOLLOWED, NOT_FOLLOWED } from '../../../server/short/touched.ts';
import { needKey } from '../../../src/garment/need.ts';
import { openTestBook, type TestBook } from '../support.ts';
import { makeWorkroom, plan, steps, take, VERB_NAMES, type Verb } from './needs-at-work.ts';

const SEQUENCES = 1_500;
// A book grows with every sequence, and with it the time of working all out from nothing.
const SEQUENCES_A_BOOK = 25;

// So many sequences are taken at most until a table that is not followed shows.
const MOST_TO_FIND = 100;

/** By the table that is followed, what writes it. */
const WRITES: Record<string, readonly Verb[]> = {
  piece: ['receive', 'cut', 'hold', 'write off'],
  piece_flaw: ['flaw'],
  lot: ['code of a lot'],
  colour_reading: ['colour of a lot', 'due day'],
  pair_judgement: ['two lots seen', 'due day'],
  cut_plan: ['hold a plan', 'give up a plan'],
  garment: ['due day', 'finish', 'new garment'],
  girth: ['girth'],
  tier: ['change a tier', 'cloth of a tier'],
  colour_block: ['shade of a tier'],
  cloth: ['cloth as a whole'],
  shade: ['shade as a whole'],
  workroom: ['useful remnant', 'hold'],
  person: ['name of a person', 'hold a plan'],
  order: ['state of an order'],
  supplier: ['name of a supplier'],
  batch: ['plan a batch', 'cancel a batch'],
  entry: ['plan a batch', 'start a batch', 'bring a batch back'],
};

let opened: TestBook;
afterEach(() => opened.close());

/** Lets the program do between requests what it has to do. */
async function someTurns(): Promise<void> {
  for (let turn = 0; turn < 10; turn += 1) await new Promise((next) => setImmediate(next));
}

function compare(after: string): void {
  const [kept, afresh] = [readNeeds(opened.book), needsAfresh(opened.book)];
  // The matcher tells what differs, and takes ten times as long.
  if (!isDeepStrictEqual(kept, afresh)) expect(kept, after).toEqual(afresh);
}

describe('what is kept of the needs', () => {
  it('is after every step of random sequences what is worked out from nothing', async () => {
    const tally = new Map<string, number>();
    const sequences = fc.sample(steps(VERB_NAMES), { numRuns: SEQUENCES, seed: 13 });
    let compared = 0;
    let plans = 0;
    for (let from = 0; from < SEQUENCES; from += SEQUENCES_A_BOOK) {
      if (from > 0) opened.close();
      opened = await openTestBook();
      const place = makeWorkroom(opened);
      for (const sequence of sequences.slice(from, from + SEQUENCES_A_BOOK)) {
        for (const step of sequence) {
          const ended = take(opened, place, step);
          tally.set(ended, (tally.get(ended) ?? 0) + 1);
          compare(`${step}`);
          compared += 1;
        }
        if (compared % 3 === 0 && plan(opened)) {
          plans += 1;
          compare('a plan');
        }
      }
    }
    expect(compared).toBeGreaterThan(SEQUENCES);
    expect(plans).toBeGreaterThan(20);
    for (const verb of VERB_NAMES) expect(tally.get(`${verb}: done`), verb).toBeGreaterThan(10);
  }, 240_000);

  it.each(Object.entries(WRITES))('follows %s: without that it goes stale', async (table, verbs) => {
    opened = await openTestBook();
    const place = makeWorkroom(opened);
    take(opened, place, ['order', 0, 0, 1]);
    readNeeds(opened.book);
    for (const event of ['insert', 'update', 'delete'])
      opened.book.connection.exec(`DROP TRIGGER IF EXISTS temp.touched_by_${table}_${event}`);
    const taken = fc.sample(steps(verbs), { numRuns: MOST_TO_FIND, seed: 31 }).flat();
    const isSeen = taken.some((step) => {
      take(opened, place, step);
      return !isDeepStrictEqual(readNeeds(opened.book), needsAfresh(opened.book));
    });
    expect(isSeen).toBe(true);
  });

  it('follows every table of the book, or says that nothing follows from it', async () => {
    opened = await openTestBook();
    const tables = opened.book.connection
      .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
      .pluck()
      .all();
    const followed = FOLLOWED.map(({ table }) => table);
    expect([...followed, ...NOT_FOLLOWED].sort()).toEqual([...tables].sort());
    expect(Object.keys(WRITES).sort()).toEqual([...followed].sort());
  });

  it('is worked out a turn at a time, and tells how much is not there yet', async () => {
    opened = await openTestBook();
    makeWorkroom(opened);
    const whole = needsAfresh(opened.book);
    expect(whole.lines).toHaveLength(2);
    const kept = new KeptNeeds(opened.book, 1);
    const first = kept.read();
    expect(first.waiting).toBe(1);
    expect(first.found.size).toBe(1);
    await someTurns();
    expect(kept.read()).toMatchObject({ waiting: 0, found: { size: 2 } });
  });

  it('is there for the cloths and shades that are asked for, whatever else is not', async () => {
    opened = await openTestBook();
    makeWorkroom(opened);
    const keys = needsAfresh(opened.book).lines.map(({ cloth, shade }) =>
      needKey({ clothId: cloth.id, shadeId: shade.id }),
    );
    for (const key of keys) {
      const { found } = new KeptNeeds(opened.book, 1).read({ of: new Set([key]) });
      expect([...found.keys()]).toEqual([key]);
    }
  });

  it('misses nothing where the file could not be read for once, and harms nobody who did not ask', async () => {
    opened = await openTestBook();
    const place = makeWorkroom(opened);
    const { book } = opened;
    const kept = new KeptNeeds(book, 1);
    kept.read({ whole: true });
    const failOnce = () =>
      vi.spyOn(book, 'all').mockImplementationOnce(() => {
        throw new Error('disk I/O error');
      });
    take(opened, place, ['new garment', 0, 0, 10]);
    failOnce();
    expect(() => kept.read({ whole: true })).toThrow('disk I/O error');
    const { found } = kept.read({ whole: true });
    const afresh = needsAfresh(book).lines.map(({ wantedStrips }) => wantedStrips);
    expect([...found.values()].flatMap(({ line }) => (line ? [line.wantedStrips] : []))).toEqual(afresh);
    // Between requests: an error that nobody catches would end the program.
    const another = new KeptNeeds(book, 1);
    another.begin();
    const failed = failOnce();
    await someTurns();
    expect(failed).toHaveBeenCalled();
    expect(another.read({ whole: true }).waiting).toBe(0);
  });

  it('is whole where a part would mislead, and for one garment', async () => {
    opened = await openTestBook();
    const place = makeWorkroom(opened);
    expect(new KeptNeeds(opened.book, 1).read({ whole: true }).waiting).toBe(0);
    const [code = ''] = needsAfresh(opened.book).lines[1]?.shares.map(({ garment }) => garment.code) ?? [];
    const ofOne = new KeptNeeds(opened.book, 1).read({ garmentCode: code });
    expect([...ofOne.found.keys()]).toHaveLength(1);
    expect(ofOne.waiting).toBe(0);
    take(opened, place, ['receive', 0, 0, 10]);
    expect(readNeeds(opened.book).waiting).toBe(0);
  });
});
