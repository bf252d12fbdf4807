import type { Bolt, ByLength, PutUps } from '../../../src/buying/offer.ts';
import { exactly, showMixed } from '../../../src/quantity/figure-show.ts';
import { TICKS_PER } from '../../../src/quantity/length.ts';
import { IMPERIAL, METRIC, showLength, showSize, type Units } from '../../../src/quantity/length-show.ts';
import { costOf, type PricePerLength, showMoney } from '../../../src/quantity/money.ts';
import { countOf } from '../../kit/words.ts';

/** "4.50 EUR a metre" in the unit that the supplier quotes. */
export function showPrice(price: PricePerLength, currency: string): string {
  return `${showMoney(price.minor, currency)} ${price.perTicks === TICKS_PER.yd ? 'a yard' : 'a metre'}`;
}

/** The price of an order's line: "€180.00 a bolt", or by the length; '' where it has none. */
export function showLinePrice(
  { bolts, price }: { readonly bolts: number | null; readonly price: PricePerLength | null },
  currency: string,
): string {
  if (price === null) return '';
  return bolts === null ? showPrice(price, currency) : `${showMoney(price.minor, currency)} a bolt`;
}

/** What a length comes to a metre or yard, in the reader's unit. */
export function showPerLength(minor: number, lengthTicks: number, currency: string, units: Units): string {
  const perTicks = units.system === 'metric' ? TICKS_PER.m : TICKS_PER.yd;
  return showPrice({ minor: costOf(perTicks, { minor, perTicks: lengthTicks }), perTicks }, currency);
}

/** An eighth of a yard: what is sold by the yard is whole in it. */
const EIGHTH_YARD_TICKS = TICKS_PER.yd / 8;

/** A length as it is sold: in the reader's units where it is whole in them, else in those of the seller. */
export function showSold(ticks: number, units: Units): string {
  const inYards = ticks % EIGHTH_YARD_TICKS === 0;
  const metric = units.system === 'metric';
  // 50 yd are 45.72 m to the tick, and yet nobody sells 45.72 m: what is sold by the metre is whole in 10 cm.
  const inMetres = ticks % (metric && inYards ? 10 * TICKS_PER.cm : TICKS_PER.cm) === 0;
  if (metric ? inYards && !inMetres : inMetres && !inYards)
    return `${showLength(ticks, metric ? IMPERIAL : METRIC, 'near')} (${showLength(ticks, units, 'down')})`;
  return showLength(ticks, units, 'near');
}

/** "4 bolts of 50 m", "1 bolt of 30 yd (≈ 27.43 m)". */
export function showBolts(count: number, boltTicks: number, units: Units): string {
  return `${countOf(count, 'bolt', 'bolts')} of ${showSold(boltTicks, units)}`;
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
  return `bolt of ${showSold(lengthTicks, units)} ${showMoney(priceMinor, currency)} (${each})`;
}

function showByLength({ stepTicks, leastTicks, prices }: ByLength, currency: string, units: Units): string[] {
  return prices.map(({ fromTicks, price }, i) => {
    const from = i === 0 ? 'by the length' : `from ${showSold(fromTicks, units)}`;
    if (i > 0) return `${from} ${showPrice(price, currency)}`;
    const least = leastTicks > stepTicks ? `, ${showSold(leastTicks, units)} or more` : '';
    return `${from} ${showPrice(price, currency)}, cut every ${showStep(stepTicks, units)}${least}`;
  });
}

/** A step is "10 cm", "1/8 yd", or whatever else it is. */
export function showStep(stepTicks: number, units: Units): string {
  if (stepTicks < TICKS_PER.yd && stepTicks % EIGHTH_YARD_TICKS === 0)
    return `${showMixed(exactly(stepTicks), exactly(TICKS_PER.yd))} yd`;
  return stepTicks < TICKS_PER.m ? showSize(stepTicks, units, 'near') : showSold(stepTicks, units);
}
