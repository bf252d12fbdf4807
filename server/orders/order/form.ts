import { z } from 'zod';
import { freightFor } from '../../../src/buying/basket/job.ts';
import { MOST_LENGTH_TICKS, TICKS_PER } from '../../../src/quantity/length.ts';
import { costOf } from '../../../src/quantity/money.ts';
import { showRate } from '../../../src/quantity/rate.ts';
import { WHOLE_SHARE_BP, writePercent } from '../../../src/quantity/whole.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import { chosenField, clothChoices, shadeChoices, supplierChoices } from '../../kit/choices.ts';
import {
  choiceField,
  choiceOrFirst,
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
import { drawFields } from '../../kit/form-drawing.ts';
import { mintKey } from '../../kit/request-key.ts';
import { rowsAsTyped, type Typed, withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';
import type { Page } from '../../web/page-frame.ts';
import { readTerms } from '../supplier/terms.ts';
import { TAX_IS } from '../supplier/terms-form.ts';
import { type DraftLine, type OrderDraft, putOrder, replaceOrder } from './draft.ts';
import { lotAskedField, whyNotMatched } from './lot-asked.ts';
import { type Order, readOrder, refuseUnless } from './queries.ts';
import { onlyFilled, readSupplyRows, supplyLinesAsTyped, supplyRowsField } from './supply-lines.ts';
import { NUMBER_FIELDS } from './verbs.ts';

export const MOST_LINES = 60;
/** So many lines are drawn at once; a page shows some and folds the others. */
const FIRST_LINES = 10;
export const BLANK_LINES = 4;
const MOST_BOLTS = 1000;
/** No mill rolls more on one bolt, and the price of a bolt is kept for a length of so much at most. */
export const MOST_BOLT_TICKS = 1000 * TICKS_PER.m;

/** What the prices on a form are for; bolts have prices of their own. */
export function pricePerField() {
  return choiceField(['m', 'yd'], 'what the prices are for', {
    label: 'Prices are for',
    size: 'short',
    options: [
      { value: 'm', label: 'a metre' },
      { value: 'yd', label: 'a yard' },
    ],
  });
}

/** An order as it is written down, its prices in the supplier's currency. */
function orderFields(reader: Reader, asker: Asker, currency: string) {
  const line = z
    .strictObject({
      cloth_id: chosenField(clothChoices(reader), 'a cloth', { label: 'Cloth', blank: 'no cloth' }),
      shade_id: chosenField(shadeChoices(reader), 'a shade', { label: 'Shade', blank: 'no shade' }),
      bolts: optionalWhole({ min: 1, max: MOST_BOLTS, label: 'Whole bolts' }),
      length: lengthField(lengthUnit(asker.units), { label: 'Length' }),
      price: optionalMoney(currency, { max: MOST_PRICE_MINOR, label: 'Price' }),
      lot: lotAskedField(reader),
      offer_id: optionalId('an offer'),
    })
    .transform((row, context) => {
      const problem = (path: string, message: string) =>
        context.issues.push({ code: 'custom', path: [path], message, input: row });
      const whyNot = typeof row.lot === 'number' ? whyNotMatched(reader, row.lot, row.cloth_id) : '';
      if (whyNot) problem('lot', whyNot);
      if (row.bolts && row.length.value > MOST_BOLT_TICKS)
        problem(
          'length',
          'Length: one bolt holds 1000 m at most. For a length off the bolt, leave the bolts blank.',
        );
      else if ((row.bolts?.value ?? 1) * row.length.value > MOST_LENGTH_TICKS)
        problem('bolts', 'Enter a length up to 100 km.');
      return row;
    });
  return {
    supplier_id: chosenField(supplierChoices(reader), 'a supplier', {
      label: 'Supplier',
      blank: 'choose a supplier',
    }),
    expected_on: optionalDay({ label: 'Expected on' }),
    note: optionalText({ max: 2000, lines: true, label: 'Note', rows: 3 }),
    ...NUMBER_FIELDS,
    price_per: pricePerField(),
    rate: optionalRate({
      label: 'Exchange rate',
      unit: asker.currency,
      hint: 'What one unit of the supplier’s money costs.',
    }),
    discount: optionalPercent({ maxBp: WHOLE_SHARE_BP, label: 'Trade discount' }),
    cut_fee: optionalMoney(currency, { max: MOST_PRICE_MINOR, label: 'Cut fee a cut length' }),
    freight: optionalMoney(currency, { max: MOST_PRICE_MINOR, label: 'Freight' }),
    tax: optionalPercent({ maxBp: WHOLE_SHARE_BP, label: 'Tax added' }),
    tax_is: choiceOrFirst(['', ...TAX_IS], 'what becomes of the tax', {
      label: 'This tax',
      required: false,
      options: [
        { value: '', label: 'as the terms have it' },
        { value: 'cost', label: 'can’t be reclaimed' },
        { value: 'reclaimed', label: 'is reclaimed' },
      ],
    }),
    lines: rowsField(line, {
      min: 0,
      max: MOST_LINES,
      what: 'lines',
      rows: FIRST_LINES,
      spare: BLANK_LINES,
      prepare: (raw) => clothFromAbove(onlyFilled(raw, 'offer_id')),
    }),
    supplies: supplyRowsField(reader, currency, asker),
  };
}

/** Ten shades of a cloth are ten shades and lengths: a blank cloth beside a shade is that of the line above. */
function clothFromAbove(raw: unknown): unknown {
  if (!Array.isArray(raw)) return raw;
  let above: unknown = '';
  return Array.from(raw, (row: Record<string, unknown> | undefined) => {
    if (!row?.shade_id) return row;
    above = row.cloth_id || above;
    return { ...row, cloth_id: above };
  });
}

export function orderForm(reader: Reader, asker: Asker, today: string, typed: Typed = {}) {
  const fields = orderFields(reader, asker, currencyNamed(reader, today, typed));
  return z.strictObject(fields).transform((form, context) => {
    const problem = (path: (string | number)[], message: string) => {
      context.issues.push({ code: 'custom', path, message, input: form });
    };
    if (form.lines.length + form.supplies.length === 0) problem(['lines'], 'Give at least one of the lines.');
    return { ...form, supplies: readSupplyRows(reader, form.supplies, asker, problem) };
  });
}

type OrderForm = z.output<ReturnType<typeof orderForm>>;

/** The currency of the supplier that a form names, the workroom's own where it names none yet. */
function currencyNamed(reader: Reader, today: string, typed: Typed): string {
  const named = /^[1-9][0-9]{0,9}$/.test(typed.supplier_id ?? '') ? Number(typed.supplier_id) : 0;
  return readTerms(reader, named, today).currency;
}

/** A new order with what was typed, or filled in with what is short. */
export function newOrderPage(reader: Reader, asker: Asker, today: string, typed: Typed, fromShort: boolean) {
  return orderFormPage(reader, asker, today, typed, { action: '/orders/new', title: 'New order', fromShort });
}

/** A draft, to be changed. @throws {Refusal} conflict where it is no draft any more */
export function editOrderPage(reader: Reader, asker: Asker, today: string, code: string, typed?: Typed) {
  const order = readOrder(reader, code);
  refuseUnless(order, ['draft']);
  return orderFormPage(reader, asker, today, typed ?? asTyped(order, asker), {
    action: `/orders/${code}/edit`,
    title: `Change order ${code}`,
    fromShort: false,
  });
}

function orderFormPage(
  reader: Reader,
  asker: Asker,
  today: string,
  typed: Typed,
  { title, ...about }: { action: string; title: string; fromShort: boolean },
) {
  const currency = currencyNamed(reader, today, typed);
  const usual = { price_per: lengthUnit(asker.units) };
  const data = {
    requestKey: mintKey(),
    ...about,
    /** what the supplier sells in, '' where it is the workroom's own money or nobody is chosen yet */
    abroad: currency === asker.currency ? '' : currency,
    fields: drawFields(orderFields(reader, asker, currency), { ...usual, ...typed }),
  };
  return { view: 'orders/order/form', data, title, room: 'orders' } satisfies Page;
}

function asTyped({ lines, supplies, terms, ...order }: Order, asker: Asker): Typed {
  return {
    supplier_id: String(order.supplierId),
    expected_on: order.expectedOn ?? '',
    note: order.note,
    supplier_number: order.supplierNumber,
    price_per: lines.some(({ price }) => price?.perTicks === TICKS_PER.yd) ? 'yd' : 'm',
    rate: terms.currency === asker.currency ? '' : showRate(terms.rateMillionths),
    discount: writePercent(terms.discountBp),
    cut_fee: writeMoney(terms.cutFeeMinor, terms.currency),
    freight: writeMoney(terms.freightMinor, terms.currency),
    tax: writePercent(terms.taxBp),
    tax_is: TAX_IS[Number(terms.taxReclaimed)] ?? '',
    ...supplyLinesAsTyped(supplies),
    ...rowsAsTyped(
      'lines',
      lines.map((line) => ({
        cloth_id: String(line.clothId),
        shade_id: String(line.shadeId),
        bolts: String(line.bolts ?? ''),
        lot: line.lotAsked === null ? '' : String(line.lotAsked.lotId ?? 'one'),
        offer_id: String(line.offerId ?? ''),
        ...line.typed,
      })),
    ),
  };
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

/** What was left blank of rate, discount, cut fee, freight and tax is as the supplier's terms of today have it. */
function asDraft(tx: Tx, form: OrderForm, asker: Asker): OrderDraft {
  const terms = readTerms(tx, form.supplier_id, dayOf(tx.at));
  const lines = form.lines.map((line) => asLine(line, form.price_per, asker));
  const atHome = terms.currency === readWorkroom(tx).currency;
  const discountBp = form.discount?.value ?? terms.discountBp;
  const supplies = form.supplies;
  const listMinor =
    lines.reduce((sum, { price, lengthTicks }) => sum + (price ? costOf(lengthTicks, price) : 0), 0) +
    supplies.reduce((sum, { priceMinor, putUps }) => sum + (priceMinor ?? 0) * putUps, 0);
  return {
    supplierId: form.supplier_id,
    note: form.note,
    supplierNumber: form.supplier_number,
    expectedOn: form.expected_on,
    terms: {
      currency: terms.currency,
      rateMillionths: atHome ? terms.rateMillionths : (form.rate ?? terms.rateMillionths),
      freightMinor: form.freight?.value ?? freightFor({ ...terms, discountBp }, listMinor),
      taxBp: form.tax?.value ?? terms.taxBp,
      taxReclaimed: form.tax_is === '' ? terms.taxReclaimed : form.tax_is === 'reclaimed',
      discountBp,
      cutFeeMinor: form.cut_fee?.value ?? terms.cutFeeMinor,
    },
    lines,
    supplies,
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
    lot: line.lot,
    typed: {
      length: withUnit(line.length.typed, lengthUnit(asker.units)),
      price: line.price?.typed ?? '',
    },
  };
}
