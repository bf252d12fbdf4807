import { z } from 'zod';
import { showPercent } from '../../../src/quantity/whole.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Reader } from '../../database/book.ts';
import { chosenField, placeChoices } from '../../kit/choices.ts';
import {
  choiceOrFirst,
  MOST_PRICE_MINOR,
  optionalMoney,
  optionalPercent,
  optionalText,
  optionalWhole,
  rowsField,
  tickField,
} from '../../kit/fields.ts';
import { askedAs } from '../../kit/form-drawing.ts';
import type { Typed } from '../../kit/typed.ts';
import { INVOICE_FIELDS } from '../../shelf/receive/invoice.ts';
import { MOST_COST_MINOR, MOST_ROWS, measuredFields, sharedByField } from '../../shelf/receive/rows.ts';
import type { Asker } from '../../web/house.ts';
import { lotAnswerRow } from '../order/lot-asked.ts';
import type { Order } from '../order/queries.ts';
import { orderTotals } from '../order/sums.ts';
import { TAX_IS } from '../supplier/terms-form.ts';
import { readCameOfSupplies, supplyRowsReceived } from './supply-rows.ts';

/** What came of an order: pieces, what came on top of them, and whether it is another delivery. */
export function receiveFields(reader: Reader, asker: Asker, order: Order) {
  const lines = order.lines.map((line) => ({ value: String(line.id), label: line.clothName }));
  const measured = measuredFields(asker.units, placeChoices(reader));
  const row = z.strictObject({
    line_id: chosenField(lines, 'a line of the order'),
    price: optionalMoney(asker.currency, { max: MOST_COST_MINOR, what: 'price', label: 'Paid for it' }),
    ...measured,
  });
  const pieces = rowsField(row, { min: 0, max: MOST_ROWS, what: 'pieces', prepare: takeFilled });
  return {
    note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 2 }),
    ...INVOICE_FIELDS,
    lots: rowsField(lotAnswerRow(), { min: 0, max: MOST_ROWS, what: 'answers', prepare: onlyAnswered }),
    cut_fees: optionalMoney(order.terms.currency, {
      max: MOST_PRICE_MINOR,
      label: 'Cut fees of this delivery',
    }),
    freight: optionalMoney(order.terms.currency, {
      max: MOST_PRICE_MINOR,
      label: 'Freight of this delivery',
    }),
    // It is filled in with its sign.
    tax: optionalPercent({ label: 'Tax', unit: '' }),
    tax_is: choiceOrFirst(TAX_IS, 'what becomes of the tax', {
      label: 'This tax',
      options: [
        { value: 'cost', label: 'can’t be reclaimed: part of the cost' },
        { value: 'reclaimed', label: 'is reclaimed: kept beside the cost' },
      ],
    }),
    share_by: sharedByField(),
    // A script may leave out what is said of other deliveries.
    deliveries: optionalWhole({ min: 0, max: 1_000_000_000 }),
    more: tickField({ label: 'This is another delivery: more came than was ordered' }),
    // Rows stand under every line, however few of them one delivery takes.
    pieces: askedAs(pieces, { ...pieces, mostRows: Number.POSITIVE_INFINITY }),
    supplies: supplyRowsReceived(order, asker),
  };
}

export function receiveForm(reader: Reader, asker: Asker, order: Order) {
  return z.strictObject(receiveFields(reader, asker, order)).transform((form, context) => {
    const problem = (path: (string | number)[], message: string) => {
      context.issues.push({ code: 'custom', path, message, input: form });
    };
    if (form.pieces.length + form.supplies.length === 0) {
      const what = order.lines.length === 0 ? 'supplies' : 'pieces';
      problem([what], `Give at least one of the ${what}.`);
    }
    return { ...form, supplies: readCameOfSupplies(order, form.supplies, asker, problem) };
  });
}

export type ReceiveForm = z.output<ReturnType<typeof receiveForm>>;

/** The order's own cut fees and freight are filled in for its first delivery, its tax for each. */
export function onTopAsTyped(order: Order): Typed {
  const { currency, freightMinor, taxBp, taxReclaimed } = order.terms;
  const isFirst =
    order.lines.every((line) => line.receivedPieces === 0) &&
    order.supplies.every((line) => line.receivedAmount === 0);
  const { cutFeesMinor } = orderTotals(order);
  return {
    cut_fees: isFirst && cutFeesMinor > 0 ? writeMoney(cutFeesMinor, currency) : '',
    freight: isFirst && freightMinor > 0 ? writeMoney(freightMinor, currency) : '',
    tax: taxBp > 0 ? showPercent(taxBp) : '',
    tax_is: TAX_IS[Number(taxReclaimed)] ?? '',
    share_by: 'value',
  };
}

/** A row names its order line in a hidden field, which alone is no answer. */
function onlyAnswered(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (row: Record<string, unknown> | undefined) => (row?.met ? row : {}));
}

/**
 * A row names its order line in a hidden field, which alone makes it no piece. The mill's lot and the place that
 * are left blank under a filled row of the same line are the same as there.
 */
function takeFilled(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  let above: Record<string, unknown> = {};
  return Array.from(raw, (row: Record<string, unknown> | undefined) => {
    const { line_id, ...measured } = row ?? {};
    if (Object.values(measured).every((text) => text === '' || text === undefined)) return {};
    const same = above.line_id === line_id;
    const take = (name: string) => (same && !measured[name] ? above[name] : measured[name]);
    above = { ...measured, line_id, mill_lot: take('mill_lot'), place_id: take('place_id') };
    return above;
  });
}
