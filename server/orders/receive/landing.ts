import { type CostParts, landedCosts } from '../../../src/buying/landed.ts';
import { costOf } from '../../../src/quantity/money.ts';
import type { Order, OrderLine } from '../order/queries.ts';
import { isCut } from '../order/sums.ts';
import type { ReceiveForm } from './form.ts';
import type { CameOfSupply } from './supply-rows.ts';

/** A piece that came: its price in the order's currency, or what was paid for it in the workroom's own, all told. */
export interface Came {
  readonly lengthTicks: number;
  readonly priceMinor: number;
  readonly paidMinor: number | null;
  readonly isCut: boolean;
}

interface ReceivedRow {
  readonly line_id: number;
  readonly length: { readonly value: number };
  readonly price: { readonly value: number } | null;
}

/** What came as far as its cost goes: the pieces, then the supplies. */
export function cameOf(
  order: Order,
  pieces: readonly ReceivedRow[],
  supplies: readonly CameOfSupply[],
): Came[] {
  const lineOf = new Map(order.lines.map((line) => [line.id, line]));
  const cloth = pieces.map((piece) => {
    const line = lineOf.get(piece.line_id);
    return {
      lengthTicks: piece.length.value,
      priceMinor: priceOf(piece, pieces, line),
      paidMinor: piece.price?.value ?? null,
      isCut: line !== undefined && isCut(line),
    };
  });
  const besides = supplies.map(({ priceMinor, paidMinor }) => ({
    lengthTicks: 0,
    priceMinor,
    paidMinor,
    isCut: false,
  }));
  return [...cloth, ...besides];
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
 * What each piece costs where it lies, by parts. Discount, cut fees, freight and tax go to the pieces at the order's price;
 * what was paid for a piece is its cost as it stands. Where supplies came too, which have no length, freight goes by value.
 */
export function landedOf(
  { terms }: Order,
  came: readonly Came[],
  form: Pick<ReceiveForm, 'cut_fees' | 'freight' | 'tax' | 'tax_is' | 'share_by'>,
  currency: string,
) {
  const priced = came.filter(({ paidMinor }) => paidMinor === null);
  const shareBy = came.some(({ lengthTicks }) => lengthTicks === 0) ? 'value' : form.share_by;
  const ofThese = (minor: number | undefined) => (priced.length === 0 ? 0 : (minor ?? 0));
  const landed = landedCosts(priced, {
    discountBp: terms.discountBp,
    cutFeesMinor: ofThese(form.cut_fees?.value),
    freightMinor: ofThese(form.freight?.value),
    taxBp: form.tax?.value ?? 0,
    taxReclaimed: form.tax_is === 'reclaimed',
    shareBy,
    exchange: { from: terms.currency, to: currency, rateMillionths: terms.rateMillionths },
  });
  return {
    ...landed,
    shareBy,
    pieces: came.map((piece) => landed.pieces[priced.indexOf(piece)] ?? paidFor(piece.paidMinor ?? 0)),
  };
}

function paidFor(clothMinor: number): CostParts {
  return { clothMinor, cutFeesMinor: 0, freightMinor: 0, taxMinor: 0, reclaimedMinor: 0 };
}
