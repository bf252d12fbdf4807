import { landedCosts } from '../../../src/buying/landed.ts';
import { costOf } from '../../../src/quantity/money.ts';
import type { Order, OrderLine } from '../order/queries.ts';
import type { ReceiveForm } from './form.ts';

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

/**
 * What each piece costs where it lies. Freight and tax go to the pieces at the order's price; what was paid for a piece
 * is its cost as it stands.
 */
export function landedOf(
  { terms }: Order,
  came: readonly Came[],
  form: Pick<ReceiveForm, 'freight' | 'tax' | 'share_by'>,
  currency: string,
) {
  const priced = came.filter(({ paidMinor }) => paidMinor === null);
  const freightMinor = priced.length === 0 ? 0 : (form.freight?.value ?? 0);
  const landed = landedCosts(priced, {
    freightMinor,
    taxBp: form.tax?.value ?? 0,
    shareBy: form.share_by,
    exchange: { from: terms.currency, to: currency, rateMillionths: terms.rateMillionths },
  });
  return {
    /** what each piece costs where it lies, in the workroom's minor units */
    costs: came.map((piece) => piece.paidMinor ?? landed.pieces[priced.indexOf(piece)] ?? 0),
    /** goods, freight and tax in the order's minor units, of the pieces at its price */
    goodsMinor: priced.reduce((sum, { priceMinor }) => sum + priceMinor, 0),
    freightMinor,
    taxMinor: landed.taxMinor,
    /** the three in the workroom's minor units */
    homeMinor: landed.totalMinor,
  };
}
