import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { length, newKey, openTestHouse, type TestHouse } from '../../support.ts';
import { type Furnished, furnish, rows, typedIn } from '../furnished.ts';

let house: TestHouse;
let ids: Furnished;

beforeEach(async () => {
  house = await openTestHouse();
  ids = await furnish(house);
});
afterEach(() => house.shut());

const bolt = (text: string, more: Record<string, string> = {}) => ({
  cloth_id: ids.organza,
  shade_id: ids.white,
  mill_lot: '4471',
  length: text,
  ...more,
});

function pieces() {
  return house.book.all(
    house.book.db
      .selectFrom('piece')
      .innerJoin('lot', 'lot.id', 'piece.lot_id')
      .select([
        'piece.code',
        'piece.on_hand_ticks',
        'piece.cost_minor',
        'piece.usable_width_ticks',
        'piece.place_id',
        'lot.code as lot',
        'lot.mill_lot',
        'lot.shade_id',
      ])
      .orderBy('piece.id'),
  );
}

describe('the form', () => {
  it('draws six rows, and six more for the button', async () => {
    const first = await house.page('/shelf/receive').expect(200);
    expect(first.text.match(/name="pieces\.\d+\.length"/g)).toHaveLength(6);
    const more = await house.submit('/shelf/receive', { step: 'more', ...rows(bolt('50')), ...blankRows(6) });
    expect(more.status).toBe(200);
    expect(more.text.match(/name="pieces\.\d+\.length"/g)).toHaveLength(12);
    expect(more.text).toContain('value="50"');
  });

  it('stops at a hundred rows and says so', async () => {
    const page = await house.submit('/shelf/receive', { step: 'more', ...blankRows(97) }).expect(200);
    expect(page.text.match(/name="pieces\.\d+\.length"/g)).toHaveLength(100);
    expect(page.text).toContain('100 rows at most');
    expect(page.text).not.toContain('>More rows<');
  });

  it('starts with the cloth and shade that the address names', async () => {
    const { body } = await house.data(`/shelf/receive?cloth=${ids.net}&shade=${ids.moss}`);
    expect(typedIn(body.fields)).toMatchObject({
      'pieces.0.cloth_id': ids.net,
      'pieces.0.shade_id': ids.moss,
      'pieces.0.length': '',
    });
  });
});

function blankRows(count: number): Record<string, string> {
  return Object.fromEntries(Array.from({ length: count }, (_, row) => [`pieces.${row}.price`, '']));
}

describe('checking', () => {
  it('echoes what was understood and writes nothing', async () => {
    const { body } = await house.send('/shelf/receive', {
      supplier_id: ids.supplier,
      pieces: [
        bolt('2¾ yd', { price: '12.50' }),
        { length: '1500', usable_width: '160' },
        bolt('0.4', { mill_lot: '-' }),
      ],
    });
    // 2¾ yd is 2.5146 m: the yard is 0.9144 m exactly (agreement of 1 July 1959).
    expect(body.lots[0].pieces[0]).toMatchObject({
      lengthTicks: length('2.5146 m'),
      length: '≈ 2.51 m',
      typed: '2¾ yd',
    });
    expect(body.lots[0].lot).toBe('a new lot, mill lot 4471');
    expect(body.lots[0].inAll).toBe('≈ 1502.51 m in 2 pieces');
    expect(body.lots[0].pieces[1].doubts).toEqual([
      'Wider than the cloth, which is 150 cm over all.',
      'Longer than most bolts: over 150 m.',
    ]);
    expect(body.lots[1].doubts[0]).toMatch(/^No mill lot was given/);
    expect(body.lots[1].pieces[0].doubts).toEqual([
      'Short for a bolt: is it a remnant, or was another unit meant?',
    ]);
    expect(body.totals).toEqual({ pieces: 3, cost: '€12.50', freight: '' });
    expect(pieces()).toEqual([]);
  });

  it('carries what was typed to the last button and back to the rows', async () => {
    const sent = { supplier_id: ids.supplier, note: 'two cartons', ...rows(bolt('47,5'), { length: '30' }) };
    const check = await house.submit('/shelf/receive', { step: 'check', ...sent }).expect(200);
    expect(check.text).toContain('action="/shelf/receipts"');
    expect(check.text).toContain('name="pieces.0.length" value="47,5"');
    const back = await house.submit('/shelf/receive', { step: 'edit', ...sent }).expect(200);
    expect(back.text).toContain('value="47,5"');
    expect(back.text).toContain('value="two cartons"');
    expect(back.text.match(/name="pieces\.\d+\.length"/g)).toHaveLength(6);
  });

  it('tells of a mill lot that is in the book in another shade', async () => {
    await house.submit('/shelf/receipts', rows(bolt('50'))).expect(303);
    const { body } = await house.send('/shelf/receive', { pieces: [bolt('5', { shade_id: ids.moss })] });
    expect(body.lots[0].doubts[0]).toBe('Lot L1 of this cloth has the same mill lot, but in White.');
    const same = await house.send('/shelf/receive', { pieces: [bolt('5')] });
    expect(same.body.lots[0].lot).toBe('L1, mill lot 4471, already in the book');
  });

  it('tells every problem at its field and keeps what was typed', async () => {
    const sent = rows(bolt('1,500', { price: '-3' }), { price: '7' }, bolt('5', { place_id: '99' }));
    const refused = await house.submit('/shelf/receive', { step: 'check', ...sent }).expect(422);
    for (const id of [
      'pieces-0-length',
      'pieces-0-price',
      'pieces-1-cloth_id',
      'pieces-1-length',
      'pieces-2-place_id',
    ]) {
      expect(refused.text).toContain(`href="#f-${id}"`);
      expect(refused.text).toContain(`id="f-${id}-error"`);
    }
    expect(refused.text).toContain('1,500 can mean 1.5 or 1500: write 1.5 or 1500');
    expect(refused.text).toContain('value="1,500"');
    expect(refused.text).toContain('value="-3"');
  });

  it('refuses a delivery of nothing', async () => {
    const refused = await house.submit('/shelf/receive', { step: 'check', ...blankRows(6) }).expect(422);
    expect(refused.text).toContain('id="f-pieces"');
  });
});

