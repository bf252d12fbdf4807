import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { countCutStrips, readCutStrips } from '../../../../server/garments/garment/done.ts';
import { undoRequest } from '../../../../server/ledger/undo.ts';
import { cutLength } from '../../../../server/ledger/verbs.ts';
import {
  length,
  makeBolt,
  makeLot,
  makeStock,
  makeTier,
  newKey,
  openTestBook,
  type TestBook,
} from '../../support.ts';

let opened: TestBook;
beforeEach(async () => {
  opened = await openTestBook();
});
afterEach(() => opened.close());

function cut(pieceId: number, tierId: number, strips: number): string {
  const key = newKey();
  opened.book.write({ key, asked: null, personId: 1 }, (tx) => {
    cutLength(tx, pieceId, { lengthTicks: length('10 cm'), typed: '10 cm', tierId, strips });
    return { location: '/', said: 'Cut.' };
  });
  return key;
}

describe('strips that were cut for a tier', () => {
  it('are summed by lot and by the size that was asked for then, without those that were undone', () => {
    const { shelf, tierId, first, second } = opened.write((tx) => {
      const stock = makeStock(tx);
      const other = makeLot(tx, stock.clothId, stock.shadeId);
      return {
        shelf: stock,
        tierId: makeTier(tx, stock),
        first: [makeBolt(tx, stock.lotId, '10 m').id, makeBolt(tx, stock.lotId, '10 m').id],
        second: [makeBolt(tx, other, '10 m').id],
      };
    });
    const [a = 0, b = 0, c = 0] = [...first, ...second];
    const keepSize = (depth: string) =>
      opened.write((tx) => {
        const last = tx.first(tx.db.selectFrom('entry').select('id').orderBy('id', 'desc').limit(1));
        const size = { cut_depth_ticks: length(depth), strip_length_ticks: length('1 m') };
        const of = { tier_id: tierId, cloth_id: shelf.clothId, after_entry_id: last?.id ?? 0 };
        return tx.run(tx.db.insertInto('tier_size').values({ ...of, ...size }));
      });
    const told = () =>
      readCutStrips(opened.book, [tierId]).map(({ lotId, count, size }) => [
        lotId === shelf.lotId ? 'first' : 'second',
        count,
        size?.depthTicks ?? null,
      ]);
    for (let time = 0; time < 30; time += 1) cut(time % 2 === 0 ? a : b, tierId, 2);
    expect(told()).toEqual([['first', 60, null]]);
    keepSize('32 cm');
    cut(c, tierId, 5);
    const undone = cut(a, tierId, 7);
    keepSize('40 cm');
    cut(a, tierId, 1);
    expect(told()).toEqual([
      ['first', 60, null],
      ['second', 5, length('32 cm')],
      ['first', 7, length('32 cm')],
      ['first', 1, length('40 cm')],
    ]);
    opened.book.write({ key: newKey(), asked: null, personId: 1 }, (tx) => undoRequest(tx, undone));
    expect(told()).toEqual([
      ['first', 60, null],
      ['second', 5, length('32 cm')],
      ['first', 1, length('40 cm')],
    ]);
    expect([...countCutStrips(opened.book, [1])]).toEqual([[1, 66]]);
  });

  it('are read from an index, without their entries', () => {
    const plan = opened.book.connection
      .prepare<[], { detail: string }>(
        `EXPLAIN QUERY PLAN SELECT tier_id, piece_id, sum(strips), min(id), max(id)
        FROM entry WHERE kind = 'cut' AND tier_id IN (1, 2) GROUP BY tier_id, piece_id`,
      )
      .all()
      .map(({ detail }) => detail);
    expect(plan).toEqual([expect.stringContaining('USING COVERING INDEX entry_by_tier')]);
  });
});
