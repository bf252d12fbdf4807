import { costOf, type PricePerLength } from '../../src/money.ts';
import type { Reader } from '../database/book.ts';
import { conflict, unknown } from '../refusal.ts';
import type { ShadeColour } from '../shelf/chip.ts';

/** draft: being written. sent: nothing came yet. part: some came. received: all came. closed: the rest is not awaited. */
export type OrderState = 'draft' | 'sent' | 'part' | 'received' | 'closed' | 'cancelled';

export const STATE_WORDS: Record<OrderState, string> = {
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
  /** what is still to come, 0 where as much or more came */
  readonly awaitedTicks: number;
  readonly price: PricePerLength | null;
  readonly costMinor: number | null;
  readonly typed: { readonly length: string; readonly price: string };
}

export interface Order {
  readonly id: number;
  readonly code: string;
  readonly supplierId: number;
  readonly supplierName: string;
  readonly note: string;
  readonly expectedOn: string | null;
  readonly draftedAt: string;
  readonly sentAt: string | null;
  readonly state: OrderState;
  readonly lines: readonly OrderLine[];
}

/** One order by its code. @throws {Refusal} unknown */
export function readOrder(reader: Reader, code: string): Order {
  const [order] = withLines(reader, reader.all(ordersQuery(reader).where('order.code', '=', code)));
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

/** Drafts, and orders that were sent and neither closed nor cancelled; the earliest expected first. */
export function readOpenOrders(reader: Reader): Order[] {
  const rows = reader.all(
    ordersQuery(reader)
      .where('order.closed_at', 'is', null)
      .where('order.cancelled_at', 'is', null)
      .orderBy((order) => order.fn.coalesce('order.expected_on', order.val('9999')))
      .orderBy('order.id'),
  );
  return withLines(reader, rows).filter((order) => order.state !== 'received');
}

/** All orders, the newest first, from before an id: one page of them. */
export function readOrders(reader: Reader, page: { beforeId: number | null; count: number }): Order[] {
  let query = ordersQuery(reader).orderBy('order.id', 'desc').limit(page.count);
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
    `Order ${order.code} is ${STATE_WORDS[order.state].toLowerCase()}, so this cannot be done.`,
    {
      text: `See order ${order.code}`,
      href: `/orders/${order.code}`,
    },
  );
}

type OrderRow =
  ReturnType<ReturnType<typeof ordersQuery>['executeTakeFirstOrThrow']> extends Promise<infer Row>
    ? Row
    : never;

function ordersQuery(reader: Reader) {
  return reader.db
    .selectFrom('order')
    .innerJoin('supplier', 'supplier.id', 'order.supplier_id')
    .selectAll('order')
    .select('supplier.name as supplierName');
}

function withLines(reader: Reader, rows: readonly OrderRow[]): Order[] {
  const lines = readLines(
    reader,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => asOrder(row, lines));
}

function asOrder(row: OrderRow, allLines: readonly (OrderLine & { orderId: number })[]): Order {
  const lines = allLines.filter(({ orderId }) => orderId === row.id);
  return {
    id: row.id,
    code: row.code,
    supplierId: row.supplier_id,
    supplierName: row.supplierName,
    note: row.note,
    expectedOn: row.expected_on,
    draftedAt: row.drafted_at,
    sentAt: row.sent_at,
    state: stateOf(row, lines),
    lines,
  };
}

function stateOf(row: OrderRow, lines: readonly OrderLine[]): OrderState {
  if (row.cancelled_at !== null) return 'cancelled';
  if (row.closed_at !== null) return 'closed';
  if (row.sent_at === null) return 'draft';
  if (lines.every((line) => line.awaitedTicks === 0)) return 'received';
  return lines.some((line) => line.receivedTicks > 0) ? 'part' : 'sent';
}

function readLines(reader: Reader, orderIds: readonly number[]): (OrderLine & { orderId: number })[] {
  if (orderIds.length === 0) return [];
  const rows = reader.all(
    reader.db
      .selectFrom('order_line')
      .innerJoin('cloth', 'cloth.id', 'order_line.cloth_id')
      .innerJoin('shade', 'shade.id', 'order_line.shade_id')
      .selectAll('order_line')
      .select([
        'cloth.name as clothName',
        'shade.name as shadeName',
        'shade.lab_l',
        'shade.lab_a',
        'shade.lab_b',
      ])
      .select((line) =>
        line
          .selectFrom('entry')
          .leftJoin('entry as undone', 'undone.reverses_id', 'entry.id')
          .select((entry) =>
            entry.fn.coalesce(entry.fn.sum<number>('entry.length_ticks'), entry.val(0)).as('sum'),
          )
          .whereRef('entry.order_line_id', '=', 'order_line.id')
          .where('entry.kind', '=', 'received')
          .where('undone.id', 'is', null)
          .as('receivedTicks'),
      )
      .where('order_line.order_id', 'in', orderIds)
      .orderBy('order_line.id'),
  );
  return rows.map((row) => {
    const price = asPrice(row.price_minor, row.price_ticks);
    const receivedTicks = row.receivedTicks ?? 0;
    return {
      orderId: row.order_id,
      id: row.id,
      clothId: row.cloth_id,
      clothName: row.clothName,
      shadeId: row.shade_id,
      shade: { name: row.shadeName, lab_l: row.lab_l, lab_a: row.lab_a, lab_b: row.lab_b },
      orderedTicks: row.length_ticks,
      receivedTicks,
      awaitedTicks: Math.max(0, row.length_ticks - receivedTicks),
      price,
      costMinor: price && costOf(row.length_ticks, price),
      typed: JSON.parse(row.typed) as OrderLine['typed'],
    };
  });
}

function asPrice(minor: number | null, perTicks: number | null): PricePerLength | null {
  return minor === null || perTicks === null ? null : { minor, perTicks };
}
