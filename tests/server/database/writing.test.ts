import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Tx } from '../../../server/database/book.ts';
import { translateDriverError } from '../../../server/database/driver-errors.ts';
import { checkBook } from '../../../server/ledger/check.ts';
import { cutLength } from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import { length, makeBolt, makeStock, makeTier, newKey, openTestBook, type TestBook } from '../support.ts';

let opened: TestBook;
beforeEach(async () => {
  opened = await openTestBook();
});
afterEach(() => opened.close());

const addPlace = (name: string) => (tx: Tx) => {
  tx.run(tx.db.insertInto('place').values({ name }));
  return { location: '/shelf/places', said: `${name} is there.` };
};
const places = () =>
  opened.book.all(opened.book.db.selectFrom('place').select('name')).map(({ name }) => name);

describe('a write', () => {
  it('with a key that was seen gets the first answer and changes nothing', () => {
    const request = { key: newKey(), asked: { name: 'Rack A', at: [1, 2] }, personId: 1 };
    const first = opened.book.write(request, addPlace('Rack A'));
    const again = opened.book.write({ ...request, asked: { at: [1, 2], name: 'Rack A' } }, () => {
      throw new Error('a request is not carried out twice');
    });
    expect(again).toEqual(first);
    expect(places()).toEqual(['Rack A']);
  });

  it('with a key that was used for something else is a conflict', () => {
    const key = newKey();
    opened.book.write({ key, asked: 'Rack A', personId: 1 }, addPlace('Rack A'));
    expect(() => opened.book.write({ key, asked: 'Rack B', personId: 1 }, addPlace('Rack B'))).toThrow(
      Refusal,
    );
    expect(places()).toEqual(['Rack A']);
  });

  it('that is refused half-way leaves nothing, and its key can be used again', () => {
    const request = { key: newKey(), asked: 'Rack A', personId: 1 };
    expect(() =>
      opened.book.write(request, (tx) => {
        addPlace('Rack A')(tx);
        throw new Refusal('conflict', 'Somebody was first.');
      }),
    ).toThrow('Somebody was first.');
    expect(places()).toEqual([]);
    opened.book.write(request, addPlace('Rack A'));
    expect(places()).toEqual(['Rack A']);
  });

  it('finds a full disk, says that nothing was saved, and goes on when there is room', () => {
    const pages = Number(opened.book.connection.pragma('page_count', { simple: true }));
    opened.book.connection.pragma(`max_page_count = ${pages}`);
    const fill = (tx: Tx) => {
      for (let at = 0; at < 2000; at += 1) addPlace(`Rack ${at}`)(tx);
      return { location: '/', said: 'Filled.' };
    };
    expect(() => opened.book.write({ key: newKey(), asked: null, personId: 1 }, fill)).toThrow(
      /disk is full.*Nothing was saved/s,
    );
    expect(places()).toEqual([]);
    opened.book.connection.pragma('max_page_count = 1000000');
    opened.book.write({ key: newKey(), asked: null, personId: 1 }, addPlace('Rack A'));
    expect(places()).toEqual(['Rack A']);
  });
});

describe('the last metre', () => {
  it('goes to one of two, and the other hears who, what and how much is left', () => {
    const { piece, tierId } = opened.write((tx) => {
      const stock = makeStock(tx);
      return { piece: makeBolt(tx, stock.lotId, '1 m', 1000), tierId: makeTier(tx, stock) };
    });
    const cut = (tx: Tx) =>
      cutLength(tx, piece.id, { tierId, strips: 1, lengthTicks: length('60 cm'), typed: '60 cm' });
    opened.write(cut);
    expect(() => opened.write(cut)).toThrow(
      /0\.4 m of B\d+ is on hand.*Last entry: cut by Maker, 2 Mar 2026/s,
    );
    expect(checkBook(opened.book).findings).toEqual([]);
  });
});

describe('what the driver says', () => {
  const coded = (code: string) => Object.assign(new Error('driver'), { code });

  it('is told in words, and a failed disk leaves the outcome open', () => {
    expect(translateDriverError(coded('SQLITE_IOERR_FSYNC'))).toMatchObject({ doubtful: true });
    expect(String(translateDriverError(coded('SQLITE_IOERR_FSYNC')).error)).toContain(
      'not known whether it was',
    );
    expect(String(translateDriverError(coded('SQLITE_READONLY')).error)).toContain('Nothing was saved');
    expect(String(translateDriverError(coded('SQLITE_BUSY_SNAPSHOT')).error)).toContain('Nothing was saved');
  });

  it('is passed on as it is where it has no meaning for a person', () => {
    const error = coded('SQLITE_CONSTRAINT_CHECK');
    expect(translateDriverError(error)).toEqual({ error, doubtful: false });
  });
});
