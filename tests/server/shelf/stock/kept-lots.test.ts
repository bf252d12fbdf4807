import { isDeepStrictEqual } from 'node:util';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { joinLots } from '../../../../server/ledger/joined-lots.ts';
import { lotsAfresh, lotsInOrder, TOUCHES_A_LOT } from '../../../../server/shelf/stock/kept-lots.ts';
import { makeWorkroom, steps, take, VERB_NAMES } from '../../short/needs-at-work.ts';
import { makeBolt, makeLot, makeStock, openTestBook, type TestBook } from '../../support.ts';

const SEQUENCES = 100;

let opened: TestBook;
let place: ReturnType<typeof makeWorkroom>;
beforeEach(async () => {
  opened = await openTestBook();
  place = makeWorkroom(opened);
});
afterEach(() => opened.close());

const kept = () => lotsInOrder(opened.book, 'shade');

function isFresh(): boolean {
  const { book } = opened;
  return (['shade', 'cloth'] as const).every((by) =>
    isDeepStrictEqual(lotsInOrder(book, by), lotsAfresh(book, by)),
  );
}

/** Gives the first shade or cloth a name after all others. */
function rename(table: 'shade' | 'cloth'): void {
  opened.book.connection.exec(`UPDATE ${table} SET name = '~' WHERE id = (SELECT min(id) FROM ${table})`);
}

/** A bolt in a shade or a cloth that is new and has a name after all others. */
function receiveNew(table: 'shade' | 'cloth'): void {
  opened.write((tx) => {
    const columns = (
      table === 'shade'
        ? ['ground', 'lab_l', 'lab_a', 'lab_b', 'lab_how']
        : ['construction', 'width_ticks', 'usable_width_ticks', 'mass_per_area_mg_m2', 'supplier_id']
    ).join();
    opened.book.connection.exec(
      `INSERT INTO ${table} (name, ${columns}) SELECT '~', ${columns} FROM ${table} WHERE id = 1`,
    );
    const newest = tx.first(tx.db.selectFrom(table).select('id').orderBy('id', 'desc').limit(1))?.id ?? 0;
    const [clothId, shadeId] = table === 'shade' ? [place.clothId, newest] : [newest, place.shadeId];
    makeBolt(tx, makeLot(tx, clothId, shadeId), '2 m');
  });
}

/** By what a trigger looks at, work that it alone tells of. */
const WORK: Readonly<Record<string, () => void>> = {
  'UPDATE OF on_hand_ticks, held_ticks piece': () => take(opened, place, ['hold', 0, 0, 10]),
  'UPDATE lot': () => {
    const [one, other] = kept().lots.filter(
      ({ shadeId, clothId }) => shadeId === place.shadeId && clothId === place.clothId,
    );
    opened.write((tx) => {
      const codes = tx.all(tx.db.selectFrom('lot').select(['id', 'code']));
      const code = (id = 0) => codes.find((lot) => lot.id === id)?.code ?? '';
      joinLots(tx, code(one?.lotId), code(other?.lotId), { how: 'eye', deltaCenti: null, note: '' });
    });
  },
  'INSERT shade': () => receiveNew('shade'),
  'UPDATE OF name shade': () => rename('shade'),
  'INSERT cloth': () => receiveNew('cloth'),
  'UPDATE OF name cloth': () => rename('cloth'),
};

describe('what is kept of the lots', () => {
  it('is after every step of random sequences what is read from nothing', () => {
    let compared = 0;
    for (const sequence of fc.sample(steps(VERB_NAMES), { numRuns: SEQUENCES, seed: 7 })) {
      for (const step of sequence) {
        take(opened, place, step);
        if (!isFresh()) expect(kept(), `${step}`).toEqual(lotsAfresh(opened.book, 'shade'));
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(SEQUENCES);
  });

  it('is read anew within a write, whose changes are nobody’s yet', () => {
    const before = kept().lots.length;
    opened.write((tx) => {
      makeBolt(tx, makeStock(tx).lotId, '2 m');
      expect(lotsInOrder(tx, 'shade').lots).toHaveLength(before + 1);
      expect(kept().lots).toHaveLength(before + 1);
    });
    expect(kept().lots).toHaveLength(before + 1);
  });

  it('forgets a write that was rolled back', () => {
    const before = kept();
    const refused = () =>
      opened.write((tx) => {
        makeBolt(tx, makeStock(tx).lotId, '2 m');
        throw new Error('no');
      });
    expect(refused).toThrow();
    expect(kept()).toEqual(before);
    expect(isFresh()).toBe(true);
  });

  it.each(TOUCHES_A_LOT.map(([event, table]) => `${event} ${table}`))('follows %s', (looked) => {
    kept();
    WORK[looked]?.();
    expect(isFresh()).toBe(true);
  });

  it.each(TOUCHES_A_LOT)('goes stale without %s on %s', (event, table) => {
    kept();
    const { connection } = opened.book;
    connection.exec(`DROP TRIGGER temp.touched_lot_by_${table}_${event.slice(0, 6).toLowerCase()}`);
    WORK[`${event} ${table}`]?.();
    expect(isFresh()).toBe(false);
  });
});
