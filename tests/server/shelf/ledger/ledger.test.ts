import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { holdLength, releaseLength } from '../../../../server/ledger/verbs.ts';
import type { EntryRow } from '../../../../server/shelf/ledger/entries.ts';
import { ledgerPage } from '../../../../server/shelf/ledger/page.ts';
import {
  asker,
  length,
  makeBolt,
  makeStock,
  makeTier,
  openTestHouse,
  type TestHouse,
} from '../../support.ts';

let house: TestHouse;
let pieceId: number;
let tierId: number;

beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) => {
    const stock = makeStock(tx);
    pieceId = makeBolt(tx, stock.lotId, '20', 5000).id;
    tierId = makeTier(tx, stock);
    tx.run(tx.db.insertInto('person').values({ name: 'Second hand', length_system: null, left_at: null }));
  });
});
afterEach(() => house.shut());

/** Holds a millimetre and releases it, so many times: two entries each. */
function hold(times: number): void {
  const asked = { lengthTicks: length('1 mm'), typed: '1 mm', why: '' };
  house.write((tx) => {
    for (let count = 0; count < times; count += 1) {
      holdLength(tx, pieceId, tierId, asked);
      releaseLength(tx, pieceId, tierId, asked);
    }
  });
}

async function ledger(path = '/shelf/ledger') {
  const { body } = await house.data(path).expect(200);
  return body;
}

const kinds = (entries: readonly EntryRow[]) => entries.map(({ kind }) => kind);

describe('the ledger', () => {
  it('lists every entry, the newest first, with its piece, person and links', async () => {
    hold(1);
    const { entries, older, newest } = await ledger();
    expect(kinds(entries)).toEqual(['released', 'held', 'received']);
    expect(entries[1]).toMatchObject({
      who: 'Maker',
      held: '≈ +0 m',
      piece: { text: 'B1', href: '/shelf/pieces/B1' },
    });
    expect(entries[1].links[0].href).toMatch(new RegExp(`^/garments/G\\d+#tier-${tierId}$`));
    expect([older, newest]).toEqual([null, null]);
    const page = await house.page('/shelf/ledger').expect(200);
    for (const text of ['Released', 'Held', 'Received', '+20 m', '+€50.00'])
      expect(page.text).toContain(text);
  });

  it('goes back by the number of the entry, 20 at a time', async () => {
    hold(13);
    const first = await ledger();
    expect(first.entries).toHaveLength(20);
    const second = await ledger(first.older);
    expect(second.entries).toHaveLength(7);
    expect(second.entries[0].id).toBe(first.entries[19].id - 1);
    expect([second.older, second.newest]).toEqual([null, '/shelf/ledger']);
  });

  it('is narrowed by kind and person', async () => {
    hold(3);
    expect(kinds((await ledger('/shelf/ledger?kind=held')).entries)).toEqual(['held', 'held', 'held']);
    expect((await ledger('/shelf/ledger?person=2')).entries).toEqual([]);
    expect((await house.page('/shelf/ledger?person=2')).text).toContain('No such entry.');
    expect((await ledger('/shelf/ledger?kind=nonsense')).entries).toHaveLength(7);
  });

  it('looks through only so many entries at once for a rare kind, and offers to go on', () => {
    hold(5);
    const look = (query: object) => ledgerPage(house.book, query, asker, 6).data;
    const stopped = look({ kind: 'received' });
    expect([stopped.entries.length, stopped.stopped]).toEqual([0, true]);
    expect(stopped.older).toBe('/shelf/ledger?kind=received&before=6');
    const found = look({ kind: 'received', before: '6' });
    expect(kinds(found.entries)).toEqual(['received']);
    expect([found.stopped, found.older]).toEqual([false, null]);
    const held = look({ kind: 'held' });
    expect([kinds(held.entries).length, held.stopped]).toEqual([3, true]);
  });
});

describe('an empty ledger', () => {
  it('leads to receiving', async () => {
    const bare = await openTestHouse();
    expect((await bare.page('/shelf/ledger')).text).toContain('Nothing was entered yet.');
    await bare.shut();
  });
});
