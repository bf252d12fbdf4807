import { showMoney, taxOn } from '../../../src/quantity/money.ts';
import { atRate, showRate } from '../../../src/quantity/rate.ts';
import { showPercent } from '../../../src/quantity/whole.ts';
import type { Order } from './queries.ts';

/** In minor units of the order's currency: each line is rounded once, the tax once over all. */
export function orderTotals(order: Pick<Order, 'lines' | 'terms'>) {
  const { freightMinor, taxBp } = order.terms;
  const goodsMinor = order.lines.reduce((sum, line) => sum + (line.costMinor ?? 0), 0);
  const taxMinor = taxOn(goodsMinor + freightMinor, taxBp);
  return { goodsMinor, freightMinor, taxMinor, totalMinor: goodsMinor + freightMinor + taxMinor };
}

/** What an order comes to, ready to print; '' where there is nothing to say. */
export function shapeSums(order: Order, home: string) {
  const { currency, rateMillionths, taxBp } = order.terms;
  const { goodsMinor, freightMinor, taxMinor, totalMinor } = orderTotals(order);
  const unpriced = order.lines.filter((line) => line.costMinor === null).length;
  const priced = unpriced < order.lines.length;
  const money = (minor: number) => (priced ? showMoney(minor, currency) : '');
  const onTop = freightMinor + taxMinor > 0;
  const abroad = currency !== home && priced;
  return {
    goods: onTop ? money(goodsMinor) : '',
    freight: freightMinor > 0 ? money(freightMinor) : '',
    tax: taxMinor > 0 ? money(taxMinor) : '',
    taxRate: showPercent(taxBp),
    /** '' where no line has a price */
    total: money(totalMinor),
    /** the total in the workroom's currency, '' where the order is in it */
    home: abroad ? showMoney(atRate(totalMinor, { from: currency, to: home, rateMillionths }), home) : '',
    rate: abroad ? `1 ${currency} = ${showRate(rateMillionths)} ${home}` : '',
    unpriced,
  };
}
