import type { Selectable } from 'kysely';
import type { BasketSupplier } from '../../../src/buying/basket/job.ts';
import { showLength, type Units } from '../../../src/quantity/length-show.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { EVEN_RATE_MILLIONTHS, showRate } from '../../../src/quantity/rate.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Reader } from '../../database/book.ts';
import type { Schema } from '../../database/schema.ts';
import { type Param, prepared } from '../../database/statements.ts';
import type { Typed } from '../../kit/typed.ts';
import { readTyped } from '../../kit/typed.ts';
import { readWorkroom } from '../../kit/workroom.ts';
import type { Asker } from '../../web/house.ts';

/** On what terms a supplier sells: money in minor units of the supplier's currency. */
export interface Terms extends BasketSupplier {
  /** whether the tax comes back from the tax office, and so is no cost */
  readonly taxReclaimed: boolean;
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
    taxReclaimed: row.tax_reclaimed === 1,
    discountBp: row.discount_bp,
    cutFeeMinor: row.cut_fee_minor,
    leastOrderMinor: row.least_order_minor,
    leastOrderTicks: row.least_order_ticks,
    leastLineMinor: row.least_line_minor,
    leastLineTicks: row.least_line_ticks,
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
    taxReclaimed: false,
    discountBp: 0,
    cutFeeMinor: 0,
    leastOrderMinor: null,
    leastOrderTicks: null,
    leastLineMinor: null,
    leastLineTicks: null,
    returns: '',
    fromOn: '',
    typed: {},
  };
}

/** The terms in short sentences. */
export function sayTerms(terms: Terms, { currency: home, units }: Asker): string[] {
  const { currency } = terms;
  const money = (minor: number) => showMoney(minor, currency);
  const freight =
    terms.freightMinor === 0
      ? 'No freight is charged.'
      : terms.freeFromMinor === null
        ? `Freight is ${money(terms.freightMinor)} an order.`
        : `Freight is ${money(terms.freightMinor)} an order, free from ${money(terms.freeFromMinor)} of goods.`;
  return [
    currency === home
      ? `Sells in ${currency}.`
      : `Sells in ${currency}; one ${currency} is reckoned as ${showRate(terms.rateMillionths)} ${home}.`,
    ...(terms.discountBp === 0
      ? []
      : [`Trade discount of ${showPercent(terms.discountBp)} off the list price.`]),
    ...(terms.cutFeeMinor === 0
      ? []
      : [`Each length cut off the bolt costs ${money(terms.cutFeeMinor)} more.`]),
    ...sayMinimums(terms, units),
    freight,
    sayTax(terms),
    ...(terms.returns === '' ? [] : [`Returns: ${terms.returns}`]),
  ];
}

/** "Least order: €150.00 and 20 m.", a sentence for each kind of minimum. */
function sayMinimums(terms: Terms, units: Units): string[] {
  const least = (minor: number | null, ticks: number | null) =>
    [
      ...(minor === null ? [] : [showMoney(minor, terms.currency)]),
      ...(ticks === null ? [] : [showLength(ticks, units, 'up')]),
    ].join(' and ');
  const order = least(terms.leastOrderMinor, terms.leastOrderTicks);
  const line = least(terms.leastLineMinor, terms.leastLineTicks);
  return [
    ...(order === '' ? [] : [`Least order: ${order}.`]),
    ...(line === '' ? [] : [`Least of each cloth and shade: ${line}.`]),
  ];
}

function sayTax({ taxBp, taxReclaimed }: Terms): string {
  if (taxBp === 0) return 'No tax is added.';
  const added = `Tax of ${showPercent(taxBp)} is added to goods, cut fees and freight`;
  return taxReclaimed ? `${added}; it is reclaimed, so it is not a cost.` : `${added}.`;
}
