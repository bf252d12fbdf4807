import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Reader } from '../../../../server/database/book.ts';
import { undoRequest } from '../../../../server/ledger/undo.ts';
import { cutLength, recountPiece, splitPiece, writeOffLength } from '../../../../server/ledger/verbs.ts';
import { markFlaw } from '../../../../server/shelf/piece/flaw-form.ts';
import { readFlaws, readFlawsOf } from '../../../../server/shelf/piece/flaws.ts';
import type { TestBook, TestHouse } from '../../support.ts';
import {
  asker,
  length,
  makeBolt,
  makeStock,
  makeTier,
  newKey,
  openTestBook,
  openTestHouse,
} from '../../support.ts';

const cm = (n: number) => length(`${n} cm`);

function mark(book: TestBook, pieceId: number, from: number, to: number): void {
  const quantity = (value: number) => ({ value, typed: '' });
  const form = { from: quantity(from), to: quantity(to), left: null, right: null, what: 'slub', back: '' };
  book.write((tx) => markFlaw(tx, pieceId, form, asker));
}

const placesOf = (book: TestBook, pieceId: number) =>
  readFlawsOf(book.book, pieceId).map(({ fromTicks, toTicks }) => [fromTicks, toTicks]);

describe('a flaw', () => {
  let opened: TestBook;
  let bolt: { id: number; code: string };
  let tierId: number;
  beforeEach(async () => {
    opened = await openTestBook();
    opened.write((tx) => {
      const stock = makeStock(tx);
      tierId = makeTier(tx, stock);
      bolt = makeBolt(tx, stock.lotId, '10 m', 1000);
    });
  });
  afterEach(() => opened.close());

  const cut = (ticks: number) => {
    const key = newKey();
    opened.book.write({ key, asked: null, personId: 1 }, (tx) => {
      cutLength(tx, bolt.id, { tierId, strips: 1, lengthTicks: ticks, typed: '' });
      return { location: '/', said: 'Cut.' };
    });
    return key;
  };
  const undo = (key: string) => opened.write((tx) => undoRequest(tx, key));

  it('comes nearer to the free end by what is cut off, and is gone with its cloth', () => {
    mark(opened, bolt.id, cm(100), cm(110));
    cut(cm(30));
    expect(placesOf(opened, bolt.id)).toEqual([[cm(70), cm(80)]]);
    opened.write((tx) => writeOffLength(tx, bolt.id, { lengthTicks: cm(75), typed: '', why: 'flaw' }));
    expect(placesOf(opened, bolt.id)).toEqual([[0, cm(5)]]);
    const last = cut(cm(10));
    expect(placesOf(opened, bolt.id)).toEqual([]);
    undo(last);
    expect(placesOf(opened, bolt.id)).toEqual([[0, cm(5)]]);
  });

  it('stays where it was measured when an entry from before is undone', () => {
    const mistaken = cut(cm(30));
    mark(opened, bolt.id, cm(100), cm(110));
    undo(mistaken);
    expect(placesOf(opened, bolt.id)).toEqual([[cm(100), cm(110)]]);
  });

  it('stays where it was measured when the piece is counted', () => {
    mark(opened, bolt.id, cm(100), cm(110));
    opened.write((tx) => recountPiece(tx, bolt.id, { lengthTicks: cm(900), typed: '' }));
    expect(placesOf(opened, bolt.id)).toEqual([[cm(100), cm(110)]]);
  });

  it('goes with its half of a split, and one on the line with both', () => {
    mark(opened, bolt.id, cm(50), cm(60));
    mark(opened, bolt.id, cm(195), cm(205));
    mark(opened, bolt.id, cm(300), cm(310));
    const half = opened.write((tx) => splitPiece(tx, bolt.id, { lengthTicks: cm(200), typed: '' }));
    expect(placesOf(opened, half.id)).toEqual([
      [cm(50), cm(60)],
      [cm(195), cm(200)],
    ]);
    expect(placesOf(opened, bolt.id)).toEqual([
      [0, cm(5)],
      [cm(100), cm(110)],
    ]);
    mark(opened, bolt.id, cm(40), cm(45));
    expect(placesOf(opened, half.id)).toHaveLength(2);
    expect([...readFlaws(opened.book, [half.id, bolt.id]).keys()]).toEqual([bolt.id, half.id]);
  });

  it('are read with as many questions for many pieces as for one', () => {
    const halves = Array.from({ length: 6 }, () => {
      const whole = opened.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m'));
      mark(opened, whole.id, cm(10), cm(12));
      return opened.write((tx) => splitPiece(tx, whole.id, { lengthTicks: length('4 m'), typed: '4' }));
    });
    let asked = 0;
    const counting: Reader = {
      db: opened.book.db,
      all: (query) => {
        asked += 1;
        return opened.book.all(query);
      },
      first: (query) => {
        asked += 1;
        return opened.book.first(query);
      },
    };
    const questions = (ids: number[]) => {
      asked = 0;
      expect(readFlaws(counting, ids).size).toBe(ids.length);
      return asked;
    };
    const ids = halves.map(({ id }) => id);
    expect(questions(ids)).toBe(questions(ids.slice(0, 1)));
  });
});

/** Cloth as it is in the hand: each piece is a stretch of the bolt, its free end first. */
interface Stretch {
  readonly id: number;
  from: number;
  readonly to: number;
}

