import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Reader, Tx } from '../../../server/database/book.ts';
import { showMoment } from '../../../server/kit/when.ts';
import { checkBook } from '../../../server/ledger/check.ts';
import { readHeldForTier, readPiece } from '../../../server/ledger/state.ts';
import { canUndo, undoRequest, whichCanUndo } from '../../../server/ledger/undo.ts';
import * as verbs from '../../../server/ledger/verbs.ts';
import { Refusal } from '../../../server/refusal.ts';
import {
  asker,
  length,
  makeBolt,
  makeStock,
  makeTier,
  NOON,
  newKey,
  openTestBook,
  type TestBook,
} from '../support.ts';
import { makeBatch } from './dyeing.ts';

const WHEN = showMoment(NOON.toISOString());

let opened: TestBook;
let stock: { b1: number; tierId: number; batchId: number; lotId: number; received: string };

beforeEach(async () => {
  opened = await openTestBook();
  const made = opened.write((tx) => {
    tx.run(tx.db.insertInto('person').values({ name: 'Ilse', length_system: null, left_at: null }));
    const shelf = makeStock(tx, { ground: true });
    return { shelf, tierId: makeTier(tx, shelf), ...makeBatch(tx, shelf), lot: shelf.lotId };
  });
  let b1 = 0;
  const received = ask((tx) => {
    b1 = makeBolt(tx, made.lot, '10 m', 10_000).id;
  });
  stock = { b1, tierId: made.tierId, batchId: made.batchId, lotId: made.lotId, received };
});

afterEach(() => {
  expect(checkBook(opened.book).findings).toEqual([]);
  opened.close();
});

/** A request of the second person; gives its key. */
function ask(work: (tx: Tx) => unknown): string {
  const key = newKey();
  opened.book.write({ key, asked: null, personId: 2 }, (tx) => {
    work(tx);
    return { location: '/shelf/pieces/B1', said: 'Work was done.' };
  });
  return key;
}

/** Undoes a request as the first person; gives the key of the undoing. */
function undo(requestKey: string): string {
  const key = newKey();
  opened.book.write({ key, asked: { undoes: requestKey }, personId: 1 }, (tx) => undoRequest(tx, requestKey));
  return key;
}

function refusal(requestKey: string): Refusal {
  const entries = () => opened.book.connection.prepare('SELECT count(*) FROM entry').pluck().get();
  const before = entries();
  try {
    undo(requestKey);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    expect(error.kind).toBe('conflict');
    expect(entries()).toBe(before);
    return error;
  }
  throw new Error('it was undone');
}

const metres = (text: string) => ({ lengthTicks: length(text), typed: text });
const cut = (text: string, more: object = {}) =>
  ask((tx) => verbs.cutLength(tx, stock.b1, { ...metres(text), tierId: stock.tierId, strips: 1, ...more }));
const hold = (text: string) => ask((tx) => verbs.holdLength(tx, stock.b1, stock.tierId, metres(text)));
const release = (text: string) => ask((tx) => verbs.releaseLength(tx, stock.b1, stock.tierId, metres(text)));
const recount = (text: string) => ask((tx) => verbs.recountPiece(tx, stock.b1, metres(text)));
const send = (text: string) => {
  let id = 0;
  const key = ask((tx) => {
    id = verbs.sendPieceToDye(tx, stock.b1, stock.batchId, metres(text));
  });
  return { key, id };
};
const bringBack = (sent: number, text: string) => {
  let id = 0;
  const back = { lotId: stock.lotId, usableWidthTicks: length('147 cm') };
  const key = ask((tx) => {
    id = verbs.bringBackFromDye(tx, sent, { ...back, measuredTicks: length(text), typed: text }).id;
  });
  return { key, id };
};

