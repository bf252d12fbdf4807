import { showLength } from '../../src/quantity/length-show.ts';
import type { Reader } from '../database/book.ts';
import { type Chip, shadeChip } from '../kit/chip.ts';
import { orderPath } from '../kit/paths.ts';
import { showDay } from '../kit/when.ts';
import { type Order, readOpenOrders } from '../orders/order/queries.ts';
import type { Asker } from '../web/house.ts';
import { nearness } from './days.ts';

const MOST_LINES = 4;

export interface ArrivingLine {
  readonly clothName: string;
  readonly chip: Chip;
  readonly awaited: string;
}

/** An order that something is still to come of, or a draft that nobody sent yet. */
export interface ArrivingOrder {
  readonly code: string;
  readonly href: string;
  readonly receiveHref: string;
  readonly supplier: string;
  readonly expected: string;
  readonly when: string;
  readonly late: boolean;
  readonly lines: readonly ArrivingLine[];
  readonly moreLines: number;
}

export interface Arriving {
  readonly sent: readonly ArrivingOrder[];
  readonly drafts: readonly ArrivingOrder[];
}

/** Orders by the day they are expected; those without a day last. */
export function readArriving(reader: Reader, asker: Asker, today: string): Arriving {
  const orders = readOpenOrders(reader);
  const shape = (order: Order) => shapeArriving(order, asker, today);
  return {
    sent: orders.filter(({ state }) => state !== 'draft').map(shape),
    drafts: orders.filter(({ state }) => state === 'draft').map(shape),
  };
}

function shapeArriving(order: Order, asker: Asker, today: string): ArrivingOrder {
  const lines = order.lines.filter((line) => order.state === 'draft' || line.awaitedTicks > 0);
  const near = nearness(order.expectedOn, today);
  return {
    code: order.code,
    href: orderPath(order.code),
    receiveHref: `${orderPath(order.code)}/receipts`,
    supplier: order.supplierName,
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    when: near.words,
    late: near.past && order.state !== 'draft',
    lines: lines.slice(0, MOST_LINES).map((line) => ({
      clothName: line.clothName,
      chip: shadeChip(line.shade),
      awaited: showLength(line.awaitedTicks, asker.units, 'near'),
    })),
    moreLines: Math.max(0, lines.length - MOST_LINES),
  };
}
