import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { type Chip, shadeChip } from '../../kit/chip.ts';
import { type Choice, placeChoices, withBlank } from '../../kit/choices.ts';
import { receiptPath } from '../../kit/paths.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { lengthUnit, sizeUnit } from '../../kit/units.ts';
import { listCodes, wordFor } from '../../kit/words.ts';
import { receivePieces } from '../../shelf/receive/receiving.ts';
import { rowForEach } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showBolts } from '../offer/put-up-words.ts';
import { type OrderLine, readOrder, refuseUnless } from '../order/queries.ts';
import { refuseAfterAnother, refuseMoreThanOrdered, shapeDelivery } from './again.ts';
import { type LandedView, shapeLanded } from './cost.ts';
import type { ReceiveForm } from './form.ts';
import { cameOf, landedOf, type OnTopTyped, typedOnTop } from './landing.ts';

/** Rows drawn for each line that is awaited by the length; bolts get a row each, up to so many. */
const ROWS_A_LINE = 3;
const MOST_ROWS_A_LINE = 12;

export interface ReceiveData {
  readonly requestKey: string;
  /** how many deliveries of the order were in the book when this was drawn */
  readonly deliveries: number;
  /** which delivery came in after the form was opened, as a sentence; '' where none did */
  readonly since: string;
  /** whether somebody said that more came than was ordered */
  readonly more: boolean;
  readonly code: string;
  readonly supplier: string;
  readonly note: string;
  readonly lines: readonly AwaitedLine[];
  readonly places: readonly Choice[];
  readonly unit: string;
  readonly sizeUnit: string;
  readonly currency: string;
  readonly onTop: OnTopTyped;
  /** what was typed comes to, where it was asked for */
  readonly landed: LandedView | null;
}

interface AwaitedLine {
  readonly id: number;
  readonly clothName: string;
  readonly chip: Chip;
  readonly awaited: string;
  readonly price: string;
  readonly rows: readonly TypedPiece[];
}

interface TypedPiece {
  readonly index: number;
  readonly length: string;
  readonly mill_lot: string;
  readonly usable_width: string;
  readonly place_id: string;
  readonly price: string;
}

/** What came of an order: rows under every line, the awaited lines first. */
export function receiveOrderPage(
  reader: Reader,
  asker: Asker,
  code: string,
  typed: Typed = {},
  form: ReceiveForm | null = null,
): Page {
  const order = readOrder(reader, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  const sorted = [...order.lines].sort((a, b) => Number(b.awaitedTicks > 0) - Number(a.awaitedTicks > 0));
  const rows = typedPieces(typed, sorted);
  const data: ReceiveData = {
    requestKey: mintKey(),
    ...shapeDelivery(reader, order, typed),
    code,
    supplier: order.supplierName,
    note: typed.note ?? '',
    lines: sorted.map((line) => ({
      id: line.id,
      clothName: line.clothName,
      chip: shadeChip(line.shade),
      awaited: sayAwaited(line, asker),
      price: line.price === null ? '' : showMoney(line.price.minor, order.terms.currency),
      rows: rows.get(line.id) ?? [],
    })),
    places: withBlank(placeChoices(reader), 'no place yet'),
    unit: lengthUnit(asker.units),
    sizeUnit: sizeUnit(asker.units),
    currency: asker.currency,
    onTop: typedOnTop(order, typed),
    landed: form && shapeLanded(order, form, asker),
  };
  return { view: 'orders/receive/receive', data, title: `Receive order ${code}`, room: 'orders' };
}

/** Puts what came on the shelf. Without a price of its own a piece costs what it comes to where it lies. */
export function receiveOrder(tx: Tx, code: string, form: ReceiveForm, asker: Asker): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  refuseAfterAnother(tx, order, form.deliveries?.value ?? null);
  const pieces = rowForEach(form.pieces);
  if (!form.more) refuseMoreThanOrdered(order, pieces, asker);
  const lineOf = new Map(order.lines.map((line) => [line.id, line]));
  const { costs } = landedOf(order, cameOf(order, pieces), form, asker.currency);
  const received = pieces.map((piece, at) => {
    const line = lineOf.get(piece.line_id);
    if (!line) throw new Error('the form offered a line that the order has not');
    return {
      kind: 'bolt' as const,
      clothId: line.clothId,
      shadeId: line.shadeId,
      millLot: piece.mill_lot,
      lengthTicks: piece.length.value,
      typed: piece.length.typed,
      usableWidthTicks: piece.usable_width?.value ?? null,
      costMinor: costs[at] ?? 0,
      placeId: piece.place_id,
      orderLineId: line.id,
    };
  });
  const { receiptId, pieces: made } = receivePieces(
    tx,
    { supplierId: order.supplierId, orderId: order.id, note: form.note },
    received,
  );
  const total = received.reduce((sum, piece) => sum + piece.lengthTicks, 0);
  const codes = listCodes(made.map((piece) => piece.code));
  const length = showLength(total, asker.units, 'down');
  return {
    location: receiptPath(receiptId),
    said: `${wordFor(made.length, 'One piece', `${made.length} pieces`)} of order ${code} (${codes}; ${length} in all) ${wordFor(made.length, 'is', 'are')} on the shelf.`,
  };
}

function typedPieces(typed: Typed, lines: readonly OrderLine[]): Map<number, TypedPiece[]> {
  const rows = new Map<number, TypedPiece[]>();
  let index = 0;
  for (const line of lines) {
    const count = rowsFor(line);
    const given = indexesOf(typed, line.id);
    const own = given.length > 0 ? given : Array.from({ length: count }, () => -1);
    rows.set(
      line.id,
      own.map((from) => {
        const cell = (name: string) => typed[`pieces.${from}.${name}`] ?? '';
        const at = from < 0 ? index++ : from;
        return {
          index: at,
          length: cell('length'),
          mill_lot: cell('mill_lot'),
          usable_width: cell('usable_width'),
          place_id: cell('place_id'),
          price: cell('price'),
        };
      }),
    );
  }
  return rows;
}

/** "4 bolts of 50 m", or the length. */
function sayAwaited(line: OrderLine, { units }: Asker): string {
  const bolts = line.bolts === null ? 0 : line.bolts - line.receivedPieces;
  if (line.bolts === null || bolts <= 0) return showLength(line.awaitedTicks, units, 'up');
  return showBolts(bolts, line.orderedTicks / line.bolts, units);
}

function rowsFor(line: OrderLine): number {
  if (line.awaitedTicks === 0) return 1;
  if (line.bolts === null) return ROWS_A_LINE;
  return Math.min(Math.max(1, line.bolts - line.receivedPieces), MOST_ROWS_A_LINE);
}

function indexesOf(typed: Typed, lineId: number): number[] {
  return Object.entries(typed)
    .filter(([name, value]) => /^pieces\.\d+\.line_id$/.test(name) && value === String(lineId))
    .map(([name]) => Number(name.split('.')[1]))
    .sort((a, b) => a - b);
}
