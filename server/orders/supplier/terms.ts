import type { Selectable } from 'kysely';
import { z } from 'zod';
import { readMoney, showMoney } from '../../../src/quantity/money.ts';
import { EVEN_RATE_MILLIONTHS, showRate } from '../../../src/quantity/rate.ts';
import { showPercent, WHOLE_SHARE_BP, writePercent } from '../../../src/quantity/whole.ts';
import type { Answer, Reader, Tx } from '../../database/book.ts';
import type { Schema } from '../../database/schema.ts';
import { type Param, prepared } from '../../database/statements.ts';
import {
  currencyField,
  MOST_PRICE_MINOR,
  optionalDay,
  optionalRate,
  optionalText,
  percentField,
} from '../../kit/fields.ts';
import { drawFields } from '../../kit/form-drawing.ts';
import { supplierPath } from '../../kit/paths.ts';
import type { Typed } from '../../kit/typed.ts';
import { readTyped, storeTyped } from '../../kit/typed.ts';
import { dayOf } from '../../kit/when.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import { unknown } from '../../refusal.ts';

/** On what terms a supplier sells: money in minor units of the supplier's currency. */
export interface Terms {
  readonly currency: string;
  readonly rateMillionths: number;
  readonly freightMinor: number;
  readonly freeFromMinor: number | null;
  readonly taxBp: number;
  readonly returns: string;
  readonly fromOn: string;
  readonly typed: Typed;
}

const termsInForce = prepared((db, supplierId: Param<number>, today: Param<string>) =>
  db
    .selectFrom('supplier_terms')
    .selectAll()
    .where('supplier_id', '=', supplierId)
    .where('from_on', '<=', today)
    .orderBy('from_on', 'desc')
    .orderBy('id', 'desc'),
);

/** The terms in force on a day; without any a supplier sells in the workroom's currency, and nothing comes on top. */
export function readTerms(reader: Reader, supplierId: number, today: string): Terms {
  const row = reader.first(termsInForce(supplierId, today));
  return row ? asTerms(row) : plainTerms(readWorkroom(reader).currency);
}

/** Terms of other times, the latest first: those before and those that are still to come. */
export function readOtherTerms(reader: Reader, supplierId: number, today: string): Terms[] {
  const rows = reader.all(
    reader.db
      .selectFrom('supplier_terms')
      .selectAll()
      .where('supplier_id', '=', supplierId)
      .orderBy('from_on', 'desc')
      .orderBy('id', 'desc')
      .limit(20),
  );
  const now = rows.find((row) => row.from_on <= today);
  return rows.filter((row) => row !== now).map(asTerms);
}

function asTerms(row: Omit<Selectable<Schema['supplier_terms']>, 'supplier_id'>): Terms {
  return {
    currency: row.currency,
    rateMillionths: row.rate_millionths,
    freightMinor: row.freight_minor,
    freeFromMinor: row.freight_free_minor,
    taxBp: row.tax_bp,
    returns: row.returns,
    fromOn: row.from_on,
    typed: readTyped(row.typed),
  };
}

function plainTerms(currency: string): Terms {
  return {
    currency,
    rateMillionths: EVEN_RATE_MILLIONTHS,
    freightMinor: 0,
    freeFromMinor: null,
    taxBp: 0,
    returns: '',
    fromOn: '',
    typed: {},
  };
}

function termsFields(home: string) {
  const money = { max: 40, size: 'short' } as const;
  return {
    currency: currencyField(home, { label: 'Sells in', hint: `Such as ${home}.` }),
    rate: optionalRate({ label: 'One of these costs', unit: home, hint: `Only where it is not ${home}.` }),
    freight: optionalText({ ...money, label: 'Freight an order', hint: 'In what it sells in.' }),
    free_from: optionalText({
      ...money,
      label: 'Free of freight from',
      hint: 'Goods before tax; blank for never.',
    }),
    tax: percentField({ maxBp: WHOLE_SHARE_BP, label: 'Tax added' }),
    from_on: optionalDay({ label: 'From', hint: 'Blank for today.' }),
    returns: optionalText({
      max: 2000,
      lines: true,
      label: 'Returns',
      rows: 2,
      hint: 'What may go back, and how soon flaws must be told.',
    }),
  };
}

