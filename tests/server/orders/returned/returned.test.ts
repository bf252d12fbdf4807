import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../../../server/ledger/check.ts';
import { makeBolt, makeStock, newKey, openTestHouse, type TestHouse } from '../../support.ts';

let house: TestHouse;
beforeEach(async () => {
  house = await openTestHouse();
  house.write((tx) => makeBolt(tx, makeStock(tx).lotId, '10 m', 5000));
});
afterEach(() => house.shut());

const returns = async () => (await house.data('/orders/returns').expect(200)).body;
const entryId = async () => (await returns()).returns[0].id;

describe('what went back to a supplier', () => {
  it('is expected at its cost, gets credit, and tells by how much that is off', async () => {
    expect((await house.page('/orders/returns').expect(200)).text).toContain('Nothing went back');
    await house.send('/shelf/pieces/B1/returns', { length: '3', why: 'torn' }).expect(200);
    // 3 of 10 m that cost 50.00.
    expect(await returns()).toMatchObject({
      open: '€15.00',
      come: '€0.00',
      returns: [
        { code: 'B1', length: '3 m', why: 'torn', cost: '€15.00', expected: '€15.00', come: '', off: '' },
      ],
    });
    const path = `/orders/returns/${await entryId()}/credits`;
    await house.send(path, { credit: '12.50', come_on: '', number: 'CN-1' }).expect(200);
    expect(await returns()).toMatchObject({
      open: '€0.00',
      come: '€12.50',
      returns: [{ come: '€12.50', comeOn: '2 Mar 2026', number: 'CN-1', off: '€2.50 less than expected' }],
    });
    expect((await house.page('/orders/returns')).text).toContain('CN-1');
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('is expected at what was agreed, where that is typed', async () => {
    await house.send('/shelf/pieces/B1/returns', { length: '8', credit: '35' }).expect(200);
    expect(await returns()).toMatchObject({ returns: [{ cost: '€40.00', expected: '€35.00' }] });
    const refused = await house
      .submit('/shelf/pieces/B1/returns', { length: '1', credit: '1,500' })
      .expect(422);
    expect(refused.text).toContain('value="1,500"');
  });

  it('is undone until credit came, and again once that is taken back', async () => {
    const key = newKey();
    await house.send('/shelf/pieces/B1/returns', { length: '3', request_key: key }).expect(200);
    const path = `/orders/returns/${await entryId()}/credits`;
    await house.send(path, { credit: '15', number: 'CN-1' }).expect(200);
    const refused = await house.send('/undo', { undoes: key }).expect(409);
    expect(refused.body.error.message).toContain('credit CN-1 came for it');
    await house.send(path, { credit: '' }).expect(200);
    await house.send('/undo', { undoes: key }).expect(200);
    expect((await returns()).returns).toEqual([]);
    await house.send(path, { credit: '15' }).expect(409);
    expect(checkBook(house.book).findings).toEqual([]);
  });

  it('refuses a day before it went back, with what was typed', async () => {
    await house.send('/shelf/pieces/B1/returns', { length: '3' }).expect(200);
    const path = `/orders/returns/${await entryId()}/credits`;
    const refused = await house
      .submit(path, { credit: '15', come_on: '2026-03-01', number: 'CN-9' })
      .expect(422);
    expect(refused.text).toContain('value="CN-9"');
    expect(refused.text).toContain('enter 2 Mar 2026, when it went back, or a day after');
    await house.send('/orders/returns/999/credits', { credit: '1' }).expect(404);
  });

  it('stands on the order that it came by, also of a part split off, with what its credit is off', async () => {
    await house.send('/orders/suppliers', { name: 'Copper Sheers' }).expect(200);
    const line = { cloth_id: '1', shade_id: '1', length: '10', price: '5' };
    await house.send('/orders/new', { supplier_id: '1', price_per: 'm', lines: [line] }).expect(200);
    await house.send('/orders/P1/sendings', {}).expect(200);
    const { body: form } = await house.data('/orders/P1/receipts').expect(200);
    const came = { pieces: [{ line_id: String(form.lines[0].id), length: '10' }] };
    await house.send('/orders/P1/receipts', came).expect(200);
    const order = async () => (await house.data('/orders/P1').expect(200)).body;
    const [{ code }] = (await order()).receipts[0].came;
    await house.send(`/shelf/pieces/${code}/splits`, { length: '4', why: '' }).expect(200);
    const cut = (await house.data(`/shelf/pieces/${code}`)).body.piece.remnants[0].code;
    await house.send('/shelf/pieces/B1/returns', { length: '1' }).expect(200);
    expect((await order()).returns).toEqual([]);
    await house.send(`/shelf/pieces/${cut}/returns`, { length: '2', why: 'torn' }).expect(200);
    expect((await order()).returns).toMatchObject([{ code: cut, expected: '€10.00', come: '', off: '' }]);
    expect((await house.page('/orders/P1')).text).toContain('credit of €10.00 is awaited');
    await house.send(`/orders/returns/${await entryId()}/credits`, { credit: '7.5' }).expect(200);
    expect((await house.page('/orders/P1')).text).toContain('€2.50 less than expected');
    const { body: list } = await house.data('/setup/lists/out/returns.json').expect(200);
    expect(list.at(-1)).toMatchObject({
      Piece: cut,
      'Credit expected': '10.00',
      Credit: '7.50',
      Length: '2 m',
    });
  });

  it('is looked at on Today where it differs, until the difference is settled', async () => {
    await house.send('/shelf/pieces/B1/returns', { length: '3', why: 'torn' }).expect(200);
    const path = `/orders/returns/${await entryId()}/credits`;
    await house.send(path, { credit: '15' }).expect(200);
    expect((await house.data('/')).body.credits).toEqual([]);
    await house.send(path, { credit: '12.5' }).expect(200);
    expect((await house.data('/')).body.credits).toMatchObject([
      { code: 'B1', off: '€2.50 less than expected' },
    ]);
    expect((await house.page('/')).text).toContain('€2.50 less than expected');
    await house.send(path, { credit: '12.5', settled: 'yes' }).expect(200);
    expect((await house.data('/')).body.credits).toEqual([]);
    expect((await house.page('/orders/returns')).text).toContain('settled');
    // A credit that is taken back has nothing to settle.
    await house.send(path, { credit: '', settled: 'yes' }).expect(200);
    await house.send(path, { credit: '12.5' }).expect(200);
    expect((await house.data('/')).body.credits).toHaveLength(1);
  });
});
