import { z } from 'zod';
import { type CostParts, costOfParts } from '../../../src/buying/landed.ts';
import { divideRounded, exactly, stored } from '../../../src/quantity/figure-show.ts';
import { MOST_OF_SUPPLY, readSupplyAmount, showSupplyAmount } from '../../../src/supply/amount.ts';
import type { Tx } from '../../database/book.ts';
import { chosenField } from '../../kit/choices.ts';
import {
  optionalDay,
  optionalMoney,
  optionalText,
  optionalWhole,
  placeField,
  rowsField,
  withPlaces,
} from '../../kit/fields.ts';
import { askedAs } from '../../kit/form-drawing.ts';
import type { Problem } from '../../refusal.ts';
import { MOST_COST_MINOR } from '../../shelf/receive/rows.ts';
import type { SupplyOrderLine } from '../../supplies/ordered.ts';
import { receiveSupplies } from '../../supplies/verbs.ts';
import { sayPutUps } from '../../supplies/words.ts';
import type { Asker } from '../../web/house.ts';
import { MOST_PUT_UPS } from '../offer/supply-form.ts';
import type { Order } from '../order/queries.ts';
import { onlyFilled } from '../order/supply-lines.ts';

const MOST_SUPPLY_ROWS = 100;

/** What came of the lines of an order that ask for supplies: whole put-ups, or another amount; a lot each. */
export function supplyRowsReceived(order: Order, asker: Asker) {
  const lines = order.supplies.map((line) => ({ value: String(line.id), label: line.supplyName }));
  const fields = {
    line_id: chosenField(lines, 'a line of the order'),
    put_ups: optionalWhole({ min: 1, max: MOST_PUT_UPS, label: 'How many came' }),
    amount: optionalText({ max: 64, label: 'Or another amount', size: 'short' }),
    lot: optionalText({ max: 120, label: 'Lot', size: 'short' }),
    opened_on: optionalDay({ label: 'Opened on' }),
    price: optionalMoney(asker.currency, { max: MOST_COST_MINOR, what: 'price', label: 'Paid for it' }),
  };
  const row = z.strictObject({ ...fields, place: placeField() });
  const list = rowsField(row, {
    min: 0,
    max: MOST_SUPPLY_ROWS,
    what: 'supplies',
    prepare: (raw) => withPlaces(onlyFilled(raw, 'line_id')),
  });
  // Rows stand under every line, however few of them one delivery takes.
  return askedAs(list, { rowFields: fields, rows: 0, spare: 0, mostRows: Number.POSITIVE_INFINITY });
}

type SupplyRowReceived = z.output<ReturnType<typeof supplyRowsReceived>>[number];

/** A supply that came: so much of it, and what it costs at the order's price or what was paid for it. */
export interface CameOfSupply {
  readonly line: SupplyOrderLine;
  readonly amount: number;
  /** in so many put-ups alike, 1 where another amount came */
  readonly lengths: number;
  readonly typed: string;
  readonly lot: string;
  readonly openedOn: string | null;
  /** at the order's price, in its currency */
  readonly priceMinor: number;
  /** in the workroom's own money, all told */
  readonly paidMinor: number | null;
}

/** Reads the rows by the units of their supplies; what is wrong is said of its field. */
export function readCameOfSupplies(
  order: Order,
  rows: readonly SupplyRowReceived[],
  { units }: Asker,
  problem: (path: (string | number)[], message: string) => void,
): CameOfSupply[] {
  return rows.flatMap((row): CameOfSupply[] => {
    const line = order.supplies.find(({ id }) => id === row.line_id);
    if (!line) return [];
    const wrong = (message: string) =>
      problem(['supplies', row.place, 'amount'], `Or another amount: ${message}`);
    let amount = (row.put_ups?.value ?? 0) * line.amount;
    if (row.amount !== '') {
      const read = readSupplyAmount(row.amount, line.measure, units);
      if (row.put_ups) wrong('enter how many came or an amount, not both.');
      else if (!read.ok) wrong(read.reason);
      else if (read.value < 1 || read.value > MOST_OF_SUPPLY) wrong('enter more than nothing.');
      amount = read.ok ? read.value : 0;
    } else if (!row.put_ups) wrong('enter how many put-ups came, or an amount.');
    const typed =
      row.amount === '' ? sayPutUps(row.put_ups?.value ?? 0, line, line.measure, units) : row.amount;
    const priceMinor =
      line.priceMinor === null
        ? 0
        : stored(divideRounded(exactly(line.priceMinor) * exactly(amount), exactly(line.amount), 'near'));
    return [
      {
        line,
        amount,
        lengths: row.amount === '' ? (row.put_ups?.value ?? 1) : 1,
        typed: typed.slice(0, 64),
        lot: row.lot,
        openedOn: row.opened_on,
        priceMinor,
        paidMinor: row.price?.value ?? null,
      },
    ];
  });
}

/** More than was ordered may be another delivery: it is asked for. */
export function moreSuppliesThanOrdered(
  order: Order,
  came: readonly CameOfSupply[],
  { units }: Asker,
): Problem[] {
  return order.supplies.flatMap((line): Problem[] => {
    const now = came.filter((each) => each.line.id === line.id);
    const amount = now.reduce((sum, each) => sum + each.amount, line.receivedAmount);
    if (now.length === 0 || amount <= line.orderedAmount) return [];
    const say = (of: number) => showSupplyAmount(of, line.measure, units, 'near');
    const message = `${line.supplyName}: ${say(line.orderedAmount)} was ordered and ${say(amount)} would have come: is this another delivery? Tick the box if so.`;
    return [{ field: 'more', message }];
  });
}

/** Puts supplies that came on the shelf, each as a lot of its own, at what they cost where they lie. Says what came. */
export function takeInSupplies(
  tx: Tx,
  came: readonly CameOfSupply[],
  delivery: { readonly supplierId: number; readonly receiptId: number; readonly note: string },
  costs: readonly CostParts[],
): string[] {
  const { receiptId, ...from } = delivery;
  return receiveSupplies(
    tx,
    came.map(({ line, amount, lengths, typed, lot, openedOn }, at) => ({
      supplyId: line.supplyId,
      amount,
      lengths,
      typed,
      lot,
      openedOn,
      costMinor: costs[at] ? costOfParts(costs[at]) : 0,
      ...(costs[at] ? { parts: costs[at] } : {}),
      receiptId,
      orderLineId: line.id,
    })),
    from,
  );
}