describe('flaws on any pieces', () => {
  const step = fc.record({
    what: fc.constantFrom('mark', 'mark', 'cut', 'split', 'write off', 'undo'),
    piece: fc.nat(),
    at: fc.integer({ min: 1, max: 99 }),
  });

  it('never move on the cloth, whatever is cut, split off, written off or undone', async () => {
    const opened = await openTestBook();
    try {
      fc.assert(
        fc.property(fc.array(step, { maxLength: 14 }), (steps) => {
          const { book, write } = opened;
          const { bolt, tierId } = write((tx) => {
            const stock = makeStock(tx);
            return { tierId: makeTier(tx, stock), bolt: makeBolt(tx, stock.lotId, '10 m') };
          });
          let pieces: Stretch[] = [{ id: bolt.id, from: 0, to: cm(1000) }];
          const marks: { from: number; to: number }[] = [];
          let last: { key: string; before: Stretch[] } | null = null;
          const request = (work: Parameters<typeof write>[0]) => {
            const key = newKey();
            const before = structuredClone(pieces);
            book.write({ key, asked: null, personId: 1 }, (tx) => {
              work(tx);
              return { location: '/', said: 'Done.' };
            });
            last = { key, before };
          };
          for (const { what, piece: n, at } of steps) {
            const piece = pieces[n % pieces.length] as Stretch;
            const size = piece.to - piece.from;
            const part = Math.floor((size * at) / 100);
            if (what === 'undo') {
              if (!last) continue;
              const { key, before } = last as { key: string; before: Stretch[] };
              write((tx) => undoRequest(tx, key));
              pieces = before;
              last = null;
            } else if (part === 0) continue;
            else if (what === 'mark') {
              const to = Math.min(size, part + cm(3));
              mark(opened, piece.id, part, to);
              if (to > part) marks.push({ from: piece.from + part, to: piece.from + to });
              last = null;
            } else if (what === 'split') {
              request((tx) => {
                const made = splitPiece(tx, piece.id, { lengthTicks: part, typed: '' });
                pieces.push({ id: made.id, from: piece.from, to: piece.from + part });
              });
              piece.from += part;
            } else {
              request((tx) =>
                what === 'cut'
                  ? cutLength(tx, piece.id, { tierId, strips: 1, lengthTicks: part, typed: '' })
                  : writeOffLength(tx, piece.id, { lengthTicks: part, typed: '', why: 'flaw' }),
              );
              piece.from += part;
            }
          }
          for (const { id, from, to } of pieces) {
            const expected = marks
              .map((flaw) => [Math.max(from, flaw.from) - from, Math.min(to, flaw.to) - from])
              .filter(([start = 0, end = 0]) => start < end)
              .sort(([a = 0, c = 0], [b = 0, d = 0]) => a - b || c - d);
            const found = placesOf(opened, id).sort(([a = 0, c = 0], [b = 0, d = 0]) => a - b || c - d);
            expect(found).toEqual(expected);
          }
        }),
        { numRuns: 60 },
      );
    } finally {
      opened.close();
    }
  });
});

describe('the page of flaws', () => {
  let house: TestHouse;
  let code: string;
  beforeEach(async () => {
    house = await openTestHouse();
    code = house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m', 1000)).code;
  });
  afterEach(() => house.shut());
  const path = () => `/shelf/pieces/${code}/flaws`;

  it('marks a spot across the whole width, notched on the tape of the piece', async () => {
    await house.submit(path(), { from: '3.2', what: 'slub' }).expect(303);
    const { flaws, piece } = (await house.data(path()).expect(200)).body;
    expect(flaws).toMatchObject([
      {
        fromTicks: cm(319),
        toTicks: cm(321),
        leftTicks: 0,
        rightTicks: cm(147),
        where: '3.19 m to 3.21 m from the free end, across the whole width',
      },
    ]);
    expect(piece.tape.said).toContain('flaw at 3.2 m');
    const page = await house.page(`/shelf/pieces/${code}`).expect(200);
    expect(page.text).toContain('3.19 m to 3.21 m from the free end');
  });

  it('keeps what was typed beside what is wrong with it', async () => {
    const wrong = await house.submit(path(), { from: '11', left: '150', right: '20' }).expect(422);
    expect(wrong.text).toContain(`${code} is 10 m long: enter a place within it.`);
    expect(wrong.text).toContain(`${code} is 147 cm wide in use: enter a place within it.`);
    expect(wrong.text).toContain('value="11"');
    await house.submit(path(), { from: '2', to: '1.9' }).expect(422);
    await house.submit(path(), { from: '2', left: '30', right: '20' }).expect(422);
    await house.submit(path(), { from: '' }).expect(422);
    await house.page('/shelf/pieces/B999/flaws').expect(404);
  });

  it('strikes a flaw out once, and says who did', async () => {
    await house.submit(path(), { from: '1 m', to: '1.1 m' }).expect(303);
    const { strike } = (await house.data(path())).body.flaws[0];
    await house.submit(strike, {}).expect(303);
    expect((await house.data(path())).body.flaws).toEqual([]);
    const again = await house.send(strike, {}).expect(409);
    expect(again.body.error.message).toMatch(/^This flaw was struck out already by /);
    await house.send(`${path()}/999/strikes`, {}).expect(404);
  });

  it('measures a width again, and keeps what it was', async () => {
    await house.submit(`/shelf/pieces/${code}/widths`, { width: '140', why: 'mistyped' }).expect(303);
    const { piece, widths } = (await house.data(`/shelf/pieces/${code}`)).body;
    expect(piece.usableWidthTicks).toBe(cm(140));
    expect(widths).toMatchObject([{ was: '147 cm', width: '140 cm', why: 'mistyped' }]);
    await house.submit(`/shelf/pieces/${code}/widths`, { width: '140' }).expect(422);
    await house.submit(`/shelf/pieces/${code}/widths`, { width: 'wide' }).expect(422);
  });
});
