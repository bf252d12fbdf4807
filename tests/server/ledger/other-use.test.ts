import { rmSync } from 'node:fs';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readClothCosts } from '../../../server/cost/garment-cost.ts';
import { spendPage } from '../../../server/cost/spend-page.ts';
import type { Book, Tx } from '../../../server/database/book.ts';
import { readGarment } from '../../../server/garments/garment/records.ts';
import { checkBook } from '../../../server/ledger/check.ts';
import { outOfBalance, readCostAccounts } from '../../../server/ledger/check-costs.ts';
import { Findings } from '../../../server/ledger/findings.ts';
import { openOtherUse, readOtherUse, sayOtherUse } from '../../../server/ledger/other-use.ts';
import { readHeldFor, readHolds, readPiece, tellState } from '../../../server/ledger/state.ts';
import { canUndo, undoRequest } from '../../../server/ledger/undo.ts';
import * as verbs from '../../../server/ledger/verbs.ts';
import { exportWorkroom, importWorkroom } from '../../../server/ledger/whole-workroom.ts';
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
import { discard, tamperWith } from './worked-book.ts';

let opened: TestBook;
let b1: number;
let tierId: number;
let garment: { id: number; code: string };

/** B1 is 10 m for €100.00, 1 m of it held for the tier of a garment. */
beforeEach(async () => {
  opened = await openTestBook();
  opened.write((tx) => {
    const stock = makeStock(tx);
    b1 = makeBolt(tx, stock.lotId, '10 m', 10_000).id;
    tierId = makeTier(tx, stock);
    verbs.holdLength(tx, b1, tierId, metres('1 m'));
    const of = tx.first(tx.db.selectFrom('garment').select(['id', 'code']));
    if (!of) throw new Error('the tier has a garment');
    garment = of;
  });
});
afterEach(() => {
  expect(checkBook(opened.book).findings).toEqual([]);
  opened.close();
});

const metres = (text: string) => ({ lengthTicks: length(text), typed: text });
const repair = (tx: Tx) => openOtherUse(tx, { kind: 'repair', garmentId: garment.id, note: 'torn ruffle' });
const sale = (tx: Tx) => openOtherUse(tx, { kind: 'sold', garmentId: null, note: '' });
const hold = (text: string, open = repair) =>
  opened.write((tx) => {
    const otherUseId = open(tx);
    verbs.holdForUse(tx, b1, otherUseId, metres(text));
    return otherUseId;
  });
const held = (otherUseId: number) => readHeldFor(opened.book, b1, { otherUseId });

