import { apportion } from '../quantity/money.ts';
import { atRate, type Exchange } from '../quantity/rate.ts';
import { type Invoice, invoiceOf } from './invoice.ts';

/** One piece of a delivery, as far as its cost goes. */
export interface Landing {
  /** what the goods cost at the list price, in minor units of the supplier's currency */
  readonly priceMinor: number;
  readonly lengthTicks: number;
  /** cut off the bolt, so that cut fees are shared by it */
  readonly isCut: boolean;
}

/** What is taken off the goods of a delivery and comes on top of them, and how it is shared out. */
export interface OnTop {
  readonly discountBp: number;
  /** of the whole delivery, like the freight, in minor units of the supplier's currency */
  readonly cutFeesMinor: number;
  readonly freightMinor: number;
  /** hundredths of a percent of goods, cut fees and freight */
  readonly taxBp: number;
  /** whether the tax comes back from the tax office, and so is no cost of the pieces */
  readonly taxReclaimed: boolean;
  readonly shareBy: 'value' | 'length';
  /** from the supplier's currency to the workroom's */
  readonly exchange: Exchange;
}

/** What a piece cost where it lies, by parts, in minor units of the workroom's currency. */
export interface CostParts {
  /** goods less the discount */
  readonly clothMinor: number;
  readonly cutFeesMinor: number;
  readonly freightMinor: number;
  /** tax that stays a cost */
  readonly taxMinor: number;
  /** tax that is reclaimed: kept beside, in no cost */
  readonly reclaimedMinor: number;
}

export interface LandedCost {
  /** a piece each, in their order */
  readonly pieces: readonly CostParts[];
  /** in minor units of the supplier's currency */
  readonly invoice: Invoice;
  /** the invoice in the workroom's currency, tax and all: what all parts of all pieces add up to */
  readonly paidMinor: number;
}

/** What a piece costs where it lies. */
export function costOfParts({ clothMinor, cutFeesMinor, freightMinor, taxMinor }: CostParts): number {
  return clothMinor + cutFeesMinor + freightMinor + taxMinor;
}

/**
 * The landed cost of a delivery's pieces by parts, in the workroom's own money. Discount, tax and exchange are each rounded
 * once, for the whole delivery, a half up. The sum in our money is shared out over goods, cut fees, freight and tax, and
 * each of these over the pieces, by largest remainder: goods by price, cut fees over what is cut, freight by value or
 * length, tax by the three. So every part adds up over the pieces, and the parts to what was paid. Throws RangeError on
 * negative amounts.
 */
export function landedCosts(pieces: readonly Landing[], onTop: OnTop): LandedCost {
  const { discountBp, cutFeesMinor, freightMinor, taxBp, exchange } = onTop;
  const amounts = pieces.flatMap(({ priceMinor, lengthTicks }) => [priceMinor, lengthTicks]);
  if ([discountBp, cutFeesMinor, freightMinor, taxBp, ...amounts].some((amount) => amount < 0))
    throw new RangeError('no price, discount, fee, tax or length is negative');
  const prices = pieces.map(({ priceMinor }) => priceMinor);
  const invoice = invoiceOf(
    { listMinor: sumOf(prices), cuts: 1, freightMinor },
    { discountBp, cutFeeMinor: cutFeesMinor, taxBp },
  );
  const paidMinor = atRate(invoice.totalMinor, exchange);
  if (pieces.length === 0) return { pieces: [], invoice, paidMinor };
  const [goods = 0, fees = 0, freight = 0, tax = 0] = apportion(paidMinor, [
    invoice.goodsMinor,
    invoice.cutFeesMinor,
    invoice.freightMinor,
    invoice.taxMinor,
  ]);
  const clothOf = apportion(goods, prices);
  const feesOf = apportion(
    fees,
    pieces.map(({ isCut }) => Number(isCut)),
  );
  const freightOf = apportion(
    freight,
    pieces.map(({ priceMinor, lengthTicks }) => (onTop.shareBy === 'value' ? priceMinor : lengthTicks)),
  );
  const at = (shares: readonly number[], place: number) => shares[place] ?? 0;
  const beforeTax = pieces.map((_, place) => at(clothOf, place) + at(feesOf, place) + at(freightOf, place));
  const taxOf = apportion(tax, beforeTax);
  return {
    pieces: pieces.map((_, place) => ({
      clothMinor: at(clothOf, place),
      cutFeesMinor: at(feesOf, place),
      freightMinor: at(freightOf, place),
      taxMinor: onTop.taxReclaimed ? 0 : at(taxOf, place),
      reclaimedMinor: onTop.taxReclaimed ? at(taxOf, place) : 0,
    })),
    invoice,
    paidMinor,
  };
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, number) => sum + number, 0);
}