describe('putting on the shelf', () => {
  it('makes pieces with codes, one lot and one receipt', async () => {
    const done = await house
      .submit('/shelf/receipts', {
        supplier_id: ids.supplier,
        ...rows(
          bolt('50', { price: '160', place_id: ids.rack }),
          { length: '38,4' },
          { length: '12', price: '40.05' },
        ),
      })
      .expect(303);
    expect(done.headers.location).toMatch(/^\/shelf\/receipts\/1\?done=/);
    const common = {
      usable_width_ticks: length('147 cm'),
      place_id: 1,
      lot: 'L1',
      mill_lot: '4471',
      shade_id: 1,
    };
    expect(pieces()).toEqual([
      { code: 'B1', on_hand_ticks: length('50 m'), cost_minor: 16_000, ...common },
      { code: 'B2', on_hand_ticks: length('38.4 m'), cost_minor: 0, ...common },
      { code: 'B3', on_hand_ticks: length('12 m'), cost_minor: 4_005, ...common },
    ]);
    const page = await house.page(done.headers.location ?? '').expect(200);
    expect(page.text).toContain('3 pieces put on the shelf: B1, B2 and B3.');
    expect(page.text).toContain('100.4 m in 3 pieces');
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('takes cloth, shade, lot and place from the row above only where they belong together', async () => {
    const sent = rows(
      bolt('50', { place_id: ids.rack }),
      { length: '40' },
      { length: '30', shade_id: ids.moss },
      { length: '20', mill_lot: 'M7' },
      { length: '10' },
      bolt('5', { mill_lot: '-' }),
    );
    await house.submit('/shelf/receipts', sent).expect(303);
    expect(
      pieces().map(({ code, lot, mill_lot, shade_id, place_id }) => [
        code,
        lot,
        mill_lot,
        shade_id,
        place_id,
      ]),
    ).toEqual([
      ['B1', 'L1', '4471', 1, 1],
      ['B2', 'L1', '4471', 1, 1],
      ['B3', 'L2', '', 2, null],
      ['B4', 'L3', 'M7', 2, null],
      ['B5', 'L3', 'M7', 2, null],
      ['B6', 'L4', '', 1, null],
    ]);
  });

  it('uses a lot of the book again for the same mill lot and supplier, whatever the case', async () => {
    const from = { supplier_id: ids.supplier };
    await house.submit('/shelf/receipts', { ...from, ...rows(bolt('50', { mill_lot: 'a17' })) }).expect(303);
    await house.submit('/shelf/receipts', { ...from, ...rows(bolt('20', { mill_lot: 'A17 ' })) }).expect(303);
    await house.submit('/shelf/receipts', rows(bolt('10', { mill_lot: 'A17' }))).expect(303);
    await house.submit('/shelf/receipts', rows(bolt('5', { mill_lot: 'Ä1' }))).expect(303);
    await house.submit('/shelf/receipts', rows(bolt('5', { mill_lot: 'Ä1' }))).expect(303);
    expect(pieces().map(({ lot }) => lot)).toEqual(['L1', 'L1', 'L2', 'L3', 'L3']);
  });

  it('keeps pieces without a mill lot apart from those of other deliveries', async () => {
    const nameless = rows(bolt('5', { mill_lot: '' }), { length: '4' });
    await house.submit('/shelf/receipts', nameless).expect(303);
    await house.submit('/shelf/receipts', nameless).expect(303);
    expect(pieces().map(({ lot }) => lot)).toEqual(['L1', 'L1', 'L2', 'L2']);
  });

  it('gives remnants a code of their own and takes a width', async () => {
    await house
      .submit('/shelf/receipts', rows(bolt('1.3', { kind: 'remnant', usable_width: '60' })))
      .expect(303);
    expect(pieces()[0]).toMatchObject({ code: 'R1', usable_width_ticks: length('60 cm') });
  });

  it('puts the same form on the shelf once', async () => {
    const sent = { request_key: newKey(), ...rows(bolt('50')) };
    const first = await house.submit('/shelf/receipts', sent).expect(303);
    const again = await house.submit('/shelf/receipts', sent).expect(303);
    expect(again.headers.location).toBe(first.headers.location);
    expect(pieces()).toHaveLength(1);
  });

  it('is refused whole where one row is bad', async () => {
    const refused = await house.submit('/shelf/receipts', rows(bolt('50'), { length: '1/0' })).expect(422);
    expect(refused.text).toContain('id="f-pieces-1-length-error"');
    expect(refused.text).toContain('value="1/0"');
    expect(pieces()).toEqual([]);
  });

  it('can be undone, and the receipt says so', async () => {
    const request_key = newKey();
    await house.submit('/shelf/receipts', { request_key, ...rows(bolt('50'), { length: '40' }) }).expect(303);
    await house.submit('/undo', { undoes: request_key }).expect(303);
    expect(pieces().map(({ on_hand_ticks }) => on_hand_ticks)).toEqual([0, 0]);
    const { body } = await house.data('/shelf/receipts/1').expect(200);
    expect(body).toMatchObject({ undone: 2, inAll: '0 m in 0 pieces', cost: '€0.00' });
    expect((await house.page('/shelf/receipts/1')).text).toContain('This receipt was undone');
  });

  it('reads imperial lengths for those who measure in yards', async () => {
    house.write((tx) =>
      tx.run(tx.db.updateTable('person').set({ length_system: 'imperial' }).where('id', '=', 1)),
    );
    await house.submit('/shelf/receipts', rows(bolt('9 1/2', { usable_width: '45' }))).expect(303);
    expect(pieces()[0]).toMatchObject({
      on_hand_ticks: length('9.5 yd'),
      usable_width_ticks: length('45 in'),
    });
  });

  it('has no receipt of another number', async () => {
    await house.page('/shelf/receipts/7').expect(404);
    await house.page('/shelf/receipts/x').expect(404);
  });
});

describe('freight on top of a delivery without an order', () => {
  it('is shared out before anything is on the shelf, and nothing of it is lost', async () => {
    const priced = { ...rows(bolt('10', { price: '60' }), bolt('40', { price: '40' })), freight: '10.01' };
    const check = await house.submit('/shelf/receive', { step: 'check', ...priced, share_by: 'length' });
    expect(check.status).toBe(200);
    // 10.01 over 10 m and 40 m is 2.002 and 8.008: the cent that is left goes to the larger remainder.
    for (const words of ['€62.00', '€48.01', '€110.01', '€10.01 of it freight'])
      expect(check.text).toContain(words);
    expect(check.text).toContain('name="freight" value="10.01"');
    expect(check.text).toContain('name="share_by" value="length"');
    expect(pieces()).toEqual([]);
    await house.submit('/shelf/receipts', { ...priced, share_by: 'length' }).expect(303);
    await house.submit('/shelf/receipts', priced).expect(303);
    // By value it is 6.006 and 4.004.
    expect(pieces().map(({ cost_minor: minor }) => minor)).toEqual([6200, 4801, 6601, 4400]);
    expect(checkBook(house.book).findings).toEqual([]);
  });
});
