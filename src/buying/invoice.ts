import { taxOn } from '../quantity/money.ts';

/** What a supplier takes off its list prices and adds to them, in hundredths of a percent and minor units. */
export interface Charges {
  /** off the list price of the goods; fees and freight are not discounted (common practice) */
  readonly discountBp: number;
  /** for each length cut off the bolt */
  readonly cutFeeMinor: number;
  readonly taxBp: number;
}

/** An invoice by its parts, in minor units of the supplier's currency. */
export interface Invoice {
  /** goods at the list price */
  readonly listMinor: number;
  readonly discountMinor: number;
  /** goods less the discount */
  readonly goodsMinor: number;
  readonly cutFeesMinor: number;
  readonly freightMinor: number;
  /** on goods, cut fees and freight together */
  readonly taxMinor: number;
  readonly totalMinor: number;
}

/**
 * What goods come to: the discount is rounded once over all of them, a half up, and the tax once over the sum. `listMinor`
 * is nought or more, `cuts` the lengths that are cut off a bolt. A fee for each cut
 * beside whole bolts: help page of a supplier of wall cloth (freshdesk.com).
 */
export function invoiceOf(
  bought: { readonly listMinor: number; readonly cuts: number; readonly freightMinor: number },
  charges: Charges,
): Invoice {
  const { listMinor, freightMinor } = bought;
  const discountMinor = taxOn(listMinor, charges.discountBp);
  const goodsMinor = listMinor - discountMinor;
  const cutFeesMinor = bought.cuts * charges.cutFeeMinor;
  const taxMinor = taxOn(goodsMinor + cutFeesMinor + freightMinor, charges.taxBp);
  const totalMinor = goodsMinor + cutFeesMinor + freightMinor + taxMinor;
  return { listMinor, discountMinor, goodsMinor, cutFeesMinor, freightMinor, taxMinor, totalMinor };
}
