import { needKey } from '../../../src/garment/need.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Book, Reader } from '../../database/book.ts';
import { type Param, prepared } from '../../database/statements.ts';
import { shadeChip } from '../../kit/chip.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { grouped } from '../../kit/grouped.ts';
import { clothPath, piecePath, receiptPath, shadePath, supplierPath, supplyPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { dayOf, showDay, showMoment } from '../../kit/when.ts';
import { inForce } from '../../ledger/standing.ts';
import { readReceivedSupplies } from '../../ledger/supplies-received.ts';
import { readShopStepTicks } from '../../setup/rates/store.ts';
import { sayStock } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { type MissLine, missLineOfSupply, moreCloth, sayMisses } from '../offer/minimum-words.ts';
import { showBolts, showLinePrice, showSold } from '../offer/put-up-words.ts';
import { RETURNS_PATH, readReturns } from '../returned/store.ts';
import { readTerms } from '../supplier/terms.ts';
import { readLotAnswers } from './lot-asked.ts';
import { isLate, ORDER_STATE_WORDS, type Order, type OrderLine, readOrder, refuseUnless } from './queries.ts';
import { shapeSums } from './sums.ts';
import { shapeSupplyLine } from './supply-lines.ts';
import { NUMBER_FIELDS } from './verbs.ts';

/** An order as its pages show it. */
export type OrderView = ReturnType<typeof shapeOrder>;

/** An order: what was asked, what came, and what may be done with it now. */
export function orderPage(book: Book, asker: Asker, code: string, typedNumber: Typed = {}) {
  const order = readOrder(book, code);
  const title = order.state === 'draft' ? `Order ${code}, a draft` : `Order ${code}`;
  return {
    view: 'orders/order/order',
    data: shapeOrder(book, asker, order, typedNumber),
    title,
    room: 'orders',
  } satisfies Page;
}

/** The last look before an order is marked as sent: the order as the supplier reads it. */
export function sendOrderPage(book: Book, asker: Asker, code: string) {
  const order = readOrder(book, code);
  refuseUnless(order, ['draft']);
  return {
    view: 'orders/order/send',
    data: shapeOrder(book, asker, order),
    title: `Mark order ${code} as sent?`,
    room: 'orders',
  } satisfies Page;
}

function shapeOrder(book: Book, asker: Asker, order: Order, typedNumber: Typed = {}) {
  const { state } = order;
  const answers = readLotAnswers(book, order.id);
  const { total, unpriced, ...onTop } = shapeSums(order, asker.currency);
  return {
    requestKey: mintKey(),
    code: order.code,
    state,
    stateWords: ORDER_STATE_WORDS[state],
    supplier: order.supplierName,
    note: order.note,
    supplierNumber: order.supplierNumber,
    numberFields: drawFields(NUMBER_FIELDS, { supplier_number: order.supplierNumber, ...typedNumber }),
    drafted: showMoment(order.draftedAt),
    sent: order.sentAt === null ? '' : showMoment(order.sentAt),
    expected: order.expectedOn === null ? '' : showDay(order.expectedOn),
    late: isLate(order, dayOf(book.now())),
    supplierHref: supplierPath(order.supplierId),
    lines: order.lines.map((line) =>
      shapeLine(line, order.terms.currency, answers.get(line.id) ?? [], asker),
    ),
    supplies: order.supplies.map((line) => shapeSupplyLine(line, order.terms.currency, asker)),
    total,
    unpriced,
    onTop,
    /** of a draft, by how much the supplier's minimums are missed, and what it would take */
    misses: state === 'draft' ? sayOrderMisses(book, order, asker) : [],
    receipts: shapeReceipts(book, asker, order),
    returnsHref: RETURNS_PATH,
    /** what went back of what came, with its credit */
    returns: state === 'draft' ? [] : readReturns(book, asker, order.id),
    may: {
      change: state === 'draft',
      receive: state === 'sent' || state === 'part' || state === 'received',
      cancel: state === 'draft' || state === 'sent',
      close: state === 'part' || state === 'received',
      reopen: state === 'closed' || state === 'cancelled',
    },
  };
}

/** Lines of one cloth in one shade count together, and so do those of a supply; a line without a price is counted by its length alone. */
function sayOrderMisses(book: Book, order: Order, { units }: Asker): string[] {
  const minimums = readTerms(book, order.supplierId, dayOf(book.now()));
  const groups = [...grouped(order.lines, needKey).values()];
  const cloth = groups.flatMap((lines): MissLine[] => {
    const [first] = lines;
    if (!first) return [];
    const unitTicks =
      first.bolts === null ? readShopStepTicks(book, units.system) : first.orderedTicks / first.bolts;
    return [
      {
        name: `${first.clothName}, ${first.shade.name}`,
        listMinor: lines.reduce((sum, { costMinor }) => sum + (costMinor ?? 0), 0),
        lengthTicks: lines.reduce((sum, { orderedTicks }) => sum + orderedTicks, 0),
        more: first.price && moreCloth({ price: first.price, unitTicks }, first.bolts !== null),
      },
    ];
  });
  const supplies = [...grouped(order.supplies, ({ supplyId }) => supplyId).values()].flatMap((lines) => {
    const [first] = lines;
    const listMinor = lines.reduce((sum, { costMinor }) => sum + (costMinor ?? 0), 0);
    return first ? [missLineOfSupply({ ...first, name: first.supplyName }, first, listMinor)] : [];
  });
  return sayMisses(minimums, [...cloth, ...supplies], { terms: order.terms, units });
}

function shapeLine(line: OrderLine, currency: string, answers: readonly boolean[], asker: Asker) {
  const { units } = asker;
  return {
    clothName: line.clothName,
    clothHref: clothPath(line.clothId),
    article: line.article,
    /** "all of one lot", '' where nothing was asked */
    lotAsked: line.lotAsked?.said ?? '',
    /** what deliveries said of it */
    lotMet: answers.length === 0 ? '' : answers.every((met) => met) ? 'as asked' : 'not as asked',
    chip: shadeChip(line.shade, { href: shadePath(line.shadeId) }),
    ordered:
      line.bolts === null ? showSold(line.orderedTicks, units) : showLength(line.orderedTicks, units, 'near'),
    /** "4 bolts of 50 m", '' where it is cut off the bolt */
    putUp: line.bolts === null ? '' : showBolts(line.bolts, line.orderedTicks / line.bolts, units),
    received: showLength(line.receivedTicks, units, 'down'),
    awaited: showLength(line.awaitedTicks, units, 'up'),
    price: showLinePrice(line, currency),
    cost: line.costMinor === null ? '' : showMoney(line.costMinor, currency),
  };
}

const receiptsOf = prepared((db, orderId: Param<number>) =>
  db
    .selectFrom('receipt')
    .innerJoin('person', 'person.id', 'receipt.person_id')
    .select(['receipt.id', 'receipt.at', 'person.name'])
    .where('receipt.order_id', '=', orderId)
    .orderBy('receipt.id', 'desc'),
);

function shapeReceipts(reader: Reader, asker: Asker, order: Order) {
  const receipts = reader.all(receiptsOf(order.id));
  const ids = receipts.map(({ id }) => id);
  const pieces = reader.all(receivedPieces(order.id));
  const supplies = readReceivedSupplies(reader, ids).filter(({ isUndone }) => !isUndone);
  const shaped = receipts.map(({ id, at, name }) => ({
    href: receiptPath(id),
    at: showMoment(at),
    person: name,
    came: [
      ...pieces
        .filter((row) => row.id === id)
        .map((row) => ({
          code: row.code,
          href: piecePath(row.code),
          what: showLength(row.length_ticks, asker.units, 'down'),
        })),
      ...supplies
        .filter(({ receiptId }) => receiptId === id)
        .map((row) => ({
          code: '',
          href: supplyPath(row.supplyId),
          what: `${row.name}, ${sayStock(row.amount, row.measure, asker.units)}`,
        })),
    ],
  }));
  return shaped.filter(({ came }) => came.length > 0);
}

const receivedPieces = prepared((db, orderId: Param<number>) =>
  db
    .selectFrom('receipt')
    .innerJoin('entry', 'entry.receipt_id', 'receipt.id')
    .innerJoin('piece', 'piece.id', 'entry.piece_id')
    .select(['receipt.id', 'piece.code', 'entry.length_ticks'])
    .where('receipt.order_id', '=', orderId)
    .where('entry.kind', '=', 'received')
    .where(inForce('entry'))
    .orderBy('entry.id'),
);
