import type { InferResult } from 'kysely';
import { costOf, type PricePerLength } from '../../../src/quantity/money.ts';
import { EVEN_RATE_MILLIONTHS } from '../../../src/quantity/rate.ts';
import type { Reader } from '../../database/book.ts';
import { inList, type Param, prepared } from '../../database/statements.ts';
import { readStored } from '../../database/stored.ts';
import type { ShadeColour } from '../../kit/chip.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { inForce } from '../../ledger/standing.ts';
import { conflict, unknown } from '../../refusal.ts';
import { readSupplyOrderLines, type SupplyOrderLine } from '../../supplies/ordered.ts';
import type { DraftTerms } from './draft.ts';
import { LINE_TYPED, type LineTyped } from './draft.ts';
import { type LotAsked, sayLotAsked } from './lot-asked.ts';

/** draft: being written. sent: nothing came yet. part: some came. received: all came. closed: the rest is not awaited. */
export type OrderState = 'draft' | 'sent' | 'part' | 'received' | 'closed' | 'cancelled';

export const ORDER_STATE_WORDS: Record<OrderState, string> = {
  draft: 'Draft',
  sent: 'Sent',
  part: 'Part received',
  received: 'Received',
  closed: 'Closed',
  cancelled: 'Cancelled',
};

export interface OrderLine {
  readonly id: number;
  readonly clothId: number;
  readonly clothName: string;
  readonly shadeId: number;
  readonly shade: ShadeColour;
  readonly orderedTicks: number;
  /** as measured on receipt; undone receipts do not count */
  readonly receivedTicks: number;
  /** pieces received */
  readonly receivedPieces: number;
  /** what is still to come: bolts by their number, whatever they measured; 0 where as much or more came */
  readonly awaitedTicks: number;
  /** minor units of the order's currency */
  readonly price: PricePerLength | null;
  readonly costMinor: number | null;
  /** so many whole bolts; null where it is cut off the bolt */
  readonly bolts: number | null;
  readonly offerId: number | null;
  /** the supplier's article, '' where the line is of no offer */
  readonly article: string;
  /** null: nothing was asked of its lot; without a lot, all of one, whichever */
  readonly lotAsked: LotAsked | null;
  readonly typed: LineTyped;
}

export interface Order {
  readonly id: number;
  readonly code: string;
  readonly supplierId: number;
  readonly supplierName: string;
  readonly note: string;
  /** the supplier's own number of it, '' where none is known */
  readonly supplierNumber: string;
  readonly expectedOn: string | null;
  readonly draftedAt: string;
  readonly sentAt: string | null;
  readonly state: OrderState;
  readonly terms: DraftTerms;
  /** lines that ask for cloth */
  readonly lines: readonly OrderLine[];
  /** lines that ask for dyes, thread, notions and the like */
  readonly supplies: readonly SupplyOrderLine[];
}

const orderWithCode = prepared((db, code: Param<string>) => ordersQuery(db).where('order.code', '=', code));

/** One order by its code. @throws {Refusal} unknown */
export function readOrder(reader: Reader, code: string): Order {
  const [order] = withLines(reader, reader.all(orderWithCode(code)));
  if (!order) throw unknown(`order ${code}`);
  return order;
}

/** What is on order and not yet received, per line of a sent order: for Short and Today. */
export interface Awaited {
  readonly orderCode: string;
  readonly supplierName: string;
  readonly expectedOn: string | null;
  readonly clothId: number;
  readonly shadeId: number;
  readonly awaitedTicks: number;
}

export function readAwaited(reader: Reader): Awaited[] {
  const orders = readOpenOrders(reader).filter((order) => order.state === 'sent' || order.state === 'part');
  return orders.flatMap((order) =>
    order.lines
      .filter((line) => line.awaitedTicks > 0)
      .map((line) => ({
        orderCode: order.code,
        supplierName: order.supplierName,
        expectedOn: order.expectedOn,
        clothId: line.clothId,
        shadeId: line.shadeId,
        awaitedTicks: line.awaitedTicks,
      })),
  );
}

/** What sent orders still owe of supplies, by line, with its order. */
export function readAwaitedSupplies(reader: Reader) {
  const orders = readOpenOrders(reader).filter((order) => order.state === 'sent' || order.state === 'part');
  return orders.flatMap((order) =>
    order.supplies.filter((line) => line.awaitedAmount > 0).map((line) => ({ order, line })),
  );
}

