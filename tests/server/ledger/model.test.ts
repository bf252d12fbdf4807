import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkBook } from '../../../server/ledger/check.ts';
import { openOtherUse } from '../../../server/ledger/other-use.ts';
import { makeStock, makeTier, openTestBook, type TestBook } from '../support.ts';
import { makeBatch } from './dyeing.ts';
import { type Bench, Sequence, sequences } from './sequences.ts';

const SEQUENCES = 1_500;

describe('random sequences of requests', () => {
  let opened: TestBook;
  let bench: Bench;

  beforeAll(async () => {
    opened = await openTestBook();
    bench = opened.write((tx) => {
      tx.run(tx.db.insertInto('person').values({ name: 'Second maker', length_system: null, left_at: null }));
      const stock = makeStock(tx, { ground: true });
      return {
        lotId: stock.lotId,
        purposes: [
          { tierId: makeTier(tx, stock) },
          { tierId: makeTier(tx, stock) },
          { tierId: makeTier(tx, stock) },
          { otherUseId: openOtherUse(tx, { kind: 'repair', garmentId: null, note: 'hem' }) },
          { otherUseId: openOtherUse(tx, { kind: 'sold', garmentId: null, note: '' }) },
        ],
        batches: [makeBatch(tx, stock), makeBatch(tx, stock)],
      };
    });
  });
  afterAll(() => opened.close());

  it('leave the balances, holds and costs that a model in memory has', () => {
    const tally = new Map<string, number>();
    let ran = 0;
    fc.assert(
      fc.property(sequences, (commands) => {
        ran += 1;
        const sequence = new Sequence(opened.book, bench, tally);
        for (const command of commands) sequence.run(command);
      }),
      { numRuns: SEQUENCES },
    );
    expect(ran).toBe(SEQUENCES);
    // Every verb was carried out and refused often, or the comparison would have compared nothing.
    const verbs = ['split', 'hold', 'release', 'cut', 'send', 'bring back', 'recount', 'write off', 'return'];
    for (const verb of ['receive', 'undo', 'several', 'repeat', 'other content', ...verbs]) {
      expect(tally.get(`${verb}: done`), verb).toBeGreaterThan(50);
    }
    for (const verb of ['undo', 'several', ...verbs])
      expect(tally.get(`${verb}: conflict`), verb).toBeGreaterThan(20);
    for (const verb of ['several', ...verbs]) expect(tally.get(`${verb}: invalid`), verb).toBeGreaterThan(20);
    const { findings, read } = checkBook(opened.book);
    expect(findings).toEqual([]);
    expect(read.entries).toBeGreaterThan(SEQUENCES);
  });
});
