import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { holdLength } from '../../../server/ledger/verbs.ts';
import { clothPage } from '../../../server/shelf/cloth/pages.ts';
import { shadePage } from '../../../server/shelf/shade/pages.ts';
import { lengthsWithin } from '../../../server/short/lengths.ts';
import { makeGarment, makeTierOf, stockOf } from '../garments/making.ts';
import { length, makeBolt, makeLot, openTestHouse, type Stock, type TestHouse, units } from '../support.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

const data = async (path: string) => (await house.data(path).expect(200)).body;

/**
 * A garment that needs 2 strips of 30 cm depth (60 cm), a bolt of 5 m of which it holds one of them, and another lot of
 * 2 m: 5 m − 0.3 m held − 0.3 m needed leave 4.4 m to spare of the first.
 */
async function furnish() {
  const code = await makeGarment(house);
  const tierId = await makeTierOf(house, code, stock);
  const other = house.write((tx) => makeLot(tx, stock.clothId, stock.shadeId));
  const [piece] = house.write((tx) => [makeBolt(tx, stock.lotId, '5 m'), makeBolt(tx, other, '2 m')]);
  if (!piece) throw new Error('a bolt was made');
  house.write((tx) => holdLength(tx, piece.id, tierId, { lengthTicks: length('30 cm'), typed: '30 cm' }));
  const lot = house.book.first(house.book.db.selectFrom('lot').select('code').where('id', '=', stock.lotId));
  return { piece: piece.code, lot: lot?.code ?? '' };
}

describe('what is on hand, held, needed and to spare', () => {
  it('is the same on every page that tells it', async () => {
    const { piece, lot } = await furnish();
    const ofPiece = { onHand: '5 m', held: '0.3 m', needed: '0.3 m', spare: '4.4 m' };
    expect((await data(`/shelf/pieces/${piece}`)).piece).toMatchObject(ofPiece);
    const lotPage = await data(`/shelf/lots/${lot}`);
    expect(lotPage.pieces[0]).toMatchObject(ofPiece);
    expect(lotPage.lengths).toMatchObject({ ...ofPiece, longestSpare: '4.4 m' });
    const inLots = { onHand: '7 m', held: '0.3 m', needed: '0.3 m', spare: '6.4 m in 2 pieces of 2 lots' };
    const shade = await data(`/shelf/shades/${stock.shadeId}`);
    expect(shade.lengths).toMatchObject({ ...inLots, longestSpare: '4.4 m' });
    expect(shade.cloths[0].lengths).toMatchObject(inLots);
    const cloth = await data(`/shelf/cloths/${stock.clothId}`);
    expect(cloth.lengths).toMatchObject(inLots);
    expect(cloth.shades[0].lengths).toMatchObject(inLots);
    const shelf = await data(`/shelf?cloth=${stock.clothId}`);
    expect(shelf.lengths).toMatchObject(inLots);
    // Of 7 m, 400 wide: 6.4 m to spare, 0.3 m needed, 0.3 m held.
    const [row] = (await data('/shelf/stock')).cloths;
    expect(row).toMatchObject({ ...inLots, coming: '' });
    expect(row.bar.stretches).toEqual([
      { fill: 'solid', x: 0, width: 365.71 },
      { fill: 'open', x: 365.71, width: 17.15 },
      { fill: 'hatched', x: 382.86, width: 17.14 },
    ]);
    expect(shelf.groups[0].lots[0].pieces[0]).toMatchObject(ofPiece);
    const take = await data(`/take?length=1+m&cloth=${stock.clothId}&shade=${stock.shadeId}`);
    expect(take.answer.lengths).toMatchObject(inLots);
    const [first] = await data('/setup/lists/out/pieces.json');
    expect([first.Length, first.Held, first.Needed, first['To spare']]).toEqual([
      '5 m',
      '0.3 m',
      '0.3 m',
      '4.4 m',
    ]);
  });

  it('tells of a cloth and a shade how much is still being worked out', async () => {
    const told = { readNeeded: () => ({ ofPieces: new Map(), waiting: 2 }), lengthsWithin };
    const asker = { personId: 1, units: units.metric, currency: 'EUR' } as Parameters<typeof clothPage>[3];
    expect(clothPage(house.book, stock.clothId, {}, asker, told).data.waiting).toBe(2);
    expect(shadePage(house.book, stock.shadeId, asker, told).data.waiting).toBe(2);
  });

  it('stands on the tape of a piece and in its list', async () => {
    const { piece } = await furnish();
    const page = await house.page(`/shelf/pieces/${piece}`).expect(200);
    expect(page.text).toContain(`${piece}: 5 m on hand, 4.4 m to spare, 0.3 m needed, 0.3 m held`);
    const shelf = await house.page('/shelf').expect(200);
    expect(shelf.text).toContain('<td data-label="To spare" class="num"><b>4.4 m</b></td>');
    expect(shelf.text).toContain('<td data-label="Needed" class="num">0.3 m</td>');
  });

  it('of a list that is narrowed by more than cloth and shade is told of its pieces alone', async () => {
    await furnish();
    expect((await data('/shelf')).lengths).toBeNull();
    expect((await data(`/shelf?cloth=${stock.clothId}&free=3`)).lengths).toBeNull();
    expect((await data(`/shelf?shade=${stock.shadeId}`)).lengths).toMatchObject({ onHand: '7 m' });
  });

  it('tells what comes, and from where', async () => {
    const coming = house.write((tx) => {
      const { lastId: supplierId } = tx.run(tx.db.insertInto('supplier').values({ name: 'Harbour Cloth' }));
      const order = { supplier_id: supplierId, drafted_at: tx.at, sent_at: tx.at, expected_on: '2026-03-09' };
      const { lastId: orderId } = tx.run(tx.db.insertInto('order').values({ code: 'P1', ...order }));
      const line = { order_id: orderId, cloth_id: stock.clothId, shade_id: stock.shadeId };
      const length_ticks = length('10 m');
      const price = { price_minor: null, price_ticks: null };
      tx.run(tx.db.insertInto('order_line').values({ ...line, length_ticks, ...price, typed: '{}' }));
      return orderId;
    });
    expect(coming).toBeGreaterThan(0);
    const { lengths } = await data(`/shelf/shades/${stock.shadeId}`);
    expect(lengths.coming).toEqual([{ text: '10 m on order, P1, expected 9 Mar 2026', href: '/orders/P1' }]);
    const page = await house.page(`/shelf/shades/${stock.shadeId}`).expect(200);
    expect(page.text).toContain('10 m on order, P1');
    // A cloth of which nothing lies there yet is among the stock by what is coming.
    expect((await data('/shelf/stock')).cloths).toMatchObject([
      { onHand: '0 m', coming: '10 m', bar: { stretches: [{ fill: 'dotted', x: 0, width: 400 }] } },
    ]);
    expect((await house.page('/shelf/stock')).text).toContain('10 m coming');
  });
});
