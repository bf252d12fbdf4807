import { costOfParts } from '../../../src/buying/landed.ts';
import { showLength } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { showRate } from '../../../src/quantity/rate.ts';
import { showSupplyAmount } from '../../../src/supply/amount.ts';
import { showUnitPrice } from '../../../src/supply/unit-price.ts';
import type { Reader } from '../../database/book.ts';
import { shadeChip } from '../../kit/chip.ts';
import { countTyped, drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import type { Typed } from '../../kit/typed.ts';
import { rowForEach } from '../../shelf/receive/rows.ts';
import { sayPutUp, sayStock } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { showBolts, showPerLength } from '../offer/put-up-words.ts';
import { type Order, type OrderLine, readOrder, refuseUnless } from '../order/queries.ts';
import { onTopAsTyped, type ReceiveForm, receiveFields } from './form.ts';
import { cameOf, landedOf } from './landing.ts';
import { shapeOthers } from './other-deliveries.ts';

/** Rows drawn for each line that is awaited by the length; bolts get a row each, up to so many. */
const ROWS_A_LINE = 3;
const MOST_ROWS_A_LINE = 12;
/** A supply that comes in two lots takes two rows. */
const ROWS_A_SUPPLY = 2;

/** What came of an order: rows under every line, the awaited lines first. */
export function receiveOrderPage(
  reader: Reader,
  asker: Asker,
  code: string,
  typed: Typed = {},
  form: ReceiveForm | null = null,
) {
  const order = readOrder(reader, code);
  refuseUnless(order, ['sent', 'part', 'received']);
  const sorted = [...order.lines].sort((a, b) => Number(b.awaitedTicks > 0) - Number(a.awaitedTicks > 0));
  const supplyLines = [...order.supplies].sort(
    (a, b) => Number(b.awaitedAmount > 0) - Number(a.awaitedAmount > 0),
  );
  const rows = {
    ...withRows(
      typed,
      'pieces',
      sorted.map((line) => ({ id: line.id, rows: rowsFor(line) })),
    ),
    ...withRows(
      typed,
      'supplies',
      supplyLines.map(({ id, awaitedAmount }) => ({ id, rows: awaitedAmount === 0 ? 1 : ROWS_A_SUPPLY })),
    ),
    ...lotsAsked(sorted),
  };
  const { pieces, supplies, lots, ...fields } = drawFields(
    receiveFields(reader, asker, order),
    { ...onTopAsTyped(order), ...rows },
    {
      pieces: countTyped(rows, 'pieces'),
      supplies: countTyped(rows, 'supplies'),
      lots: countTyped(rows, 'lots'),
    },
  );
  const data = {
    requestKey: mintKey(),
    ...shapeOthers(reader, order, typed),
    code,
    supplier: order.supplierName,
    lines: sorted.map((line) => ({
      id: line.id,
      clothName: line.clothName,
      chip: shadeChip(line.shade),
      awaited: sayAwaited(line, asker),
      isDue: line.awaitedTicks > 0,
      price: line.price === null ? '' : showMoney(line.price.minor, order.terms.currency),
      /** what was asked of its lot, and whether it was met; null where nothing was asked */
      lot:
        line.lotAsked === null
          ? null
          : { asked: line.lotAsked.said, row: lots.find(({ line_id }) => line_id.value === String(line.id)) },
      rows: pieces.filter(({ line_id }) => line_id.value === String(line.id)),
    })),
    supplies: supplyLines.map((line) => ({
      name: line.supplyName,
      awaited: showSupplyAmount(line.awaitedAmount, line.measure, asker.units, 'up'),
      isDue: line.awaitedAmount > 0,
      /** what each row counts: "tub of 100 g" */
      putUp: sayPutUp(line, line.measure, asker.units),
      rows: supplies.filter(({ line_id }) => line_id.value === String(line.id)),
    })),
    fields,
    /** what was typed comes to, where it was asked for */
    landed: form && shapeLanded(order, form, asker),
  };
  return {
    view: 'orders/receive/receive',
    data,
    title: `Receive order ${code}`,
    room: 'orders',
  } satisfies Page;
}

/** What was typed, with blank rows for each line that has none yet. */
function withRows(
  typed: Typed,
  list: 'pieces' | 'supplies',
  lines: readonly { readonly id: number; readonly rows: number }[],
): Typed {
  const isNamed = new RegExp(`^${list}\\.\\d+\\.line_id$`);
  const named = new Set(Object.entries(typed).flatMap(([name, text]) => (isNamed.test(name) ? [text] : [])));
  const blank = lines
    .filter(({ id }) => !named.has(String(id)))
    .flatMap((line) => Array.from({ length: line.rows }, () => String(line.id)));
  const next = countTyped(typed, list);
  const rows = blank.map((lineId, at) => [`${list}.${next + at}.line_id`, lineId]);
  return { ...typed, ...Object.fromEntries(rows) };
}

/** A row for each line whose lot was asked for, where it is said whether that was met. */
function lotsAsked(lines: readonly OrderLine[]): Typed {
  const asked = lines.filter(({ lotAsked }) => lotAsked !== null);
  return Object.fromEntries(asked.map(({ id }, at) => [`lots.${at}.line_id`, String(id)]));
}

function rowsFor(line: OrderLine): number {
  if (line.awaitedTicks === 0) return 1;
  if (line.bolts === null) return ROWS_A_LINE;
  return Math.min(Math.max(1, line.bolts - line.receivedPieces), MOST_ROWS_A_LINE);
}

/** "4 bolts of 50 m", or the length. */
function sayAwaited(line: OrderLine, { units }: Asker): string {
  const bolts = line.bolts === null ? 0 : line.bolts - line.receivedPieces;
  if (line.bolts === null || bolts <= 0) return showLength(line.awaitedTicks, units, 'up');
  return showBolts(bolts, line.orderedTicks / line.bolts, units);
}

/** What a delivery comes to before it is put on the shelf. */
function shapeLanded(order: Order, form: ReceiveForm, asker: Asker) {
  const { terms } = order;
  const rows = rowForEach(form.pieces);
  const landed = landedOf(order, cameOf(order, rows, form.supplies), form, asker.currency);
  const { invoice } = landed;
  const costs = landed.pieces.map(costOfParts);
  const reclaimedMinor = sumOf(landed.pieces.map((piece) => piece.reclaimedMinor));
  const money = (minor: number) => (minor > 0 ? showMoney(minor, terms.currency) : '');
  const ours = (minor: number) => showMoney(minor, asker.currency);
  return {
    pieces: rows.map((row, at) => {
      const line = order.lines.find(({ id }) => id === row.line_id);
      const costMinor = costs[at] ?? 0;
      return {
        cloth: line?.clothName ?? '',
        shade: line?.shade.name ?? '',
        length: showLength(row.length.value, asker.units, 'down'),
        cost: ours(costMinor),
        perLength: showPerLength(costMinor, row.length.value, asker.currency, asker.units),
      };
    }),
    supplies: form.supplies.map(({ line, amount }, at) => {
      const costMinor = costs[rows.length + at] ?? 0;
      return {
        name: line.supplyName,
        amount: sayStock(amount, line.measure, asker.units),
        cost: ours(costMinor),
        perUnit: showUnitPrice(costMinor, amount, line.measure, asker.currency, asker.units),
      };
    }),
    /** at the order's price less its discount, in its currency; '' where nothing is at it */
    goods: money(invoice.goodsMinor),
    discount: money(invoice.discountMinor),
    cutFees: money(invoice.cutFeesMinor),
    freight: money(invoice.freightMinor),
    tax: money(invoice.taxMinor),
    /** all of these in the workroom's money and at which rate, '' where the order is in it */
    home:
      terms.currency === asker.currency || invoice.totalMinor === 0
        ? ''
        : `${ours(landed.paidMinor)} at ${showRate(terms.rateMillionths)}`,
    /** what all pieces cost together, and the tax that is kept beside it, in the workroom's money */
    total: ours(sumOf(costs)),
    reclaimed: reclaimedMinor > 0 ? ours(reclaimedMinor) : '',
  };
}

function sumOf(minors: readonly number[]): number {
  return minors.reduce((sum, minor) => sum + minor, 0);
}
