import { afterAll, beforeAll, expect, it } from 'vitest';
import { readDeliveries, readLateRecords } from '../../../server/by-when/deliveries.ts';
import { readMeasuredStrips, sayMeasuredStrips } from '../../../server/by-when/measured.ts';
import { cutLength, receivePiece } from '../../../server/ledger/verbs.ts';
import {
  length,
  makeBolt,
  makeStock,
  makeTier,
  openTestBook,
  type Stock,
  type TestBook,
} from '../support.ts';

let now = new Date(2026, 2, 2, 12);
let opened: TestBook;
let stock: Stock;
let supplierId: number;
beforeAll(async () => {
  opened = await openTestBook(() => now);
  stock = opened.write((tx) => makeStock(tx));
  supplierId = opened.write((tx) => {
    const { lastId } = tx.run(tx.db.insertInto('supplier').values({ name: 'Weaver', lead_days: 9 }));
    tx.run(tx.db.updateTable('cloth').set({ supplier_id: lastId }).where('id', '=', stock.clothId));
    return lastId;
  });
});
afterAll(() => opened.close());

/** An order that was expected on a day of March, of which a piece came on each of some days. */
function deliver(code: string, expected: string | null, came: readonly number[]): void {
  const lineId = opened.write((tx) => {
    const order = tx.run(
      tx.db.insertInto('order').values({
        code,
        supplier_id: supplierId,
        drafted_at: tx.at,
        expected_on: expected,
        sent_at: tx.at,
        closed_at: null,
        cancelled_at: null,
      }),
    );
    return tx.run(
      tx.db.insertInto('order_line').values({
        order_id: order.lastId,
        cloth_id: stock.clothId,
        shade_id: stock.shadeId,
        length_ticks: length('5 m'),
        price_minor: null,
        price_ticks: null,
        typed: '{}',
      }),
    ).lastId;
  });
  for (const day of came) {
    now = new Date(2026, 2, day, 12);
    opened.write((tx) =>
      receivePiece(
        tx,
        {
          kind: 'bolt',
          lotId: stock.lotId,
          usableWidthTicks: length('147 cm'),
          placeId: null,
          lengthTicks: length('1 m'),
          typed: '1 m',
          costMinor: 0,
        },
        { orderLineId: lineId },
      ),
    );
  }
}

const deliveryOf = () =>
  readDeliveries(opened.book, [stock], { today: '2026-04-01', spareDays: 3, laterBy: () => 0 })(stock);

it('days to spare come from how late the supplier was, by the last delivery of each order', () => {
  expect(readLateRecords(opened.book, [supplierId]).size).toBe(0);
  expect(deliveryOf()).toMatchObject({ supplier: 'Weaver', leadDays: 9, bufferDays: 3, deliveries: 0 });
  deliver('O1', '2026-03-03', [3, 5]);
  deliver('O2', '2026-03-09', [8]);
  deliver('O3', null, [9]);
  deliver('O4', '2026-03-20', []);
  expect(readLateRecords(opened.book, [supplierId]).get(supplierId)).toEqual({
    lateDays: [0, 2],
    bufferDays: 2,
  });
  expect(deliveryOf()).toMatchObject({ bufferDays: 2, deliveries: 2 });
});

it('nothing is told of a cloth that nobody delivers', () => {
  const other = opened.write((tx) => makeStock(tx));
  const deliveries = readDeliveries(opened.book, [other], {
    today: '2026-04-01',
    spareDays: 3,
    laterBy: () => 0,
  });
  expect(deliveries(other)).toBeNull();
});

it('strips an hour are measured between cuts, and between taps where somebody taps', () => {
  const { tierId, piece } = opened.write((tx) => ({
    tierId: makeTier(tx, stock),
    piece: makeBolt(tx, stock.lotId, '20 m'),
  }));
  const garmentId =
    opened.book.first(opened.book.db.selectFrom('tier').select('garment_id').where('id', '=', tierId))
      ?.garment_id ?? 0;
  const cut = (clock: string, strips: number) => {
    now = new Date(`2026-03-30T${clock}:00`);
    opened.write((tx) =>
      cutLength(tx, piece.id, { tierId, strips, lengthTicks: length('32 cm'), typed: '32 cm' }),
    );
  };
  cut('09:00', 1);
  cut('09:20', 2);
  expect(readMeasuredStrips(opened.book)).toBeNull();
  cut('09:50', 3);
  expect(sayMeasuredStrips(readMeasuredStrips(opened.book))).toBe(
    'Measured: 6 strips an hour, rounded down: 5 in 50 min between entries of the ledger.',
  );
  const tap = (clock: string, what: 'begun' | 'left') => {
    now = new Date(`2026-03-30T${clock}:00`);
    opened.write((tx) =>
      tx.run(
        tx.db
          .insertInto('work_tap')
          .values({ garment_id: garmentId, work: 'cut', tap: what, at: tx.at, person_id: tx.personId }),
      ),
    );
  };
  tap('08:50', 'begun');
  tap('09:55', 'left');
  expect(sayMeasuredStrips(readMeasuredStrips(opened.book))).toBe(
    'Measured: 5 strips an hour, rounded down: 6 in 1 h 5 min between taps.',
  );
});
