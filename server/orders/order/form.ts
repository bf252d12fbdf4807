import { z } from 'zod';
import { freightFor } from '../../../src/buying/basket/job.ts';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import { costOf } from '../../../src/quantity/money.ts';
import { WHOLE_SHARE_BP } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { chosenField, clothChoices, shadeChoices, supplierChoices } from '../../kit/choices.ts';
import {
  choiceField,
  lengthField,
  MOST_PRICE_MINOR,
  optionalDay,
  optionalId,
  optionalMoney,
  optionalPercent,
  optionalRate,
  optionalText,
  optionalWhole,
  rowsField,
} from '../../kit/fields.ts';
import type { Typed } from '../../kit/typed.ts';
import { withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';
import { readTerms, type Terms } from '../supplier/terms.ts';
import { type DraftLine, type OrderDraft, putOrder, replaceOrder } from './draft.ts';
import { readOrder, refuseUnless } from './queries.ts';

export const MOST_LINES = 60;
const MOST_BOLTS = 1000;
/** No mill rolls more on one bolt, and the price of a bolt is kept for a length of so much at most. */
export const MOST_BOLT_TICKS = 1000 * TICKS_PER.m;

/** An order as it is written down. Prices are in the currency of the supplier that `typed` names. */
export function orderForm(reader: Reader, asker: Asker, today: string, typed: Typed = {}) {
  const { currency } = termsNamed(reader, today, typed);
  const line = z
    .strictObject({
      cloth_id: chosenField(clothChoices(reader), 'a cloth'),
      shade_id: chosenField(shadeChoices(reader), 'a shade'),
      bolts: optionalWhole({ min: 1, max: MOST_BOLTS }),
      length: lengthField(lengthUnit(asker.units)),
      price: optionalMoney(currency, { max: MOST_PRICE_MINOR }),
      offer_id: optionalId('an offer'),
    })
    .transform((row, context) => {
      const problem = (path: string, message: string) =>
        context.issues.push({ code: 'custom', path: [path], message, input: row });
      if (row.bolts && row.length.value > MOST_BOLT_TICKS)
        problem(
          'length',
          'Length: one bolt holds 1000 m at most. For a length off the bolt, leave the bolts blank.',
        );
      else if ((row.bolts?.value ?? 1) * row.length.value > MOST_LENGTH_TICKS)
        problem('bolts', 'The length is too large.');
      return row;
    });
  return z.strictObject({
    supplier_id: chosenField(supplierChoices(reader), 'a supplier'),
    expected_on: optionalDay(),
    note: optionalText({ max: 2000, lines: true }),
    price_per: choiceField(['m', 'yd'], 'what the prices are for'),
    rate: optionalRate(),
    freight: optionalMoney(currency, { max: MOST_PRICE_MINOR }),
    tax: optionalPercent({ maxBp: WHOLE_SHARE_BP }),
    lines: z.preprocess(onlyFilled, rowsField(line, { max: MOST_LINES, what: 'lines' })),
  });
}

type OrderForm = z.output<ReturnType<typeof orderForm>>;

/** The terms of the supplier that a form names, the workroom's own currency where it names none yet. */
export function termsNamed(reader: Reader, today: string, typed: Typed): Terms {
  const named = /^[1-9][0-9]{0,9}$/.test(typed.supplier_id ?? '') ? Number(typed.supplier_id) : 0;
  return readTerms(reader, named, today);
}

/** A row names the offer that it was made from in a hidden field, which alone makes it no line. */
function onlyFilled(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  return Array.from(raw, (row: Record<string, unknown> | undefined) => {
    const { offer_id: _, ...typed } = row ?? {};
    return Object.values(typed).every((text) => text === '' || text === undefined) ? {} : row;
  });
}

export function draftOrder(tx: Tx, form: OrderForm, asker: Asker): Answer {
  const code = putOrder(tx, asDraft(tx, form, asker));
  return { location: `/orders/${code}`, said: `Order ${code} is drafted. It is not sent yet.` };
}

export function changeDraft(tx: Tx, code: string, form: OrderForm, asker: Asker): Answer {
  const order = readOrder(tx, code);
  refuseUnless(order, ['draft']);
  replaceOrder(tx, order.id, asDraft(tx, form, asker));
  return { location: `/orders/${code}`, said: `Order ${code} is changed.` };
}

/** What was left blank of rate, freight and tax is as the supplier's terms of today have it. */
function asDraft(tx: Tx, form: OrderForm, asker: Asker): OrderDraft {
  const terms = readTerms(tx, form.supplier_id, dayOf(tx.at));
  const lines = form.lines.map((line) => asLine(line, form.price_per, asker));
  const atHome = terms.currency === readWorkroom(tx).currency;
  const goodsMinor = lines.reduce(
    (sum, { price, lengthTicks }) => sum + (price ? costOf(lengthTicks, price) : 0),
    0,
  );
  return {
    supplierId: form.supplier_id,
    note: form.note,
    expectedOn: form.expected_on,
    terms: {
      currency: terms.currency,
      rateMillionths: atHome ? terms.rateMillionths : (form.rate ?? terms.rateMillionths),
      freightMinor: form.freight?.value ?? freightFor(terms, goodsMinor),
      taxBp: form.tax?.value ?? terms.taxBp,
    },
    lines,
  };
}

/** Where bolts are given, length and price are those of one bolt. */
function asLine(line: OrderForm['lines'][number], pricePer: 'm' | 'yd', asker: Asker): DraftLine {
  const perTicks = line.bolts ? line.length.value : TICKS_PER[pricePer];
  return {
    clothId: line.cloth_id,
    shadeId: line.shade_id,
    lengthTicks: (line.bolts?.value ?? 1) * line.length.value,
    price: line.price && { minor: line.price.value, perTicks },
    bolts: line.bolts?.value ?? null,
    offerId: line.offer_id,
    typed: {
      length: withUnit(line.length.typed, lengthUnit(asker.units)),
      price: line.price?.typed ?? '',
    },
  };
}