function refusal(work: (tx: Tx) => unknown): Refusal {
  try {
    opened.write(work);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error('it was not refused');
}

/** A request of its own; gives its key. */
function ask(work: (tx: Tx) => unknown): string {
  const key = newKey();
  opened.book.write({ key, asked: null, personId: 1 }, (tx) => {
    work(tx);
    return { location: '/', said: 'Work was done.' };
  });
  return key;
}

describe('what a use is told as', () => {
  it.each([
    ['repair', true, 'torn ruffle', 'repair of G3 Plum skirt: torn ruffle'],
    ['sample', true, '', 'sample for G3 Plum skirt'],
    ['swatch', false, '', 'swatch'],
    ['part', true, 'sash', 'part for G3 Plum skirt: sash'],
    ['sold', false, 'to the school', 'sale: to the school'],
    ['lent', false, '', 'loan'],
    ['other', false, 'backdrop', 'other use: backdrop'],
  ] as const)('%s, of a garment: %s, note "%s"', (useKind, isOfGarment, useNote, said) => {
    const [useGarmentCode, useGarmentName] = isOfGarment ? ['G3', 'Plum skirt'] : [null, null];
    expect(sayOtherUse({ useKind, useNote, useGarmentCode, useGarmentName })).toBe(said);
  });

  it('is kept with its garment, its note without the spaces around it', () => {
    const id = opened.write((tx) => openOtherUse(tx, { kind: 'other', garmentId: null, note: '  sash ' }));
    expect(sayOtherUse(readOtherUse(opened.book, id))).toBe('other use: sash');
    expect(() => readOtherUse(opened.book, 99)).toThrow('There is no such use.');
  });

  it('must be said where it is none of the usual', () => {
    const refused = refusal((tx) => openOtherUse(tx, { kind: 'other', garmentId: null, note: '  ' }));
    expect(refused.problems).toEqual([{ field: 'note', message: 'Say what it is for.' }]);
  });
});

describe('holding for another use', () => {
  it('promises what is free, beside what tiers hold', () => {
    const [first, second] = [hold('3 m'), hold('2 m', sale)];
    expect([held(first), held(second)]).toEqual([length('3 m'), length('2 m')]);
    expect(readHolds(opened.book, b1)).toEqual([
      {
        tierId: null,
        otherUseId: first,
        heldFor: `repair of ${garment.code} Petticoat: torn ruffle`,
        garmentCode: garment.code,
        heldTicks: length('3 m'),
      },
      { tierId: null, otherUseId: second, heldFor: 'sale', garmentCode: null, heldTicks: length('2 m') },
      {
        tierId,
        otherUseId: null,
        heldFor: `Tier 1 of ${garment.code}`,
        garmentCode: garment.code,
        heldTicks: length('1 m'),
      },
    ]);
  });

  it('is refused beyond what is free, and says who holds what', () => {
    hold('3 m');
    const refused = refusal((tx) => verbs.holdForUse(tx, b1, sale(tx), metres('6.5 m')));
    expect(refused.kind).toBe('conflict');
    expect(refused.message).toContain('6.5 m was asked of B1, and 6 m can be had.');
    expect(refused.message).toContain(`3 m is held for repair of ${garment.code} Petticoat: torn ruffle.`);
    expect(refused.message).toContain(`1 m is held for Tier 1 of ${garment.code}.`);
    expect(opened.book.all(opened.book.db.selectFrom('other_use').selectAll())).toHaveLength(1);
  });

  it('is given back for that use alone', () => {
    const [first, second] = [hold('3 m'), hold('2 m', sale)];
    opened.write((tx) => verbs.releaseFromUse(tx, b1, second, metres('0.5 m')));
    expect([held(first), held(second)]).toEqual([length('3 m'), length('1.5 m')]);
    const refused = refusal((tx) => verbs.releaseFromUse(tx, b1, second, metres('2 m')));
    expect(refused.message).toContain('2 m was to be released of B1, and 1.5 m is held.');
    opened.write((tx) => verbs.releaseFromUse(tx, b1, second, metres('1.5 m')));
    expect(held(second)).toBe(0);
    expect(readHeldFor(opened.book, b1, { tierId })).toBe(length('1 m'));
  });
});

describe('cutting for another use', () => {
  it('takes from what is held for it, then from what is free, with its cost', () => {
    const use = hold('3 m');
    opened.write((tx) => verbs.cutLength(tx, b1, { ...metres('4 m'), otherUseId: use }));
    expect(readPiece(opened.book, b1)).toMatchObject({
      onHandTicks: length('6 m'),
      heldTicks: length('1 m'),
      costMinor: 6000,
    });
    const { connection } = opened.book;
    expect(
      connection
        .prepare('SELECT kind, held_ticks, tier_id, strips, other_use_id FROM entry ORDER BY id DESC')
        .get(),
    ).toEqual({ kind: 'cut', held_ticks: -length('3 m'), tier_id: null, strips: null, other_use_id: use });
  });

  it('leaves what others hold', () => {
    const use = hold('3 m');
    const refused = refusal((tx) => verbs.cutLength(tx, b1, { ...metres('6.5 m'), otherUseId: sale(tx) }));
    expect(refused.message).toContain('6.5 m was asked of B1, and 6 m can be had.');
    opened.write((tx) => verbs.cutLength(tx, b1, { ...metres('6 m'), otherUseId: sale(tx) }));
    expect(held(use)).toBe(length('3 m'));
  });

  it('keeps a remnant beside it, which carries its share of the cost', () => {
    const leftover = { lengthTicks: length('2 m'), widthTicks: length('73.5 cm'), placeId: null };
    const made = opened.write((tx) =>
      verbs.cutLength(tx, b1, { ...metres('2 m'), otherUseId: sale(tx), leftover }),
    );
    expect(readPiece(opened.book, made.remnant?.id ?? 0)).toMatchObject({ costMinor: 1000 });
  });
});

describe('undoing', () => {
  it('takes back a cut with its hold', () => {
    const use = hold('3 m');
    const key = ask((tx) => verbs.cutLength(tx, b1, { ...metres('4 m'), otherUseId: use }));
    expect(canUndo(opened.book, key, asker)).toBe(true);
    opened.write((tx) => undoRequest(tx, key));
    expect(held(use)).toBe(length('3 m'));
    expect(readPiece(opened.book, b1)).toMatchObject({ onHandTicks: length('10 m'), costMinor: 10_000 });
  });

  it('takes back a hold that was opened with it, and no other', () => {
    let [use, other] = [0, 0];
    const key = ask((tx) => {
      use = repair(tx);
      verbs.holdForUse(tx, b1, use, metres('3 m'));
    });
    other = hold('2 m', sale);
    opened.write((tx) => undoRequest(tx, key));
    expect([held(use), held(other)]).toEqual([0, length('2 m')]);
  });

  it('is refused where the hold is cut up, although another use holds as much', () => {
    let use = 0;
    const key = ask((tx) => {
      use = repair(tx);
      verbs.holdForUse(tx, b1, use, metres('3 m'));
    });
    hold('3 m', sale);
    opened.write((tx) => verbs.cutLength(tx, b1, { ...metres('2 m'), otherUseId: use }));
    expect(canUndo(opened.book, key, asker)).toBe(false);
    expect(refusal((tx) => undoRequest(tx, key)).message).toContain('later work depends on it');
  });
});

describe('money', () => {
  it('is where it went: garments, their other uses, and uses of no garment add up to what was cut', () => {
    const use = hold('3 m');
    const leftover = { lengthTicks: length('1 m'), widthTicks: length('73.5 cm'), placeId: null };
    opened.write((tx) => {
      verbs.cutLength(tx, b1, { ...metres('1 m'), tierId, strips: 1 });
      verbs.cutLength(tx, b1, { ...metres('2 m'), otherUseId: use, leftover });
      verbs.cutLength(tx, b1, { ...metres('1.5 m'), otherUseId: sale(tx), leftover });
    });
    const undone = ask((tx) => verbs.cutLength(tx, b1, { ...metres('0.5 m'), otherUseId: sale(tx) }));
    opened.write((tx) => undoRequest(tx, undone));

    const accounts = readCostAccounts(new Findings(opened.book));
    expect(outOfBalance(accounts)).toBe(0);
    // 1 m for the tier, 2 m for the repair and 1.5 m sold, of both half the width of 1 m kept: at €10.00 a metre.
    expect(accounts.cut).toBe(1000 + 1500 + 1000);
    const costs = readClothCosts(opened.book, readGarment(opened.book, garment.code));
    expect(costs).toMatchObject([
      { otherUse: '', spentMinor: 1000, heldMinor: 0, leftMinor: 0 },
      { otherUse: 'repair: torn ruffle', spentMinor: 1500, heldMinor: 1000, leftMinor: 500, plannedMinor: 0 },
    ]);
    const { data } = spendPage(opened.book, NOON.toISOString(), asker);
    expect(data).toMatchObject({
      months: expect.arrayContaining([expect.objectContaining({ month: '2026-03', otherUses: '€10.00' })]),
    });
  });

  it('a use is not planned, so that cloth without a price leaves no gap in what is planned', () => {
    opened.write((tx) => {
      const gift = makeBolt(tx, makeStock(tx).lotId, '2 m');
      verbs.holdForUse(tx, gift.id, repair(tx), metres('1 m'));
    });
    const costs = readClothCosts(opened.book, readGarment(opened.book, garment.code));
    expect(costs[1]).toMatchObject({ otherUse: 'repair: torn ruffle', price: null, plannedMinor: 0 });
  });
});

/** The book after another program has been at it. */
async function tampered(statement: string): Promise<Book> {
  const folder = opened.putDown();
  try {
    return await tamperWith(folder, [statement]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe('the check of the book', () => {
  it.each([
    ['a hold changed', 'UPDATE hold SET held_ticks = 160000 WHERE other_use_id = 1', '1 m', '3 m'],
    ['a hold removed', 'DELETE FROM hold WHERE other_use_id = 1', '0 m', '3 m'],
    [
      'a hold by hand',
      'INSERT INTO hold VALUES ((SELECT max(id) FROM piece), NULL, 2, 160000)',
      '1 m',
      '0 m',
    ],
  ])('tells %s', async (_, statement, shown, sum) => {
    hold('3 m');
    opened.write(sale);
    const book = await tampered(statement);
    const what = sum === '0 m' ? 'sale' : `repair of ${garment.code} Petticoat: torn ruffle`;
    expect(checkBook(book).findings).toEqual([
      `B1 shows ${shown} held for ${what} where its entries add up to ${sum}.`,
    ]);
    discard(book);
  });

  it('tells a reversal for another use', async () => {
    const use = hold('3 m');
    const key = ask((tx) => verbs.releaseFromUse(tx, b1, use, metres('1 m')));
    opened.write((tx) => undoRequest(tx, key));
    hold('2 m', sale);
    const book = await tampered("UPDATE entry SET other_use_id = 2 WHERE kind = 'reversed'");
    expect(checkBook(book).findings).toContain(
      'Entry 5 is not the exact opposite of entry 4, which it reverses.',
    );
    discard(book);
  });
});

it('goes out with the whole workroom and comes in again', async () => {
  const use = hold('3 m');
  opened.write((tx) => verbs.cutLength(tx, b1, { ...metres('2 m'), otherUseId: use }));
  const text = [...exportWorkroom(opened.book)].join('');
  const fresh = await openTestBook();
  importWorkroom(fresh.book, text);
  expect([...exportWorkroom(fresh.book)].join('')).toBe(text);
  expect(tellState(fresh.book, b1, 1)).toContain(
    `1 m is held for repair of ${garment.code} Petticoat: torn ruffle.`,
  );
  expect(() => fresh.book.connection.exec("UPDATE other_use SET note = ''")).toThrow('is never changed');
  fresh.close();
});