/** The terms as a person writes them; the money is read in the currency that the same form names. */
export function termsForm(home: string) {
  return z.strictObject(termsFields(home)).transform((form, context) => {
    const problem = (path: string, message: string) => {
      context.issues.push({ code: 'custom', path: [path], message, input: form });
    };
    if (form.currency !== home && form.rate === null)
      problem('rate', `Write what one ${form.currency} costs in ${home}.`);
    if (form.currency === home && form.rate !== null && form.rate !== EVEN_RATE_MILLIONTHS)
      problem('rate', `One ${home} is one ${home}: leave the rate blank.`);
    const money = (path: 'freight' | 'free_from') => {
      if (form[path] === '') return null;
      const read = readMoney(form[path], form.currency);
      if (read.ok && read.value <= MOST_PRICE_MINOR) return read.value;
      problem(path, read.ok ? 'The amount is too large.' : read.reason);
      return null;
    };
    const [freight, free] = [money('freight'), money('free_from')];
    return { ...form, rateMillionths: form.rate ?? EVEN_RATE_MILLIONTHS, freightMinor: freight ?? 0, free };
  });
}

type TermsForm = z.output<ReturnType<typeof termsForm>>;

/** Writes new terms beside the old: those of the day count, and orders that were drafted keep theirs. */
export function setTerms(tx: Tx, supplierId: number, form: TermsForm): Answer {
  const supplier = tx.first(tx.db.selectFrom('supplier').select('name').where('id', '=', supplierId));
  if (!supplier) throw unknown('such supplier');
  const typed = { freight: form.freight, free_from: form.free_from };
  const fromOn = form.from_on ?? dayOf(tx.at);
  tx.run(
    tx.db.insertInto('supplier_terms').values({
      supplier_id: supplierId,
      from_on: fromOn,
      currency: form.currency,
      rate_millionths: form.rateMillionths,
      freight_minor: form.freightMinor,
      freight_free_minor: form.free,
      tax_bp: form.tax.value,
      returns: form.returns,
      typed: storeTyped(typed),
      at: tx.at,
      person_id: tx.personId,
    }),
  );
  return { location: supplierPath(supplierId), said: `The terms of ${supplier.name} are in the book.` };
}

/** The form of the terms, as typed or as they are. */
export function drawTerms(terms: Terms, home: string, typed: Typed = {}) {
  const asTyped = {
    ...terms.typed,
    currency: terms.currency,
    rate: terms.currency === home ? '' : showRate(terms.rateMillionths),
    tax: writePercent(terms.taxBp),
    returns: terms.returns,
  };
  return drawFields(termsFields(home), { ...asTyped, ...typed });
}

/** The terms in short sentences. */
export function sayTerms(terms: Terms, home: string): string[] {
  const { currency } = terms;
  const freight =
    terms.freightMinor === 0
      ? 'No freight is charged.'
      : terms.freeFromMinor === null
        ? `Freight is ${showMoney(terms.freightMinor, currency)} an order.`
        : `Freight is ${showMoney(terms.freightMinor, currency)} an order, free from ${showMoney(terms.freeFromMinor, currency)} of goods.`;
  return [
    currency === home
      ? `Sells in ${currency}.`
      : `Sells in ${currency}; one ${currency} is reckoned as ${showRate(terms.rateMillionths)} ${home}.`,
    freight,
    terms.taxBp === 0
      ? 'No tax is added.'
      : `Tax of ${showPercent(terms.taxBp)} is added to goods and freight.`,
    ...(terms.returns === '' ? [] : [`Returns: ${terms.returns}`]),
  ];
}