describe('undoing', () => {
  it('enters the exact opposite and tells what was undone', () => {
    hold('2 m');
    const key = cut('3 m');
    expect(canUndo(opened.book, key, asker)).toBe(true);
    const undone = undo(key);
    expect(readPiece(opened.book, stock.b1)).toMatchObject({
      onHandTicks: length('10 m'),
      heldTicks: length('2 m'),
      costMinor: 10_000,
    });
    expect(readHeldForTier(opened.book, stock.b1, stock.tierId)).toBe(length('2 m'));
    expect(opened.book.answerOf(undone)).toMatchObject({
      location: '/shelf/pieces/B1',
      said: 'Undone: Work was done.',
      personId: 1,
    });
    expect(canUndo(opened.book, key, asker)).toBe(false);
    expect(canUndo(opened.book, undone, asker)).toBe(false);
  });

  it('undoes all that one request entered, both halves of a split as one', () => {
    let made = 0;
    const key = ask((tx) => {
      made = verbs.splitPiece(tx, stock.b1, metres('4 m')).id;
      verbs.holdLength(tx, stock.b1, stock.tierId, metres('1 m'));
      verbs.writeOffLength(tx, made, { ...metres('1 m'), why: 'Oil' });
    });
    undo(key);
    expect(readPiece(opened.book, stock.b1)).toMatchObject({ onHandTicks: length('10 m'), heldTicks: 0 });
    expect(readPiece(opened.book, made)).toMatchObject({ onHandTicks: 0, costMinor: 0 });
  });

  it('keeps what the entry was about, so that sums by it come right', () => {
    const links = { supplier_id: null, order_id: null, at: NOON.toISOString(), person_id: 1 };
    const receiptId = opened.write((tx) => tx.run(tx.db.insertInto('receipt').values(links)).lastId);
    const lotId = readPiece(opened.book, stock.b1).lotId;
    const bolt = { kind: 'bolt' as const, lotId, usableWidthTicks: length('147 cm'), placeId: null };
    const key = ask((tx) =>
      verbs.receivePiece(tx, { ...bolt, ...metres('5 m'), costMinor: 1 }, { receiptId }),
    );
    undo(key);
    const sum = (of: string, id: number) =>
      opened.book.connection
        .prepare(`SELECT count(*), sum(length_ticks) FROM entry WHERE ${of} = ?`)
        .raw()
        .get(id);
    expect(sum('receipt_id', receiptId)).toEqual([2, 0]);
    undo(send('1 m').key);
    expect(sum('batch_id', stock.batchId)).toEqual([2, 0]);
  });

  it('goes on once the later work is undone itself', () => {
    const later = hold('1 m');
    expect(refusal(stock.received).message).toContain('B1 was held by Ilse');
    undo(later);
    undo(stock.received);
    expect(readPiece(opened.book, stock.b1)).toMatchObject({ onHandTicks: 0, costMinor: 0 });
  });
});

describe('there is nothing to undo', () => {
  it('for a key that nobody sent, and for work that entered nothing', () => {
    for (const key of ['never-sent-key', ask(() => undefined)]) {
      expect(refusal(key).message).toBe('There is nothing in the ledger to undo for this.');
    }
  });

  it('for an undoing', () => {
    expect(refusal(undo(hold('1 m'))).message).toBe('An undo stays in force. Do the work again instead.');
  });

  it('for what was undone before; the refusal says by whom and when', () => {
    const key = hold('1 m');
    undo(key);
    expect(refusal(key).message).toBe(`This was undone already by Maker, ${WHEN}.`);
  });
});

