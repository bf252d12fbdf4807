import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Answer, Tx } from '../../../server/database/book.ts';
import { checkBook } from '../../../server/ledger/check.ts';
import { cutLength, holdLength } from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import { length, makeBolt, makeStock, makeTier, newKey, openTestBook, type TestBook } from '../support.ts';

let opened: TestBook;
let minutes = 0;
beforeEach(async () => {
  minutes = 0;
  opened = await openTestBook(() => {
    minutes += 1;
    return new Date(Date.UTC(2026, 2, 2, 12, minutes));
  });
});
afterEach(() => opened.close());

const addPlace =
  (name: string) =>
  (tx: Tx): Answer => {
    tx.run(tx.db.insertInto('place').values({ name }));
    return { location: '/shelf/places', said: `${name} is there.` };
  };
const places = () =>
  opened.book.all(opened.book.db.selectFrom('place').select('name')).map(({ name }) => name);
const requests = () => opened.book.connection.prepare('SELECT count(*) FROM request').pluck().get();
const never = () => {
  throw new Error('a request is not carried out twice');
};

describe('a key that was seen', () => {
  it('gets the first answer where the content is the same, and changes nothing', () => {
    const request = { key: newKey(), asked: { name: 'Rack A', at: [1, { x: null }] }, personId: 1 };
    const first = opened.book.write(request, addPlace('Rack A'));
    const before = requests();
    const again = { ...request, asked: { at: [1, { x: null }], name: 'Rack A' } };
    expect(opened.book.write(again, never)).toEqual(first);
    expect(opened.book.write({ ...again, personId: 2 }, never)).toEqual(first);
    expect(places()).toEqual(['Rack A']);
    expect(requests()).toBe(before);
    expect(opened.book.answerOf(request.key)).toMatchObject({ ...first, personId: 1 });
  });

  it.each([
    ['other content', { name: 'Rack B', at: [1] }],
    ['another order in a list', { name: 'Rack A', at: [2, 1] }],
    ['something more', { name: 'Rack A', at: [1, 2], more: '' }],
    ['something less', { name: 'Rack A' }],
    ['a word for a number', { name: 'Rack A', at: ['1', '2'] }],
  ])('is refused with %s', (_, asked) => {
    const key = newKey();
    opened.book.write({ key, asked: { name: 'Rack A', at: [1, 2] }, personId: 1 }, addPlace('Rack A'));
    const before = requests();
    const refused = refusalOf(() => opened.book.write({ key, asked, personId: 1 }, never));
    expect(refused.status).toBe(409);
    expect(refused.problems).toEqual([
      { field: '', message: expect.stringContaining('This form was sent before with other content.') },
    ]);
    expect(places()).toEqual(['Rack A']);
    expect(requests()).toBe(before);
  });
});

describe('work that is not carried out', () => {
  it.each([
    ['is refused', new Refusal('conflict', 'Somebody was first.')],
    ['fails', new TypeError('a mistake of ours')],
  ])('leaves nothing where it %s, and its key is free', (_, error) => {
    const request = { key: newKey(), asked: 'Rack A', personId: 1 };
    const before = requests();
    const broken = (tx: Tx) => {
      addPlace('Rack A')(tx);
      throw error;
    };
    expect(() => opened.book.write(request, broken)).toThrow(error);
    expect(places()).toEqual([]);
    expect(requests()).toBe(before);
    expect(opened.book.connection.inTransaction).toBe(false);
    opened.book.write({ ...request, asked: 'something else' }, addPlace('Rack B'));
    expect(places()).toEqual(['Rack B']);
  });

  it('leaves nothing where a rule of the file refuses it', () => {
    const twice = (tx: Tx) => {
      addPlace('Rack A')(tx);
      return addPlace('Rack A')(tx);
    };
    expect(() => opened.write(twice)).toThrow('UNIQUE constraint failed');
    expect(places()).toEqual([]);
  });

  it('is a write within a write', () => {
    expect(() => opened.write(() => opened.write(addPlace('Rack A')))).toThrow('within a write');
    expect(places()).toEqual([]);
  });
});

describe('one write', () => {
  it('happens at one instant, by one person, under one key', () => {
    const key = newKey();
    opened.book.write({ key, asked: null, personId: 1 }, (tx) => {
      const { lotId } = makeStock(tx);
      for (let count = 0; count < 3; count += 1) makeBolt(tx, lotId, '1 m');
      return { location: '/', said: 'Three bolts are there.' };
    });
    const rows = opened.book.all(
      opened.book.db.selectFrom('entry').select(['at', 'person_id', 'request_key']).distinct(),
    );
    const { at } = opened.book.answerOf(key) ?? {};
    expect(rows).toEqual([{ at, person_id: 1, request_key: key }]);
  });
});

describe('two who want the last metre', () => {
  const race = (what: string, work: (tx: Tx, pieceId: number, tierId: number) => void) => {
    const { piece, tiers } = opened.write((tx) => {
      tx.run(tx.db.insertInto('person').values({ name: 'Ilse', length_system: null, left_at: null }));
      const stock = makeStock(tx);
      return {
        piece: makeBolt(tx, stock.lotId, '1 m', 1000),
        tiers: [makeTier(tx, stock), makeTier(tx, stock)],
      };
    });
    const outcomes = tiers.map((tierId, index) => {
      const request = { key: newKey(), asked: { what, tierId }, personId: index + 1 };
      try {
        return opened.book.write(request, (tx) => {
          work(tx, piece.id, tierId);
          return { location: '/', said: 'Done.' };
        }).said;
      } catch (error) {
        if (error instanceof Refusal) return `${error.status} ${error.message}`;
        throw error;
      }
    });
    expect(checkBook(opened.book).findings).toEqual([]);
    return outcomes;
  };

  it('are one who cuts and one who hears who, when and what is left', () => {
    const cut = (tx: Tx, pieceId: number, tierId: number) =>
      cutLength(tx, pieceId, { tierId, strips: 1, lengthTicks: length('60 cm'), typed: '60 cm' });
    const [first, second] = race('cut', cut);
    expect(first).toBe('Done.');
    expect(second).toMatch(
      /^409 0\.6 m was asked of B1, and 0\.4 m can be had\. 0\.4 m of B1 is on hand and 0\.4 m free\. Last entry: cut by Maker, 2 Mar 2026, \d\d:02\.$/,
    );
  });

  it('are one who holds and one who hears for what it is held', () => {
    const hold = (tx: Tx, pieceId: number, tierId: number) =>
      holdLength(tx, pieceId, tierId, { lengthTicks: length('1 m'), typed: '1 m' });
    const [first, second] = race('hold', hold);
    expect(first).toBe('Done.');
    expect(second).toMatch(
      /^409 1 m was asked of B1, and 0 m can be had\..* 1 m is held for Tier 1 of G\d+\./,
    );
  });
});

function refusalOf(work: () => unknown): Refusal {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('it was not refused');
}
