import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { undoRequest } from '../../../server/ledger/undo.ts';
import { cutLength, holdLength, receivePiece } from '../../../server/ledger/verbs.ts';
import type { LineView } from '../../../server/short/line-view.ts';
import type { shortPage } from '../../../server/short/page.ts';
import { readShort } from '../../../server/short/queries.ts';
import { makeGarment, makeTierOf, stockOf } from '../garments/making.ts';
import { length, makeBolt, makeLot, newKey, openTestHouse, type Stock, type TestHouse } from '../support.ts';

let house: TestHouse;
let stock: Stock;
beforeEach(async () => {
  house = await openTestHouse();
  stock = stockOf(house);
});
afterEach(() => house.shut());

async function short(query = ''): Promise<ReturnType<typeof shortPage>['data']> {
  const answer = await house.data(`/short${query}`);
  expect(answer.status).toBe(200);
  return answer.body;
}

async function onlyLine(query = ''): Promise<LineView> {
  const { short: lines } = await short(query);
  const [line] = lines;
  if (!line || lines.length > 1) throw new Error(`${lines.length} lines`);
  return line;
}

/** Ends of reasons of the only line, for its only garment. */
async function reasons(): Promise<readonly string[]> {
  return (await onlyLine()).shares.flatMap((share) => share.reasons);
}