describe('later work depends on it', () => {
  const depends = (deed: string) =>
    `This cannot be undone: later work depends on it. ${deed} by Ilse, ${WHEN}. Undo that first.`;

  it.each([
    ['held', () => hold('1 m'), 'B1 was held'],
    ['cut', () => cut('1 m'), 'B1 was cut'],
    ['split', () => ask((tx) => verbs.splitPiece(tx, stock.b1, metres('1 m'))), 'B1 was split'],
    ['sent to dye', () => send('1 m'), 'B1 was sent to dye'],
    ['counted', () => recount('9 m'), 'B1 was recounted'],
    [
      'written off',
      () => ask((tx) => verbs.writeOffLength(tx, stock.b1, { ...metres('1 m'), why: 'Oil' })),
      'B1 was written off',
    ],
    [
      'returned',
      () => ask((tx) => verbs.returnLength(tx, stock.b1, metres('1 m'))),
      'B1 was returned to the supplier',
    ],
  ])('where a received piece was %s since', (_, work, deed) => {
    work();
    const refused = refusal(stock.received);
    expect(refused.message).toBe(depends(deed));
    expect(refused.wayOn).toEqual({ text: 'Go to B1', href: '/shelf/pieces/B1' });
  });

  it('where a remnant was used since, even if nothing is missing of it', () => {
    let remnant = 0;
    const leftover = { lengthTicks: length('3 m'), widthTicks: length('50 cm'), placeId: null };
    const key = ask((tx) => {
      const asked = { ...metres('3 m'), tierId: stock.tierId, strips: 1, leftover };
      remnant = verbs.cutLength(tx, stock.b1, asked).remnant?.id ?? 0;
    });
    ask((tx) => verbs.holdLength(tx, remnant, stock.tierId, metres('1 m')));
    ask((tx) => verbs.releaseLength(tx, remnant, stock.tierId, metres('1 m')));
    expect(refusal(key).message).toBe(depends('R2 was held'));
  });

  it('where what was sent to dye came back', () => {
    const sent = send('4 m');
    const back = bringBack(sent.id, '3.9 m');
    expect(refusal(sent.key).message).toBe(depends('B2 was brought back from dye'));
    undo(back.key);
    undo(sent.key);
    expect(readPiece(opened.book, stock.b1)).toMatchObject({ onHandTicks: length('10 m') });
  });

  it('where what came back from dye was used since', () => {
    const back = bringBack(send('4 m').id, '3.9 m');
    ask((tx) => verbs.holdLength(tx, back.id, stock.tierId, metres('1 m')));
    ask((tx) => verbs.releaseLength(tx, back.id, stock.tierId, metres('1 m')));
    expect(refusal(back.key).message).toBe(depends('B2 was held'));
  });

  it('where the piece was counted since: the count saw the work done', () => {
    for (const [work, counted] of [
      [() => cut('1 m'), '8.9 m'],
      [() => send('1 m').key, '7.8 m'],
      [() => recount('7.5 m'), '7.4 m'],
    ] as const) {
      const key = work();
      recount(counted);
      expect(refusal(key).message).toBe(depends('B1 was recounted'));
    }
  });

  it('where a count could not tell, it does not stand in the way', () => {
    const held = hold('1 m');
    recount('9 m');
    undo(held);
    expect(readPiece(opened.book, stock.b1)).toMatchObject({ onHandTicks: length('9 m'), heldTicks: 0 });
  });
});

describe('the balances would not stand', () => {
  it('where a hold was used up', () => {
    const key = hold('2 m');
    cut('1.5 m');
    expect(refusal(key).message).toBe(
      `This cannot be undone: later work depends on it. 8.5 m of B1 is on hand and 8 m free. 0.5 m is held for Tier 1 of ${garment()}. Last entry: cut by Ilse, ${WHEN}.`,
    );
  });

  it('where what was released is held or cut since', () => {
    hold('4 m');
    const key = release('4 m');
    cut('8 m');
    expect(refusal(key).message).toContain('2 m of B1 is on hand and 2 m free.');
  });

  it('where what a count added is cut since', () => {
    const key = recount('12 m');
    cut('11 m');
    expect(refusal(key).message).toContain('1 m of B1 is on hand');
  });

  it('where a cost would be left without a length', () => {
    const key = recount('11 m');
    cut('10 m');
    expect(readPiece(opened.book, stock.b1).costMinor).toBeGreaterThan(0);
    expect(refusal(key).message).toContain('1 m of B1 is on hand');
  });
});

describe('the tier was taken out since', () => {
  it('and is not held for again', () => {
    hold('2 m');
    const key = cut('1 m');
    release('1 m');
    opened.write((tx) =>
      tx.run(tx.db.updateTable('tier').set({ taken_out_at: tx.at }).where('id', '=', stock.tierId)),
    );
    expect(refusal(key).message).toBe(
      `This cannot be undone: it would hold cloth for Tier 1 of ${garment()}, which was taken out ${WHEN}.`,
    );
  });
});

function garment(): string {
  return opened.book.connection.prepare('SELECT code FROM garment').pluck().get() as string;
}

describe('asking whether a request can be undone', () => {
  it('asks as many questions of one entry as of hundreds, and of one request as of several', () => {
    const receive = (count: number) =>
      ask((tx) => {
        for (let place = 0; place < count; place += 1) makeBolt(tx, stock.lotId, '10 m');
      });
    const questionsOf = (keys: readonly string[]) => {
      let asked = 0;
      const { book } = opened;
      const counting: Reader = {
        db: book.db,
        all: (query) => {
          asked += 1;
          return book.all(query);
        },
        first: (query) => {
          asked += 1;
          return book.first(query);
        },
      };
      expect([...whichCanUndo(counting, keys, asker)].sort()).toEqual([...keys].sort());
      return asked;
    };
    expect(questionsOf([receive(300)])).toBe(questionsOf([receive(1)]));
    expect(questionsOf([receive(1), receive(2), receive(3)])).toBe(questionsOf([receive(1)]));
  });
});
