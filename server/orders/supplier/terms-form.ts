import { z } from 'zod';
import { MOST_LENGTH_TICKS } from '../../../src/quantity/length.ts';
import { readMoney } from '../../../src/quantity/money.ts';
import { EVEN_RATE_MILLIONTHS, showRate } from '../../../src/quantity/rate.ts';
import { WHOLE_SHARE_BP, writePercent } from '../../../src/quantity/whole.ts';
import type { Answer, Tx } from '../../database/book.ts';
import {
  choiceOrFirst,
  currencyField,
  MOST_PRICE_MINOR,
  optionalDay,
  optionalLength,
  optionalPercent,
  optionalRate,
  optionalText,
  percentField,
  type Quantity,
} from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { supplierPath } from '../../kit/paths.ts';
import { storeTyped, type Typed, withUnit } from '../../kit/typed.ts';
import { lengthUnit } from '../../kit/units.ts';
import { dayOf } from '../../kit/when.ts';
import { unknown } from '../../refusal.ts';
import type { Asker } from '../../web/house.ts';
import type { Terms } from './terms.ts';

/** Amounts are read in the currency that the same form names. */
const AMOUNTS = ['cut_fee', 'freight', 'free_from', 'least_order', 'least_line'] as const;
const LEAST = ['least_order', 'least_line'] as const;

/** What becomes of the tax, the usual first. */
export const TAX_IS = ['cost', 'reclaimed'] as const;

function termsFields({ currency: home, units }: Asker) {
  const money = { max: 40, size: 'short' } as const;
  const unit = lengthUnit(units);
  const length = { min: 1, max: MOST_LENGTH_TICKS, what: 'least length' };
  return {
    currency: currencyField(home, { label: 'Sells in', hint: `Such as ${home}.` }),
    rate: optionalRate({
      label: 'Exchange rate',
      unit: home,
      hint: `What one unit of its money costs, where it is not ${home}.`,
    }),
    discount: optionalPercent({
      maxBp: WHOLE_SHARE_BP,
      label: 'Trade discount',
    }),
    cut_fee: optionalText({ ...money, label: 'Cut fee', hint: 'Each length.' }),
    freight: optionalText({ ...money, label: 'Freight an order', hint: 'In what it sells in.' }),
    free_from: optionalText({
      ...money,
      label: 'Free of freight from',
      hint: 'Goods less discount, before tax. Blank: never.',
    }),
    tax: percentField({ maxBp: WHOLE_SHARE_BP, label: 'Tax added' }),
    tax_is: choiceOrFirst(TAX_IS, 'what becomes of the tax', {
      label: 'This tax',
      options: [
        { value: 'cost', label: 'can’t be reclaimed' },
        { value: 'reclaimed', label: 'is reclaimed' },
      ],
    }),
    least_order: optionalText({ ...money, label: 'Least order', hint: 'Goods less discount.' }),
    least_order_length: optionalLength(unit, { ...length, label: 'Least order, length' }),
    least_line: optionalText({ ...money, label: 'Least of a cloth and shade' }),
    least_line_length: optionalLength(unit, { ...length, label: 'Least of a cloth and shade, length' }),
    from_on: optionalDay({ label: 'From', hint: 'Blank: today.' }),
    returns: optionalText({
      max: 2000,
      lines: true,
      label: 'Returns',
      rows: 2,
    }),
  };
}

/** What the form of the terms draws. */
export type DrawnTerms = ReturnType<typeof drawTerms>;

/** The terms as a person writes them. */
export function termsForm(asker: Asker) {
  const { currency: home } = asker;
  return z.strictObject(termsFields(asker)).transform((form, context) => {
    const problem = (path: string, message: string) => {
      context.issues.push({ code: 'custom', path: [path], message, input: form });
    };
    if (form.currency !== home && form.rate === null)
      problem('rate', `Write what one ${form.currency} costs in ${home}.`);
    if (form.currency === home && form.rate !== null && form.rate !== EVEN_RATE_MILLIONTHS)
      problem('rate', `One ${home} is one ${home}: leave the rate blank.`);
    const money = (path: (typeof AMOUNTS)[number]) => {
      if (form[path] === '') return null;
      const read = readMoney(form[path], form.currency);
      const isLeast = LEAST.some((name) => name === path);
      if (read.ok && isLeast && read.value === 0)
        problem(path, 'Leave it blank where there is no least amount.');
      else if (read.ok && read.value <= MOST_PRICE_MINOR) return read.value;
      else problem(path, read.ok ? 'The amount is too large.' : read.reason);
      return null;
    };
    return {
      ...form,
      rateMillionths: form.rate ?? EVEN_RATE_MILLIONTHS,
      cutFeeMinor: money('cut_fee') ?? 0,
      freightMinor: money('freight') ?? 0,
      freeFromMinor: money('free_from'),
      leastOrderMinor: money('least_order'),
      leastLineMinor: money('least_line'),
    };
  });
}

type TermsForm = z.output<ReturnType<typeof termsForm>>;

/** Writes new terms beside the old: those of the day count, and orders that were drafted keep theirs. */
export function setTerms(tx: Tx, supplierId: number, form: TermsForm, { units }: Asker): Answer {
  const supplier = tx.first(tx.db.selectFrom('supplier').select('name').where('id', '=', supplierId));
  if (!supplier) throw unknown('such supplier');
  const unit = lengthUnit(units);
  const length = (read: Quantity | null) => (read ? withUnit(read.typed, unit) : '');
  const typed = {
    ...Object.fromEntries(AMOUNTS.map((name) => [name, form[name]])),
    least_order_length: length(form.least_order_length),
    least_line_length: length(form.least_line_length),
  };
  tx.run(
    tx.db.insertInto('supplier_terms').values({
      supplier_id: supplierId,
      from_on: form.from_on ?? dayOf(tx.at),
      currency: form.currency,
      rate_millionths: form.rateMillionths,
      freight_minor: form.freightMinor,
      freight_free_minor: form.freeFromMinor,
      tax_bp: form.tax.value,
      tax_reclaimed: form.tax_is === 'reclaimed' ? 1 : 0,
      discount_bp: form.discount?.value ?? 0,
      cut_fee_minor: form.cutFeeMinor,
      least_order_minor: form.leastOrderMinor,
      least_order_ticks: form.least_order_length?.value ?? null,
      least_line_minor: form.leastLineMinor,
      least_line_ticks: form.least_line_length?.value ?? null,
      returns: form.returns,
      typed: storeTyped(typed),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: supplierPath(supplierId), said: `The terms of ${supplier.name} are in the book.` };
}

/** The form of the terms, as typed or as they are. */
export function drawTerms(terms: Terms, asker: Asker, typed: Typed = {}) {
  const asTyped = {
    ...terms.typed,
    currency: terms.currency,
    rate: terms.currency === asker.currency ? '' : showRate(terms.rateMillionths),
    discount: terms.discountBp === 0 ? '' : writePercent(terms.discountBp),
    tax: writePercent(terms.taxBp),
    tax_is: TAX_IS[Number(terms.taxReclaimed)] ?? '',
    returns: terms.returns,
  };
  return drawFields(termsFields(asker), { ...asTyped, ...typed });
}