describe('Short', () => {
  it('says that nothing is needed, and where needs come from', async () => {
    const page = await house.page('/short');
    expect(page.text).toContain('Nothing is needed.');
    expect(page.text).toContain('No open garment needs anything.');
  });

  it('says that nothing is short where all of it is free', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock);
    house.write((tx) => makeBolt(tx, stock.lotId, '60 cm'));
    const data = await short();
    expect(data.summary).toBe('Nothing is short: every strip of 1 need is cut, held or free.');
    expect(data.met).toMatchObject([{ wanted: 2, cut: 0, held: 0, free: { strips: 2, length: '0.6 m' } }]);
    expect(data.order).toBeNull();
    expect(readShort(house.book)).toEqual([]);
  });

  // 95 cm × 3 = 285 cm flat in strips of 145 cm: 2 of them, here 1.3 m deep.
  it('does not make one strip of 1.3 m depth out of two remnants of 0.7 m', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { depth: '130', fullness: '1' });
    house.write((tx) => [makeBolt(tx, stock.lotId, '0.7 m'), makeBolt(tx, stock.lotId, '0.7 m')]);
    const line = await onlyLine();
    expect(line).toMatchObject({
      wanted: 1,
      free: { strips: 0, length: '1.4 m' },
      short: 1,
      toGet: '1.3 m',
      width: '147 cm',
    });
    expect(await reasons()).toEqual(['1.4 m is free in 2 pieces shorter than a strip, which takes 130 cm.']);
  });

  it('does not add up two lots where one is wanted', async () => {
    const code = await makeGarment(house);
    // 9.5 × 145 cm = 1377.5 cm of flat length at most: fullness 12 of 95 cm is 1140 cm, 8 strips of 1 m.
    await makeTierOf(house, code, stock, { depth: '100', fullness: '12' });
    const [a, b] = house.write((tx) => {
      const other = makeLot(tx, stock.clothId, stock.shadeId);
      makeBolt(tx, stock.lotId, '4 m');
      makeBolt(tx, other, '5 m');
      return [stock.lotId, other].map(
        (id) => tx.first(tx.db.selectFrom('lot').select('code').where('id', '=', id))?.code,
      );
    });
    const line = await onlyLine();
    expect(line).toMatchObject({
      wanted: 8,
      free: { strips: 5, length: '5 m' },
      elsewhere: { strips: 3, length: '4 m' },
      short: 3,
      toGet: '3 m',
    });
    expect(await reasons()).toEqual([
      '5 m in 1 free piece is cut up to the end.',
      `5 m in lot ${b}, 4 m in lot ${a} are free, and one lot is wanted. Any other lot would give 3 strips more.`,
    ]);
    expect(line.notes).toEqual([
      'Fresh cloth is another lot. To cut all the rest from one lot, buy or dye 8 m.',
    ]);
    expect(line.ways.map(({ text }) => text)).toEqual(['Order', 'Dye or buy', 'Other lots']);
  });

  it('takes off what is cut and what is held for the tier, and keeps to the lot that is cut', async () => {
    const code = await makeGarment(house);
    const tierId = await makeTierOf(house, code, stock, { fullness: '9' });
    // 855 ÷ 145 = 5.9: 6 strips of 30 cm. One is cut, 65 cm held give two, 40 cm left free give one.
    house.write((tx) => {
      const bolt = makeBolt(tx, stock.lotId, '135 cm');
      const thirty = { lengthTicks: length('30 cm'), typed: '' };
      cutLength(tx, bolt.id, { ...thirty, tierId, strips: 1 });
      holdLength(tx, bolt.id, tierId, { lengthTicks: length('65 cm'), typed: '' });
      makeBolt(tx, makeLot(tx, stock.clothId, stock.shadeId), '10 m');
    });
    const line = await onlyLine();
    expect(line).toMatchObject({ wanted: 6, cut: 1, held: 2, free: { strips: 1 }, short: 2, toGet: '0.6 m' });
    expect(line.shares[0]?.tiers).toMatchObject([
      {
        name: 'Tier 1',
        size: '30 cm × 147 cm',
        strips: 6,
        short: 2,
        hold: `/cutting-table/${code}/${tierId}`,
      },
    ]);
    expect(line.notes[0]).toContain('what is cut already stays apart');
  });

  it('gives to the garment that is due first, and tells the other', async () => {
    const later = await makeGarment(house, { name: 'Later', due_on: '2026-05-01' });
    const sooner = await makeGarment(house, { name: 'Sooner', due_on: '2026-04-01' });
    await makeTierOf(house, later, stock);
    await makeTierOf(house, sooner, stock);
    house.write((tx) => makeBolt(tx, stock.lotId, '90 cm'));
    const line = await onlyLine();
    expect(line).toMatchObject({ wanted: 4, free: { strips: 3 }, short: 1, toGet: '0.3 m' });
    expect(line.shares.map(({ code }) => code)).toEqual([sooner, later]);
    expect(line.shares[1]?.reasons).toContain(
      'Garments that are due before this one take 0.6 m of what is free.',
    );
    const one = await onlyLine(`?garment=${later}`);
    expect(one).toMatchObject({ wanted: 2, free: { strips: 1 }, short: 1 });
    expect(one.shares.map(({ code }) => code)).toEqual([later]);
    expect((await short(`?garment=${sooner}`)).short).toEqual([]);
    expect((await house.page('/short?garment=G99')).status).toBe(404);
  });

  it('shows undyed cloth of the kind and leads to the dye bench; a ground is not dyed', async () => {
    const ground = stockOf(house, { ground: true });
    const code = await makeGarment(house);
    await makeTierOf(house, code, { clothId: ground.clothId, shadeId: stock.shadeId });
    house.write((tx) => makeBolt(tx, ground.lotId, '7 m'));
    const line = await onlyLine();
    expect(line.notes).toEqual(['7 m of this cloth is free undyed, before planned batches take theirs.']);
    expect(line.ways.map(({ href }) => href)).toEqual([
      // Two strips of 30 cm are wanted of it. What is there is dyed before more is bought, as on Today.
      `/dye-bench/batches/new?cloth=${ground.clothId}&shade=${stock.shadeId}&wanted=0.6+m`,
      '/orders/new?from=short',
      `/orders/dye-or-buy?cloth=${ground.clothId}&shade=${stock.shadeId}`,
    ]);
    const page = await house.page('/short');
    expect(page.text).toContain('no colour recorded');
    expect(page.text).toContain('2 strips short, in 1 of 1 need.');
  });
});

