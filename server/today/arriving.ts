import { showLength } from '../../src/quantity/length-show.ts';
import { showSupplyAmount } from '../../src/supply/amount.ts';
import type { Reader } from '../database/book.ts';
import { shadeChip } from '../kit/chip.ts';
import { orderPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { type Order, readOpenOrders } from '../orders/order/queries.ts';
import type { Asker } from '../web/house.ts';
import { nearness } from './days.ts';

const MOST_LINES = 4;

export type Arriving = ReturnType<typeof readArriving>;

/** Orders that something is still to come of, and drafts, by the day they are expected; those without a day last. */
export function readArriving(reader: Reader, asker: Asker, today: string) {
  const orders = readOpenOrders(reader);
  const shape = (order: Order) => shapeArriving(order, asker, today);
  return {
    sent: orders.filter(({ state }) => state !== 'draft').map(shape),
    drafts: orders.filter(({ state }) => state === 'draft').map(shape),
  };
}

function shapeArriving(order: Order, asker: Asker, today: string) {
  const isDraft = order.state === 'draft';
  const lines = order.lines
    .filter((line) => isDraft || line.awaitedTicks > 0)
    .map((line) => ({
      name: line.clothName,
      chip: shadeChip(line.shade),
      awaited: showLength(line.awaitedTicks, asker.units, 'near'),
    }));
  const supplies = order.supplies
    .filter((line) => isDraft || line.awaitedAmount > 0)
    .map((line) => ({
      name: line.supplyName,
      chip: null,
      awaited: showSupplyAmount(line.awaitedAmount, line.measure, asker.units, 'near'),
    }));
  const near = nearness(order.expectedOn, today);
  return {
    code: order.code,
    href: orderPath(order.code),
    receiveHref: `${orderPath(order.code)}/receipts`,
    supplier: order.supplierName,
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    when: near.words,
    late: near.past && order.state !== 'draft',
    lines: [...lines, ...supplies].slice(0, MOST_LINES),
    moreLines: Math.max(0, lines.length + supplies.length - MOST_LINES),
  };
}
