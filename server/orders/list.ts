import { showLength } from '../../src/length-show.ts';
import type { Reader } from '../database/book.ts';
import type { Asker } from '../web/house.ts';
import type { Page } from '../web/page.ts';
import { showDay } from '../when.ts';
import { isLate, type Order, type OrderState, readOpenOrders, readOrders, STATE_WORDS } from './queries.ts';

const PAGE = 50;

export interface OrderRow {
  readonly code: string;
  readonly href: string;
  readonly supplier: string;
  readonly state: OrderState;
  readonly stateWords: string;
  readonly expected: string;
  readonly late: boolean;
  readonly lines: string;
  readonly awaited: string;
}

export interface OrdersData {
  readonly open: readonly OrderRow[];
  readonly others: readonly OrderRow[];
  /** the address of the next page of all orders, or '' */
  readonly further: string;
  readonly first: boolean;
}

/** Orders: first those that somebody has to do something about, then the others by page, the newest first. */
export function ordersPage(reader: Reader, asker: Asker, today: string, before: string | undefined): Page {
  const beforeId = before !== undefined && /^[0-9]{1,12}$/.test(before) ? Number(before) : null;
  const orders = readOrders(reader, { beforeId, count: PAGE + 1 });
  const shown = orders.slice(0, PAGE);
  const last = shown.at(-1);
  const open = beforeId === null ? readOpenOrders(reader) : [];
  const openIds = new Set(open.map(({ id }) => id));
  const data: OrdersData = {
    open: open.map((order) => shapeRow(order, asker, today)),
    others: shown.filter(({ id }) => !openIds.has(id)).map((order) => shapeRow(order, asker, today)),
    further: orders.length > PAGE && last ? `/orders?before=${last.id}` : '',
    first: beforeId === null,
  };
  return { view: 'orders/list', data, title: 'Orders', room: 'orders' };
}

function shapeRow(order: Order, asker: Asker, today: string): OrderRow {
  const awaitedTicks = order.lines.reduce((sum, line) => sum + line.awaitedTicks, 0);
  const open = order.state === 'sent' || order.state === 'part';
  return {
    code: order.code,
    href: `/orders/${order.code}`,
    supplier: order.supplierName,
    state: order.state,
    stateWords: STATE_WORDS[order.state],
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    late: isLate(order, today),
    lines: order.lines.map((line) => `${line.clothName}, ${line.shade.name}`).join('; '),
    awaited: open ? showLength(awaitedTicks, asker.units, 'up') : '',
  };
}
