import { exactly, showDecimal } from '../../../src/quantity/figure-show.ts';
import { METRIC } from '../../../src/quantity/length-show.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import { showSupplyAmount } from '../../../src/supply/amount.ts';
import type { Book } from '../../database/book.ts';
import { orderPath } from '../../kit/paths.ts';
import { dayOf, showDay } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { SupplyOrderLine } from '../../supplies/ordered.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { orderPage } from './page.ts';
import { type Order, type OrderLine, readOrder } from './queries.ts';
import { orderTotals } from './sums.ts';

/** An order as the supplier reads it: to be printed or saved as a PDF. */
export function orderSheetPage(book: Book, asker: Asker, code: string) {
  const order = readOrder(book, code);
  const data = {
    order: orderPage(book, asker, code).data,
    workroom: readWorkroom(book).name,
    day: showDay(dayOf(order.sentAt ?? book.now())),
    href: orderPath(code),
  };
  return { view: 'orders/order/sheet', data, title: `Order ${code}`, room: 'orders' } satisfies Page;
}

const HEAD = [
  'order',
  'supplier',
  'article',
  'cloth',
  'shade',
  'bolts',
  'length_m',
  'price',
  'price_for_m',
  'cost',
  'currency',
  'supply',
  'put_ups',
  'put_up',
  'holds',
];

/** The lines of an order as a list for a spreadsheet: lengths in metres to the hundredth of a micrometre, exactly. */
export function orderRows(order: Order): string[][] {
  const { discountMinor, cutFeesMinor, freightMinor, taxMinor } = orderTotals(order);
  return [
    HEAD,
    ...order.lines.map((line) => cells(order, line)),
    ...order.supplies.map((line) => supplyCells(order, line)),
    ...(discountMinor > 0 ? [extra(order, 'discount', -discountMinor)] : []),
    ...(cutFeesMinor > 0 ? [extra(order, 'cut fees', cutFeesMinor)] : []),
    ...(freightMinor > 0 ? [extra(order, 'freight', freightMinor)] : []),
    ...(taxMinor > 0 ? [extra(order, 'tax', taxMinor)] : []),
  ];
}

function cells(order: Order, line: OrderLine): string[] {
  const { currency } = order.terms;
  return [
    order.code,
    order.supplierName,
    line.article,
    line.clothName,
    line.shade.name,
    line.bolts === null ? '' : String(line.bolts),
    metres(line.orderedTicks),
    line.price === null ? '' : writeMoney(line.price.minor, currency),
    line.price === null ? '' : metres(line.price.perTicks),
    line.costMinor === null ? '' : writeMoney(line.costMinor, currency),
    currency,
    ...NO_SUPPLY,
  ];
}

const NO_SUPPLY = ['', '', '', ''];

/** A supply has no cloth, shade or length: its put-ups stand behind the currency, and the price is that of one. */
function supplyCells(order: Order, line: SupplyOrderLine): string[] {
  const { currency } = order.terms;
  return [
    order.code,
    order.supplierName,
    line.article,
    '',
    '',
    '',
    '',
    line.priceMinor === null ? '' : writeMoney(line.priceMinor, currency),
    '',
    line.costMinor === null ? '' : writeMoney(line.costMinor, currency),
    currency,
    line.supplyName,
    String(line.putUps),
    line.putUp,
    showSupplyAmount(line.amount, line.measure, METRIC, 'near'),
  ];
}

function extra(order: Order, what: string, minor: number): string[] {
  const { currency } = order.terms;
  const blank = Array.from({ length: 5 }, () => '');
  const written = minor < 0 ? `-${writeMoney(-minor, currency)}` : writeMoney(minor, currency);
  return [order.code, order.supplierName, '', what, ...blank, written, currency, ...NO_SUPPLY];
}

/** A tick is 625 hundred-millionths of a metre, so eight places hold every length. */
function metres(ticks: number): string {
  return showDecimal(exactly(ticks) * 625n, 8);
}
