import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import { TICKS_PER } from '../quantity/length.ts';
import type { Units } from '../quantity/length-show.ts';
import { showMoney } from '../quantity/money.ts';
import type { SupplyMeasure } from './amount.ts';

/** Below so many minor units the price of one unit tells nothing: it is said for more of them. */
const LEAST_TOLD_MINOR = 10;

/**
 * What an amount of a supply at a price comes to by the unit that shops compare by, rounded once to the nearest minor unit:
 * a kilogram, a litre, a metre or yard, a piece; small prices by 100 or 1000 of them, as "€0.12 per 100 m". The amount is
 * above nought, the price nought or more.
 */
export function showUnitPrice(
  priceMinor: number,
  amount: number,
  measure: SupplyMeasure,
  currency: string,
  units: Units,
): string {
  const { each, name } = unitCompared(measure, units);
  const per = (count: number) =>
    stored(divideRounded(exactly(priceMinor) * exactly(each * count), exactly(amount), 'near'));
  const count = [1, 100, 1000].find((many) => per(many) >= LEAST_TOLD_MINOR) ?? 1000;
  const money = showMoney(per(count), currency);
  if (count === 1) return `${money} a ${name.one}`;
  return `${money} per ${count} ${name.many}`;
}

function unitCompared(measure: SupplyMeasure, { system }: Units) {
  switch (measure) {
    case 'mass':
      return { each: 1_000_000, name: { one: 'kilogram', many: 'kg' } };
    case 'volume':
      return { each: 1_000_000, name: { one: 'litre', many: 'L' } };
    case 'length':
      return system === 'metric'
        ? { each: TICKS_PER.m, name: { one: 'metre', many: 'm' } }
        : { each: TICKS_PER.yd, name: { one: 'yard', many: 'yd' } };
    case 'count':
      return { each: 1, name: { one: 'piece', many: 'pieces' } };
  }
}
