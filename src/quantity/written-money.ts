import { exactly, showFixed } from './figure-show.ts';
import { minorDigits } from './money.ts';

/** An amount written so that `readMoney` gives the same: "12.50". For fields that are filled in beforehand. */
export function writeMoney(minor: number, currency: string): string {
  if (minor < 0) throw new RangeError('An amount that can be typed is nought or more.');
  return showFixed(exactly(minor), minorDigits(currency));
}
