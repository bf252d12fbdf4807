import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { cutLength, holdLength } from '../../../../server/ledger/verbs.ts';
import {
  length,
  makeBolt,
  makeStock,
  makeTier,
  newKey,
  openTestHouse,
  type TestHouse,
} from '../../support.ts';

let house: TestHouse;
let pieceId: number;
let tierId: number;

/** B1 is 20 m for €50.00 of lot L2, of which the first tier of a garment may hold some. */
beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) => {
    const stock = makeStock(tx);
    pieceId = makeBolt(tx, stock.lotId, '20', 5000).id;
    tierId = makeTier(tx, stock);
    tx.run(tx.db.insertInto('place').values({ name: 'Rack 1' }));
  });
});
afterEach(() => {
  expect(checkBook(house.book).findings).toEqual([]);
  return house.shut();
});

function hold(text: string): void {
  house.write((tx) => holdLength(tx, pieceId, tierId, { lengthTicks: length(text), typed: text, why: '' }));
}

async function read(code = 'B1') {
  const { body } = await house.data(`/shelf/pieces/${code}`).expect(200);
  return body;
}

describe('the page', () => {
  it('tells what is free and held, by whom, and what it cost', async () => {
    hold('12');
    const { piece, entries } = await read();
    expect(piece).toMatchObject({ free: '8 m', held: '12 m', onHand: '20 m', came: '20 m', cost: '€50.00' });
    // €50.00 for 20 m is €2.50 a metre.
    expect(piece.costPerLength).toBe('€2.50 per m');
    expect(piece.holds).toEqual([
      {
        heldTicks: length('12'),
        held: '12 m',
        heldFor: expect.stringMatching(/^Tier 1 of G/),
        href: expect.any(String),
        otherUseId: null,
      },
    ]);
    expect(
      entries.map(({ kind, length, held, cost }: Record<string, string>) => [kind, length, held, cost]),
    ).toEqual([
      ['held', '', '+12 m', ''],
      ['received', '+20 m', '', '+€50.00'],
    ]);
    const html = await house.page('/shelf/pieces/B1').expect(200);
    for (const text of [
      'B1: 20 m on hand, 8 m to spare, 12 m held',
      '€2.50 per m',
      piece.holds[0].href,
      '+€50.00',
    ]) {
      expect(html.text).toContain(text);
    }
  });

  it('reads in the units of who asks', async () => {
    house.write((tx) =>
      tx.run(tx.db.updateTable('person').set({ length_system: 'imperial' }).where('id', '=', 1)),
    );
    const { piece, forms } = await read();
    // 20 m ÷ 0.9144 m = 21 yd and 0.7976 m, which is 31.4 in: down to the eighth, 31⅜ in.
    expect(piece.onHand).toBe('≈ 21 yd 31⅜ in');
    // €2.50 × 0.9144 = €2.286 a yard.
    expect(piece.costPerLength).toBe('€2.29 per yd');
    expect(forms[0].fields[0].unit).toBe('yd');
  });

  it('is unknown by another code', async () => {
    await house.page('/shelf/pieces/B99').expect(404);
    await house.submit('/shelf/pieces/B99/splits', { length: '1' }).expect(404);
  });

  it('pages its ledger by 20, newest first', async () => {
    house.write((tx) => {
      for (let count = 0; count < 30; count += 1) {
        holdLength(tx, pieceId, tierId, { lengthTicks: 160, typed: '1 mm', why: '' });
      }
    });
    const first = await read();
    expect(first.entries).toHaveLength(20);
    expect(first.newest).toBeNull();
    const second = await house.data(first.older).expect(200);
    expect(second.body.entries).toHaveLength(11);
    expect(second.body.entries.at(-1).kind).toBe('received');
    expect(second.body.older).toBeNull();
    expect(second.body.newest).toBe('/shelf/pieces/B1#ledger');
  });
});