describe('what is on order', () => {
  /** An order line of so much, sent unless said, of which some came. */
  function order(asked: string, received: string | null, columns: object = {}): string {
    return house.write((tx) => {
      const { lastId: supplier_id } = tx.run(
        tx.db.insertInto('supplier').values({ name: `Mill ${newKey()}`, lead_days: null }),
      );
      const { lastId: order_id } = tx.run(
        tx.db.insertInto('order').values({
          code: `O${supplier_id}`,
          supplier_id,
          drafted_at: tx.at,
          expected_on: null,
          sent_at: tx.at,
          closed_at: null,
          cancelled_at: null,
          ...columns,
        }),
      );
      const { lastId: lineId } = tx.run(
        tx.db.insertInto('order_line').values({
          order_id,
          cloth_id: stock.clothId,
          shade_id: stock.shadeId,
          length_ticks: length(asked),
          price_minor: null,
          price_ticks: null,
          typed: '{}',
        }),
      );
      if (received === null) return tx.requestKey;
      const piece = {
        kind: 'bolt' as const,
        lotId: makeLot(tx, stock.clothId, stock.shadeId),
        usableWidthTicks: length('147 cm'),
        placeId: null,
        lengthTicks: length(received),
        typed: received,
        costMinor: 0,
      };
      receivePiece(tx, piece, { orderLineId: lineId });
      return tx.requestKey;
    });
  }

  it('counts what was sent and has not come, in strips, and leaves only the rest to order', async () => {
    const code = await makeGarment(house);
    // 8 strips of 1 m, all of them short.
    await makeTierOf(house, code, stock, { depth: '100', fullness: '12', blocks: oneAny(stock) });
    order('5 m', null);
    order('1.5 m', '20 cm');
    order('9 m', null, { sent_at: null });
    order('9 m', null, { cancelled_at: '2026-03-02T12:00:00.000Z' });
    order('9 m', null, { closed_at: '2026-03-02T12:00:00.000Z' });
    // 5 m and 1.3 m are on order: 6 strips in one piece.
    const line = await onlyLine();
    expect(line).toMatchObject({ onOrder: { strips: 6, length: '6.3 m' }, short: 8 });
    const [raw] = readShort(house.book);
    expect(raw).toMatchObject({
      shortStrips: 8,
      shortTicks: length('8 m'),
      onOrderStrips: 6,
      toOrderStrips: 2,
      toOrderTicks: length('2 m'),
    });
  });

  it('counts what came and was undone as still to come', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock);
    const key = order('40 cm', '10 cm');
    expect((await onlyLine()).onOrder).toEqual({ strips: 1, length: '0.3 m' });
    house.write((tx) => undoRequest(tx, key));
    expect((await onlyLine()).onOrder).toEqual({ strips: 1, length: '0.4 m' });
  });

  it('leaves nothing to order where it is enough', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock);
    order('5 m', null);
    const line = await onlyLine();
    expect(line.ways).toEqual([]);
    expect(line.notes).toEqual([
      '5 m is on order: if it comes in one piece of the full width it is enough for the 2 strips short.',
    ]);
    expect((await short()).order).toBeNull();
    expect((await short()).summary).toBe(
      '2 strips short, in 1 of 1 need. Nothing more to get: all is being dyed or on order.',
    );
  });

  it('is late once its day has passed, and not on that day', async () => {
    const code = await makeGarment(house);
    await makeTierOf(house, code, stock, { depth: '100', fullness: '12', blocks: oneAny(stock) });
    order('1 m', null, { expected_on: '2026-02-27' });
    order('1 m', null, { expected_on: '2026-03-02' });
    const { notes } = await onlyLine();
    // The tests happen on 2 March 2026; February has 28 days.
    expect(notes.filter((note) => note.startsWith('Order '))).toEqual([
      expect.stringMatching(/^Order O\d+ is late: it was expected on 27 Feb 2026, 3 days ago\.$/),
      expect.stringMatching(/^Order O\d+ is expected on 2 Mar 2026\.$/),
    ]);
  });
});

function oneAny(of: Stock) {
  return [{ shade_id: String(of.shadeId), strips: '1', lots: 'any' }];
}
