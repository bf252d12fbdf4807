import { type Invoice, invoiceOf } from '../../../src/buying/invoice.ts';
import { showMoney } from '../../../src/quantity/money.ts';
import { atRate, showRate } from '../../../src/quantity/rate.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Order } from './queries.ts';

/** In minor units of the order's currency: each line is rounded once, the discount and the tax once over all. */
export function orderTotals({
  lines,
  supplies,
  terms,
}: Pick<Order, 'lines' | 'supplies' | 'terms'>): Invoice {
  const { freightMinor } = terms;
  const listMinor = [...lines, ...supplies].reduce((sum, line) => sum + (line.costMinor ?? 0), 0);
  return invoiceOf({ listMinor, cuts: lines.filter(isCut).length, freightMinor }, terms);
}

/** Whether a line is a length cut off the bolt, for which a cut fee may be asked. */
export function isCut({ bolts }: { readonly bolts: number | null }): boolean {
  return bolts === null;
}

/** What an order comes to, ready to print; '' where there is nothing to say. */
export function shapeSums(order: Order, home: string) {
  const { currency, rateMillionths, taxBp, discountBp, taxReclaimed } = order.terms;
  const invoice = orderTotals(order);
  const all = [...order.lines, ...order.supplies];
  const unpriced = all.filter((line) => line.costMinor === null).length;
  const priced = unpriced < all.length;
  const money = (minor: number) => (priced ? showMoney(minor, currency) : '');
  const some = (minor: number) => (minor > 0 ? money(minor) : '');
  const { discountMinor, cutFeesMinor, freightMinor, taxMinor } = invoice;
  const isMore = discountMinor + cutFeesMinor + freightMinor + taxMinor > 0;
  const abroad = currency !== home && priced;
  return {
    /** at the list price; '' where nothing comes off it or on top */
    goods: isMore ? money(invoice.listMinor) : '',
    /** as it is taken off: "−€5.00" */
    /** the same less the discount */
    net: isMore ? money(invoice.goodsMinor) : '',
    discount: discountMinor > 0 ? money(-discountMinor) : '',
    discountRate: showPercent(discountBp),
    cutFees: some(cutFeesMinor),
    freight: some(freightMinor),
    tax: some(taxMinor),
    taxRate: showPercent(taxBp),
    taxReclaimed,
    /** '' where no line has a price */
    total: money(invoice.totalMinor),
    /** the total in the workroom's currency, '' where the order is in it */
    home: abroad
      ? showMoney(atRate(invoice.totalMinor, { from: currency, to: home, rateMillionths }), home)
      : '',
    rate: abroad ? `1 ${currency} = ${showRate(rateMillionths)} ${home}` : '',
    unpriced,
  };
}