const openOrders = prepared((db) =>
  ordersQuery(db)
    .where('order.closed_at', 'is', null)
    .where('order.cancelled_at', 'is', null)
    .orderBy((order) => order.fn.coalesce('order.expected_on', order.val('9999')))
    .orderBy('order.id'),
);

/** Drafts, and orders that were sent and neither closed nor cancelled; the earliest expected first. */
export function readOpenOrders(reader: Reader): Order[] {
  return withLines(reader, reader.all(openOrders())).filter((order) => order.state !== 'received');
}

/** Orders that are being written. */
export function readDrafts(reader: Reader): Order[] {
  return readOpenOrders(reader).filter(({ state }) => state === 'draft');
}

/** All orders, the newest first, from before an id: one page of them. */
export function readOrders(reader: Reader, page: { beforeId: number | null; count: number }): Order[] {
  let query = ordersQuery(reader.db).orderBy('order.id', 'desc').limit(page.count);
  if (page.beforeId !== null) query = query.where('order.id', '<', page.beforeId);
  return withLines(reader, reader.all(query));
}

/** Whether something is still awaited though its day has gone by; `today` is the workroom's day. */
export function isLate(order: Order, today: string): boolean {
  const open = order.state === 'sent' || order.state === 'part';
  return open && order.expectedOn !== null && order.expectedOn < today;
}

/** @throws {Refusal} conflict where the order is in another state, e.g. because somebody sent it meanwhile */
export function refuseUnless(order: Order, states: readonly OrderState[]): void {
  if (states.includes(order.state)) return;
  throw conflict(
    `Order ${order.code} is ${ORDER_STATE_WORDS[order.state].toLowerCase()}, so this cannot be done.`,
    {
      text: `See order ${order.code}`,
      href: `/orders/${order.code}`,
    },
  );
}

type OrderRow = InferResult<ReturnType<typeof ordersQuery>>[number];

function ordersQuery(db: Reader['db']) {
  return db
    .selectFrom('order')
    .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
    .leftJoin('order_terms', 'order_terms.order_id', 'order.id')
    .selectAll('order')
    .select([
      'supplier.name as supplierName',
      'order_terms.currency',
      'order_terms.rate_millionths',
      'order_terms.freight_minor',
      'order_terms.tax_bp',
      'order_terms.tax_reclaimed',
      'order_terms.discount_bp',
      'order_terms.cut_fee_minor',
    ]);
}

function withLines(reader: Reader, rows: readonly OrderRow[]): Order[] {
  const ids = rows.map(({ id }) => id);
  const lines = readLines(reader, ids);
  const supplies = readSupplyOrderLines(reader, ids);
  const home = readWorkroom(reader).currency;
  return rows.map((row) => asOrder(row, { lines, supplies }, home));
}

interface AllLines {
  readonly lines: readonly (OrderLine & { orderId: number })[];
  readonly supplies: readonly SupplyOrderLine[];
}

function asOrder(row: OrderRow, all: AllLines, home: string): Order {
  const lines = all.lines.filter(({ orderId }) => orderId === row.id);
  const supplies = all.supplies.filter(({ orderId }) => orderId === row.id);
  return {
    id: row.id,
    code: row.code,
    supplierId: row.supplier_id,
    supplierName: row.supplierName,
    note: row.note,
    supplierNumber: row.supplier_number,
    expectedOn: row.expected_on,
    draftedAt: row.drafted_at,
    sentAt: row.sent_at,
    state: stateOf(row, lines, supplies),
    terms: {
      currency: row.currency ?? home,
      rateMillionths: row.rate_millionths ?? EVEN_RATE_MILLIONTHS,
      freightMinor: row.freight_minor ?? 0,
      taxBp: row.tax_bp ?? 0,
      taxReclaimed: row.tax_reclaimed === 1,
      discountBp: row.discount_bp ?? 0,
      cutFeeMinor: row.cut_fee_minor ?? 0,
    },
    lines,
    supplies,
  };
}

