import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  inList,
  insertInto,
  type Param,
  prepared,
  preparedByShape,
  type ShapeOf,
} from '../../../server/database/statements.ts';
import { openTestBook, type TestBook } from '../support.ts';

let opened: TestBook;
beforeAll(async () => {
  opened = await openTestBook();
  opened.book.write({ key: 'statements-key', asked: null, personId: 1 }, (tx) => {
    for (const name of ['Rack A', 'Rack B', "Rack 'C"]) tx.run(newPlace({ name }));
    return { location: '/', said: 'Placed.' };
  });
});
afterAll(() => opened.close());

const newPlace = insertInto('place');
const all = (query: Parameters<typeof opened.book.all<{ name: string }>>[0]) =>
  opened.book.all(query).map(({ name }) => name);

describe('a prepared query', () => {
  let built = 0;
  const between = prepared((db, from: Param<string>, to: Param<string>) => {
    built += 1;
    return db.selectFrom('place').select('name').where('name', '>=', from).where('name', '<=', to);
  });

  it('is built once and has the values of each asking, in their places', () => {
    expect(all(between('Rack A', 'Rack A'))).toEqual(['Rack A']);
    expect(all(between('Rack A', 'Rack B'))).toEqual(['Rack A', 'Rack B']);
    expect(all(between('Rack B', 'Rack A'))).toEqual([]);
    expect(built).toBe(1);
  });

  it('asks for the same value in two places, and keeps values of its own', () => {
    const twice = prepared((db, name: Param<string>) =>
      db
        .selectFrom('place')
        .select('name')
        .where((of) => of.or([of('name', '=', name), of('name', '=', 'Rack B')]))
        .where('name', '<>', 'Rack A')
        .where('name', '>=', name),
    );
    expect(all(twice('Rack B'))).toEqual(['Rack B']);
    expect(all(twice("Rack 'C"))).toEqual(["Rack 'C", 'Rack B']);
  });

  it('takes lists of any length by one text, numbers and texts as they are', () => {
    const named = prepared((db, names: Param<readonly string[]>) =>
      db.selectFrom('place').select('name').where('name', 'in', inList(names)).orderBy('id'),
    );
    expect(all(named([]))).toEqual([]);
    expect(all(named(["Rack 'C", 'Rack A', 'Rack A', 'no such rack']))).toEqual(['Rack A', "Rack 'C"]);
    expect(named(['a']).compile().sql).toBe(named(['a', 'b']).compile().sql);
    const withIds = prepared((db, ids: Param<readonly number[]>) =>
      db.selectFrom('place').select('name').where('id', 'in', inList(ids)),
    );
    expect(all(withIds([2, 99]))).toEqual(['Rack B']);
  });
});

describe('a query with parts that may be left out', () => {
  interface Asked {
    readonly name: string | null;
    readonly ids: readonly number[] | null;
    readonly backwards: boolean;
  }
  let built = 0;
  const asked = preparedByShape((db, { name, ids, backwards }: ShapeOf<Asked>) => {
    built += 1;
    return db
      .selectFrom('place')
      .select('name')
      .$if(name !== null, (of) => of.where('name', '=', name))
      .$if(ids !== null, (of) => (ids === null ? of : of.where('id', 'in', inList(ids))))
      .orderBy('id', backwards ? 'desc' : 'asc');
  });

  it('is built once for each choice of them', () => {
    expect(all(asked({ name: null, ids: null, backwards: false }))).toEqual(['Rack A', 'Rack B', "Rack 'C"]);
    expect(all(asked({ name: null, ids: [1, 2], backwards: true }))).toEqual(['Rack B', 'Rack A']);
    expect(all(asked({ name: null, ids: [3], backwards: true }))).toEqual(["Rack 'C"]);
    expect(all(asked({ name: 'Rack A', ids: [1, 2], backwards: true }))).toEqual(['Rack A']);
    expect(all(asked({ name: 'Rack B', ids: [1, 2], backwards: true }))).toEqual(['Rack B']);
    expect(built).toBe(3);
  });
});

describe('rows that are added', () => {
  it('go into the columns that they name, whichever those are', () => {
    const shade = insertInto('shade');
    opened.book.write({ key: 'statements-shades', asked: null, personId: 1 }, (tx) => {
      tx.run(shade({ name: 'Plum', ground: 0, note: 'first' }));
      tx.run(shade({ note: 'second', name: 'Kelp', ground: 1 }));
      tx.run(shade({ name: 'Ash', ground: 0 }));
      return { location: '/', said: 'Named.' };
    });
    const { book } = opened;
    expect(book.all(book.db.selectFrom('shade').select(['name', 'ground', 'note']).orderBy('id'))).toEqual([
      { name: 'Plum', ground: 0, note: 'first' },
      { name: 'Kelp', ground: 1, note: 'second' },
      { name: 'Ash', ground: 0, note: '' },
    ]);
  });
});