describe('splitting', () => {
  it('makes a remnant of the same lot with its share of the cost', async () => {
    const done = await house.submit('/shelf/pieces/B1/splits', {
      length: '2,5',
      place_id: '1',
      why: 'samples',
    });
    expect(done.status).toBe(303);
    const code = /pieces\/(R\d+)/.exec(done.headers.location ?? '')?.[1] ?? '';
    const remnant = await read(code);
    // 2.5 m of 20 m for €50.00 carry €6.25.
    expect(remnant.piece).toMatchObject({ onHand: '2.5 m', cost: '€6.25', place: 'Rack 1', kind: 'remnant' });
    expect(remnant.piece.parent).toEqual({ code: 'B1', href: '/shelf/pieces/B1' });
    const { piece, entries } = await read();
    expect(piece).toMatchObject({ onHand: '17.5 m', cost: '€43.75' });
    expect(piece.remnants).toEqual([{ code, href: `/shelf/pieces/${code}`, onHand: '2.5 m' }]);
    expect(entries[0]).toMatchObject({
      kindWords: 'Split off',
      length: '−2.5 m',
      cost: '−€6.25',
      why: 'samples',
    });
    expect(entries[0].links).toEqual([{ text: `to ${code}`, href: `/shelf/pieces/${code}` }]);
    const html = await house.page(done.headers.location ?? '');
    expect(html.text).toContain(`2.5 m split off B1 as ${code}.`);
  });

  it('stays in the same place unless another is chosen', async () => {
    await house.submit('/shelf/pieces/B1/moves', { place_id: '1' }).expect(303);
    const done = await house.send('/shelf/pieces/B1/splits', { length: '1 m' }).expect(200);
    expect((await house.data(done.body.location)).body.piece.place).toBe('Rack 1');
  });

  it('is refused beyond what is free, with what is free and who holds the rest', async () => {
    hold('12');
    const refused = await house
      .submit('/shelf/pieces/B1/splits', { length: '9 m', why: 'wanted' })
      .expect(409);
    expect(refused.text).toMatch(/9 m was asked of B1, and 8 m can be had\./);
    expect(refused.text).toMatch(/12 m is held for Tier 1 of G\d+\./);
    expect(refused.text).toContain('value="9 m"');
    expect(refused.text).toContain('value="wanted"');
    expect((await read()).entries).toHaveLength(2);
  });

  it('keeps what was typed beside what is wrong with it, in the open form alone', async () => {
    const refused = await house.submit('/shelf/pieces/B1/splits', { length: '1,500' }).expect(422);
    expect(refused.text).toContain('<details id="split" open>');
    expect(refused.text).not.toContain('<details id="recount" open>');
    expect(refused.text).toContain('id="f-length-error"');
    expect(refused.text.match(/value="1,500"/g)).toHaveLength(1);
    const whole = await house.submit('/shelf/pieces/B1/splits', { length: '20' }).expect(422);
    expect(whole.text).toContain('That is the whole of B1');
  });
});

describe('recounting', () => {
  it('enters the difference and leaves the cost with what is left', async () => {
    await house.submit('/shelf/pieces/B1/recounts', { length: '19.4', why: 'stocktake' }).expect(303);
    const { piece, entries } = await read();
    expect(piece).toMatchObject({ onHand: '19.4 m', cost: '€50.00' });
    expect(entries[0]).toMatchObject({
      kindWords: 'Recounted',
      length: '−0.6 m',
      cost: '',
      why: 'stocktake',
    });
  });

  it('is refused below what is held, and where nothing differs', async () => {
    hold('12');
    const below = await house.submit('/shelf/pieces/B1/recounts', { length: '11' }).expect(409);
    expect(below.text).toContain('Release first');
    const same = await house.submit('/shelf/pieces/B1/recounts', { length: '2000 cm' }).expect(422);
    expect(same.text).toContain('The count agrees with the book');
  });
});

describe('writing off', () => {
  it('asks for the reason', async () => {
    const refused = await house.submit('/shelf/pieces/B1/write-offs', { length: '1', why: ' ' }).expect(422);
    expect(refused.text).toContain('The reason must be filled in.');
  });

  it('takes off a part with its cost', async () => {
    const done = await house.send('/shelf/pieces/B1/write-offs', { length: '4', why: 'stained' }).expect(200);
    expect(done.body.said).toBe('4 m of B1 written off: stained.');
    expect((await read()).piece).toMatchObject({ onHand: '16 m', cost: '€40.00' });
  });

  it('takes all that is free, to the tick, and no held length', async () => {
    hold('12');
    await house.submit('/shelf/pieces/B1/splits', { length: '1/3 m' }).expect(303);
    await house.submit('/shelf/pieces/B1/write-offs', { all: 'yes', why: 'moth' }).expect(303);
    expect((await read()).piece).toMatchObject({
      freeTicks: 0,
      heldTicks: length('12'),
      onHandTicks: length('12'),
    });
    const none = await house.submit('/shelf/pieces/B1/write-offs', { all: 'yes', why: 'moth' }).expect(409);
    expect(none.text).toContain('Nothing of B1 is free.');
  });

  it('wants a length or all, not both and not neither', async () => {
    const both = await house.submit('/shelf/pieces/B1/write-offs', { length: '1', all: 'yes', why: 'moth' });
    expect([both.status, both.text.includes('not both')]).toEqual([422, true]);
    const neither = await house.submit('/shelf/pieces/B1/write-offs', { why: 'moth' });
    expect([neither.status, neither.text.includes('Give a length, or tick')]).toEqual([422, true]);
  });

  it('leaves a piece that is gone with the forms that still make sense', async () => {
    await house.submit('/shelf/pieces/B1/write-offs', { all: 'yes', why: 'moth' }).expect(303);
    const { piece, forms } = await read();
    expect(piece).toMatchObject({ onHandTicks: 0, costMinor: 0, costPerLength: '' });
    expect(forms.map(({ name }: { name: string }) => name)).toEqual(['recount']);
    expect((await house.page('/shelf/pieces/B1')).text).toContain('Nothing of this piece is left.');
  });
});

