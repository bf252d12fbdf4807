import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Answer, Book, Reader, Tx } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { receiptPath, supplierPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import { dayOf, showDay, showMoment } from '../../kit/when.ts';
import { inForce } from '../../ledger/standing.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showBolts, showLinePrice, showSold } from '../offer/put-up-words.ts';
import {
  isLate,
  ORDER_STATE_WORDS,
  type Order,
  type OrderLine,
  type OrderState,
  readOrder,
  refuseUnless,
} from './queries.ts';
import { type OrderSums, shapeSums } from './sums.ts';

export interface OrderLineView {
  readonly clothName: string;
  readonly clothHref: string;
  readonly article: string;
  readonly chip: Chip;
  readonly ordered: string;
  /** "4 bolts of 50 m", '' where it is cut off the bolt */
  readonly putUp: string;
  readonly received: string;
  readonly awaited: string;
  readonly price: string;
  readonly cost: string;
}

export interface OrderPageData {
  readonly requestKey: string;
  readonly code: string;
  readonly state: OrderState;
  readonly stateWords: string;
  readonly supplier: string;
  readonly note: string;
  readonly drafted: string;
  readonly sent: string;
  readonly expected: string;
  readonly late: boolean;
  readonly supplierHref: string;
  readonly lines: readonly OrderLineView[];
  /** '' where no line has a price */
  readonly total: string;
  readonly unpriced: number;
  readonly onTop: Omit<OrderSums, 'total' | 'unpriced'>;
  readonly receipts: readonly ShownReceipt[];
  readonly may: {
    readonly change: boolean;
    readonly receive: boolean;
    readonly cancel: boolean;
    readonly close: boolean;
    readonly reopen: boolean;
  };
}

export interface ShownReceipt {
  readonly href: string;
  readonly at: string;
  readonly person: string;
  readonly pieces: readonly { readonly code: string; readonly href: string; readonly length: string }[];
}

/** An order: what was asked, what came, and what may be done with it now. */
export function orderPage(book: Book, asker: Asker, code: string): Page {
  const order = readOrder(book, code);
  const title = order.state === 'draft' ? `Order ${code}, a draft` : `Order ${code}`;
  return { view: 'orders/order/order', data: shapeOrder(book, asker, order), title, room: 'orders' };
}

/** The last look before an order is sent: the order as the supplier reads it. */
export function sendPageOf(book: Book, asker: Asker, code: string): Page {
  const order = readOrder(book, code);
  refuseUnless(order, ['draft']);
  return {
    view: 'orders/order/send',
    data: shapeOrder(book, asker, order),
    title: `Send order ${code}?`,
    room: 'orders',
  };
}

/** Marks a draft as sent: the workroom sends it in its own way, and Short counts on it from now on. */
export function sendOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft']);
  setTimes(tx, order, { sent_at: tx.at });
  return { location: `/orders/${code}`, said: `Order ${code} to ${order.supplierName} is marked as sent.` };
}

/** The rest is not awaited any more: what came stays. */
export function closeOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  setTimes(tx, order, { closed_at: tx.at });
  return { location: `/orders/${code}`, said: `Order ${code} is closed; nothing more is awaited.` };
}

/** Only what nobody has delivered on can be cancelled. */
export function cancelOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft', 'sent']);
  setTimes(tx, order, { cancelled_at: tx.at });
  return { location: `/orders/${code}`, said: `Order ${code} is cancelled. It can be taken up again.` };
}

/** Takes a closed or cancelled order up again, as it was. */
export function reopenOrder(tx: Tx, code: string): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['closed', 'cancelled']);
  setTimes(tx, order, { closed_at: null, cancelled_at: null });
  return { location: `/orders/${code}`, said: `Order ${code} is taken up again.` };
}

type Times = Partial<Record<'sent_at' | 'closed_at' | 'cancelled_at', string | null>>;

function setTimes(tx: Tx, order: Order, times: Times): void {
  tx.run(tx.db.updateTable('order').set(times).where('id', '=', order.id));
}

function shapeOrder(book: Book, asker: Asker, order: Order): OrderPageData {
  const { state } = order;
  const { total, unpriced, ...onTop } = shapeSums(order, asker.currency);
  return {
    requestKey: mintKey(),
    code: order.code,
    state,
    stateWords: ORDER_STATE_WORDS[state],
    supplier: order.supplierName,
    note: order.note,
    drafted: showMoment(order.draftedAt),
    sent: order.sentAt === null ? '' : showMoment(order.sentAt),
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    late: isLate(order, dayOf(book.now())),
    supplierHref: supplierPath(order.supplierId),
    lines: order.lines.map((line) => shapeLine(line, order.terms.currency, asker)),
    total,
    unpriced,
    onTop,
    receipts: shapeReceipts(book, asker, order),
    may: {
      change: state === 'draft',
      receive: state === 'sent' || state === 'part' || state === 'received',
      cancel: state === 'draft' || state === 'sent',
      close: state === 'part' || state === 'received',
      reopen: state === 'closed' || state === 'cancelled',
    },
  };
}

function shapeLine(line: OrderLine, currency: string, asker: Asker): OrderLineView {
  const { units } = asker;
  return {
    clothName: line.clothName,
    clothHref: `/shelf/cloths/${line.clothId}`,
    article: line.article,
    chip: shadeChip(line.shade, { href: `/shelf/shades/${line.shadeId}` }),
    ordered:
      line.bolts === null ? showSold(line.orderedTicks, units) : showLength(line.orderedTicks, units, 'near'),
    putUp: line.bolts === null ? '' : showBolts(line.bolts, line.orderedTicks / line.bolts, units),
    received: showLength(line.receivedTicks, units, 'down'),
    awaited: showLength(line.awaitedTicks, units, 'up'),
    price: showLinePrice(line, currency),
    cost: line.costMinor === null ? '' : showMoney(line.costMinor, currency),
  };
}

function shapeReceipts(reader: Reader, asker: Asker, order: Order): ShownReceipt[] {
  const rows = reader.all(
    reader.db
      .selectFrom('receipt')
      .innerJoin('person', 'person.id', 'receipt.person_id')
      .innerJoin('entry', 'entry.receipt_id', 'receipt.id')
      .innerJoin('piece', 'piece.id', 'entry.piece_id')
      .select(['receipt.id', 'receipt.at', 'person.name', 'piece.code', 'entry.length_ticks'])
      .where('receipt.order_id', '=', order.id)
      .where('entry.kind', '=', 'received')
      .where(inForce('entry'))
      .orderBy('receipt.id', 'desc')
      .orderBy('entry.id'),
  );
  const ids = [...new Set(rows.map((row) => row.id))];
  return ids.map((id) => {
    const own = rows.filter((row) => row.id === id);
    return {
      href: receiptPath(id),
      at: showMoment(own[0]?.at ?? ''),
      person: own[0]?.name ?? '',
      pieces: own.map((row) => ({
        code: row.code,
        href: `/shelf/pieces/${row.code}`,
        length: showLength(row.length_ticks, asker.units, 'down'),
      })),
    };
  });
}
