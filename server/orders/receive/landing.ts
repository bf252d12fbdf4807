import type { z } from 'zod';
import { landedCosts } from '../../../src/buying/landed.ts';
import { costOf } from '../../../src/quantity/money.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import { writeMoney } from '../../../src/quantity/written-money.ts';
import { MOST_PRICE_MINOR, optionalMoney, optionalPercent } from '../../kit/fields.ts';
import type { Typed } from '../../kit/typed.ts';
import { sharedByField } from '../../shelf/receive/rows.ts';
import type { Order, OrderLine } from '../order/queries.ts';

/** What comes on top of the goods of one delivery: freight in the order's currency, tax, and how freight is shared. */
export function onTopFields(order: Order) {
  return {
    freight: optionalMoney(order.terms.currency, { max: MOST_PRICE_MINOR }),
    tax: optionalPercent(),
    share_by: sharedByField(),
  };
}

type OnTopForm = z.output<z.ZodObject<ReturnType<typeof onTopFields>>>;

export interface OnTopTyped {
  readonly freight: string;
  readonly tax: string;
  readonly share_by: string;
  readonly currency: string;
}

/** The order's own freight is filled in for its first delivery, its tax for each. */
export function typedOnTop(order: Order, typed: Typed): OnTopTyped {
  const { currency, freightMinor, taxBp } = order.terms;
  const isFirst = order.lines.every((line) => line.receivedPieces === 0);
  return {
    freight: typed.freight ?? (isFirst && freightMinor > 0 ? writeMoney(freightMinor, currency) : ''),
    tax: typed.tax ?? (taxBp > 0 ? showPercent(taxBp) : ''),
    share_by: typed.share_by ?? 'value',
    currency,
  };
}

/** A piece that came: its price in the order's currency, or what was paid for it in the workroom's own, all told. */
export interface Came {
  readonly lengthTicks: number;
  readonly priceMinor: number;
  readonly paidMinor: number | null;
}

interface ReceivedRow {
  readonly line_id: number;
  readonly length: { readonly value: number };
  readonly price: { readonly value: number } | null;
}

/** What came as far as its cost goes. */
export function cameOf(order: Order, pieces: readonly ReceivedRow[]): Came[] {
  const lineOf = new Map(order.lines.map((line) => [line.id, line]));
  return pieces.map((piece) => ({
    lengthTicks: piece.length.value,
    priceMinor: priceOf(piece, pieces, lineOf.get(piece.line_id)),
    paidMinor: piece.price?.value ?? null,
  }));
}

/**
 * What a piece costs at the order's price, in its currency: a whole bolt its own price whatever it measures, as long as
 * no more pieces come than bolts are awaited; else its measured length.
 */
function priceOf(piece: ReceivedRow, all: readonly ReceivedRow[], line: OrderLine | undefined): number {
  if (!line?.price) return 0;
  const alike = all.filter((other) => other.line_id === line.id).length;
  const whole = line.bolts !== null && alike <= line.bolts - line.receivedPieces;
  return whole ? line.price.minor : costOf(piece.length.value, line.price);
}

export interface LandedDelivery {
  /** what each piece costs where it lies, in the workroom's minor units */
  readonly costs: readonly number[];
  /** in the order's minor units, of the pieces at its price */
  readonly goodsMinor: number;
  readonly freightMinor: number;
  readonly taxMinor: number;
  /** goods, freight and tax in the workroom's minor units */
  readonly homeMinor: number;
}

/**
 * What each piece costs where it lies. Freight and tax go to the pieces at the order's price; what was paid for a piece
 * is its cost as it stands.
 */
export function landedOf(
  order: Order,
  came: readonly Came[],
  form: OnTopForm,
  currency: string,
): LandedDelivery {
  const { terms } = order;
  const priced = came.filter(({ paidMinor }) => paidMinor === null);
  const freightMinor = priced.length === 0 ? 0 : (form.freight?.value ?? 0);
  const landed = landedCosts(priced, {
    freightMinor,
    taxBp: form.tax?.value ?? 0,
    shareBy: form.share_by,
    exchange: { from: terms.currency, to: currency, rateMillionths: terms.rateMillionths },
  });
  return {
    costs: came.map((piece) => piece.paidMinor ?? landed.pieces[priced.indexOf(piece)] ?? 0),
    goodsMinor: priced.reduce((sum, { priceMinor }) => sum + priceMinor, 0),
    freightMinor,
    taxMinor: landed.taxMinor,
    homeMinor: landed.totalMinor,
  };
}