function stateOf(
  row: OrderRow,
  lines: readonly OrderLine[],
  supplies: readonly SupplyOrderLine[],
): OrderState {
  if (row.cancelled_at !== null) return 'cancelled';
  if (row.closed_at !== null) return 'closed';
  if (row.sent_at === null) return 'draft';
  const awaits = [
    ...lines.map(({ awaitedTicks }) => awaitedTicks),
    ...supplies.map(({ awaitedAmount }) => awaitedAmount),
  ];
  if (awaits.every((amount) => amount === 0)) return 'received';
  const came =
    lines.some(({ receivedTicks }) => receivedTicks > 0) ||
    supplies.some(({ receivedAmount }) => receivedAmount > 0);
  return came ? 'part' : 'sent';
}

const linesOf = prepared((db, orderIds: Param<readonly number[]>) =>
  db
    .selectFrom('order_line')
    .innerJoin('cloth', 'cloth.id', 'order_line.cloth_id')
    .innerJoin('shade', 'shade.id', 'order_line.shade_id')
    .leftJoin('order_line_offer', 'order_line_offer.line_id', 'order_line.id')
    .leftJoin('offer', 'offer.id', 'order_line_offer.offer_id')
    .leftJoin('order_line_lot', 'order_line_lot.line_id', 'order_line.id')
    .leftJoin('lot', 'lot.id', 'order_line_lot.lot_id')
    .selectAll('order_line')
    .select([
      'order_line_offer.bolts',
      'order_line_offer.offer_id',
      'offer.article',
      'order_line_lot.line_id as lotAsked',
      'lot.id as lotId',
      'lot.code as lotCode',
      'lot.mill_lot as millLot',
      'lot.origin',
      'cloth.name as clothName',
      'shade.name as shadeName',
      'shade.lab_l',
      'shade.lab_a',
      'shade.lab_b',
    ])
    .where('order_line.order_id', 'in', inList(orderIds))
    .orderBy('order_line.id'),
);

function readLines(reader: Reader, orderIds: readonly number[]): (OrderLine & { orderId: number })[] {
  if (orderIds.length === 0) return [];
  const rows = reader.all(linesOf(orderIds));
  const came = readReceived(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => {
    const price = asPrice(row.price_minor, row.price_ticks);
    const { ticks: receivedTicks = 0, pieces: receivedPieces = 0 } = came.get(row.id) ?? {};
    return {
      orderId: row.order_id,
      id: row.id,
      clothId: row.cloth_id,
      clothName: row.clothName,
      shadeId: row.shade_id,
      shade: { name: row.shadeName, lab_l: row.lab_l, lab_a: row.lab_a, lab_b: row.lab_b },
      orderedTicks: row.length_ticks,
      receivedTicks,
      receivedPieces,
      awaitedTicks: awaitedOf(row.length_ticks, row.bolts, receivedTicks, receivedPieces),
      price,
      costMinor: price && costOf(row.length_ticks, price),
      bolts: row.bolts,
      offerId: row.offer_id,
      article: row.article ?? '',
      lotAsked: row.lotAsked === null ? null : { lotId: row.lotId, said: sayLotAsked(row) },
      typed: readStored(LINE_TYPED, row.typed),
    };
  });
}

const receivedOf = prepared((db, lineIds: Param<readonly number[]>) =>
  db
    .selectFrom('entry')
    .select((entry) => [
      'entry.order_line_id as lineId',
      entry.fn.sum<number>('entry.length_ticks').as('ticks'),
      entry.fn.countAll<number>().as('pieces'),
    ])
    .where('entry.order_line_id', 'in', inList(lineIds))
    .where('entry.kind', '=', 'received')
    .where(inForce('entry'))
    .groupBy('entry.order_line_id'),
);

/** Length and number of pieces that came of each line; undone receipts do not count. */
function readReceived(reader: Reader, lineIds: readonly number[]) {
  if (lineIds.length === 0) return new Map<number, { ticks: number; pieces: number }>();
  const rows = reader.all(receivedOf(lineIds));
  return new Map(rows.map(({ lineId, ticks, pieces }) => [lineId ?? 0, { ticks, pieces }]));
}

function awaitedOf(orderedTicks: number, bolts: number | null, ticks: number, pieces: number): number {
  if (bolts === null) return Math.max(0, orderedTicks - ticks);
  return Math.max(0, bolts - pieces) * Math.floor(orderedTicks / bolts);
}

function asPrice(minor: number | null, perTicks: number | null): PricePerLength | null {
  return minor === null || perTicks === null ? null : { minor, perTicks };
}