describe('returning', () => {
  it('sends a length back with its cost', async () => {
    await house.submit('/shelf/pieces/B1/returns', { length: '5', why: 'flaw' }).expect(303);
    const { piece, entries } = await read();
    expect(piece).toMatchObject({ onHand: '15 m', cost: '€37.50' });
    expect(entries[0]).toMatchObject({ kindWords: 'Returned to supplier', length: '−5 m', cost: '−€12.50' });
  });
});

describe('moving', () => {
  it('puts a piece in another place without an entry', async () => {
    const done = await house.send('/shelf/pieces/B1/moves', { place_id: '1' }).expect(200);
    expect(done.body.said).toBe('B1 is in Rack 1 now.');
    const { piece, entries } = await read();
    expect([piece.place, entries.length]).toEqual(['Rack 1', 1]);
    await house.submit('/shelf/pieces/B1/moves', { place_id: '1' }).expect(422);
    await house.submit('/shelf/pieces/B1/moves', { place_id: '99' }).expect(422);
    await house.submit('/shelf/pieces/B1/moves', { place_id: '' }).expect(303);
    expect((await read()).piece.place).toBe('');
  });
});

describe('undo', () => {
  it('is offered once a request, and takes it back', async () => {
    const request_key = newKey();
    await house.submit('/shelf/pieces/B1/splits', { request_key, length: '3' }).expect(303);
    const { entries } = await read();
    expect(entries[0].requestKey).toBe(request_key);
    expect(entries[0].undoKey).not.toBe('');
    expect(entries[0].undoesOthers).toBe(1);
    expect((await house.page('/shelf/pieces/B1')).text).toContain('with 1 other piece');
    await house.submit('/undo', { undoes: request_key }).expect(303);
    const after = await read();
    expect(after.piece.onHand).toBe('20 m');
    expect(after.entries.map(({ kindWords }: { kindWords: string }) => kindWords)).toEqual([
      'Undone: split off',
      'Split off',
      'Received',
    ]);
    expect(after.entries[1].undone).toMatch(/^Undone by Maker, /);
    expect(after.entries.slice(0, 2).map(({ undoKey }: { undoKey: string }) => undoKey)).toEqual(['', '']);
    expect(after.entries[2].undoKey).not.toBe('');
  });

  it('is not offered for what came before a count, nor for a coming that was used since', async () => {
    await house.submit('/shelf/pieces/B1/splits', { length: '3' }).expect(303);
    await house.submit('/shelf/pieces/B1/recounts', { length: '16' }).expect(303);
    const { entries } = await read();
    expect(entries.map(({ kind, undoKey }: Record<string, string>) => [kind, undoKey !== ''])).toEqual([
      ['recounted', true],
      ['split-off', false],
      ['received', false],
    ]);
  });

  it('is not offered for a hold that is used up, nor where it would not be granted', async () => {
    hold('2 m');
    const cut = { lengthTicks: length('1.5 m'), typed: '1.5 m', tierId, strips: 1 };
    house.write((tx) => cutLength(tx, pieceId, cut));
    const { entries } = await read();
    expect(entries.map(({ kind, undoKey }: Record<string, string>) => [kind, undoKey !== ''])).toEqual([
      ['cut', true],
      ['held', false],
      ['received', false],
    ]);
    for (const { requestKey } of entries.slice(1)) {
      await house.submit('/undo', { undoes: requestKey }).expect(409);
    }
    await house.submit('/undo', { undoes: entries[0].requestKey }).expect(303);
  });
});

describe('the same form twice', () => {
  it('makes one entry', async () => {
    const form = { request_key: newKey(), length: '4', why: 'stained' };
    await house.submit('/shelf/pieces/B1/write-offs', form).expect(303);
    await house.submit('/shelf/pieces/B1/write-offs', form).expect(303);
    expect((await read()).piece.onHand).toBe('16 m');
    const other = await house.submit('/shelf/pieces/B1/write-offs', { ...form, length: '5' });
    expect(other.status).toBe(409);
  });
});
