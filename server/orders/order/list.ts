import { showLength } from '../../../src/quantity/length-show.ts';
import type { Reader } from '../../database/book.ts';
import { showDay } from '../../kit/when.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { isLate, ORDER_STATE_WORDS, type Order, readOpenOrders, readOrders } from './queries.ts';

const PAGE = 50;

/** Orders: first those that somebody has to do something about, then the others by page, the newest first. */
export function ordersPage(reader: Reader, asker: Asker, today: string, beforeId: number | null) {
  const orders = readOrders(reader, { beforeId, count: PAGE + 1 });
  const shown = orders.slice(0, PAGE);
  const last = shown.at(-1);
  const open = beforeId === null ? readOpenOrders(reader) : [];
  const openIds = new Set(open.map(({ id }) => id));
  const data = {
    open: open.map((order) => shapeRow(order, asker, today)),
    others: shown.filter(({ id }) => !openIds.has(id)).map((order) => shapeRow(order, asker, today)),
    /** the address of the next page of all orders, or '' */
    further: orders.length > PAGE && last ? `/orders?before=${last.id}` : '',
    first: beforeId === null,
  };
  return { view: 'orders/order/list', data, title: 'Orders', room: 'orders' } satisfies Page;
}

function shapeRow(order: Order, asker: Asker, today: string) {
  return {
    code: order.code,
    href: `/orders/${order.code}`,
    supplier: order.supplierName,
    state: order.state,
    stateWords: ORDER_STATE_WORDS[order.state],
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    late: isLate(order, today),
    lines: [
      ...order.lines.map((line) => `${line.clothName}, ${line.shade.name}`),
      ...order.supplies.map(({ supplyName }) => supplyName),
    ].join('; '),
    awaited: order.state === 'sent' || order.state === 'part' ? sayAwaited(order, asker) : '',
  };
}

/** Lengths of several cloths or shades, and supplies, are no length together: their lines are counted. */
function sayAwaited({ lines, supplies }: Order, { units }: Asker): string {
  const open = lines.filter((line) => line.awaitedTicks > 0);
  if (supplies.length > 0) {
    const besides = supplies.filter(({ awaitedAmount }) => awaitedAmount > 0);
    return `${open.length + besides.length} of ${lines.length + supplies.length} lines`;
  }
  const [first] = open;
  const alike = open.every(({ clothId, shadeId }) => clothId === first?.clothId && shadeId === first.shadeId);
  if (!alike) return `${open.length} of ${lines.length} lines`;
  return showLength(
    open.reduce((sum, line) => sum + line.awaitedTicks, 0),
    units,
    'up',
  );
}
