import { TICKS_PER } from '../../src/length.ts';
import { showLength, type Units } from '../../src/length-show.ts';
import { costOf, type PricePerLength, showMoney } from '../../src/money.ts';
import type { Bolt, ByLength, PutUps } from '../../src/offer.ts';

/** "4.50 EUR a metre" in the unit that the supplier quotes. */
export function showPrice(price: PricePerLength, currency: string): string {
  return `${showMoney(price.minor, currency)} ${price.perTicks === TICKS_PER.yd ? 'a yard' : 'a metre'}`;
}

/** What a length comes to a metre or yard, in the reader's unit. */
export function showPerLength(minor: number, lengthTicks: number, currency: string, units: Units): string {
  const perTicks = units.system === 'metric' ? TICKS_PER.m : TICKS_PER.yd;
  return showPrice({ minor: costOf(perTicks, { minor, perTicks: lengthTicks }), perTicks }, currency);
}

/** "4 bolts of 50 m", "1 bolt of 30 yd". */
export function showBolts(count: number, boltTicks: number, units: Units): string {
  return `${count} ${count === 1 ? 'bolt' : 'bolts'} of ${showLength(boltTicks, units, 'down')}`;
}

/** How a cloth is put up, a line for each bolt and for each price by the length. */
export function showPutUps({ bolts, byLength }: PutUps, currency: string, units: Units): string[] {
  return [
    ...bolts.map((bolt) => showBolt(bolt, currency, units)),
    ...(byLength ? showByLength(byLength, currency, units) : []),
  ];
}

function showBolt({ lengthTicks, priceMinor }: Bolt, currency: string, units: Units): string {
  const each = showPerLength(priceMinor, lengthTicks, currency, units);
  return `bolt of ${showLength(lengthTicks, units, 'down')} ${showMoney(priceMinor, currency)} (${each})`;
}

function showByLength({ stepTicks, leastTicks, prices }: ByLength, currency: string, units: Units): string[] {
  return prices.map(({ fromTicks, price }, i) => {
    const from = i === 0 ? 'by the length' : `from ${showLength(fromTicks, units, 'up')}`;
    if (i > 0) return `${from} ${showPrice(price, currency)}`;
    const least = leastTicks > stepTicks ? `, ${showLength(leastTicks, units, 'up')} or more` : '';
    return `${from} ${showPrice(price, currency)}, cut every ${showLength(stepTicks, units, 'near')}${least}`;
  });
}
