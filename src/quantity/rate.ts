import { readFigure, tidy } from './figure.ts';
import { divideRounded, exactly, showDecimal, stored } from './figure-show.ts';
import { minorDigits } from './money.ts';
import { type Reading, refused } from './reading.ts';

/** The rate of a currency to itself. */
export const EVEN_RATE_MILLIONTHS = 1_000_000;

/** A million of one currency for one of another is the most that may be typed. */
const MOST_RATE_MILLIONTHS = 1_000_000_000_000n;

/**
 * Reads how much of the workroom's currency one whole unit of another costs, in millionths: "1.15", "0.006123". More
 * than six decimals are refused rather than rounded, since money would be lost by it; so is nought.
 */
export function readExchangeRate(typed: string): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const read = readFigure(tidied.text, '1.15');
  if (!read.ok) return read;
  const { figure } = read;
  if (figure.form === 'fraction') return refused('Write a rate with decimals, such as 1.15.');
  if (figure.places > 6) return refused('Write a rate with six decimals at most, such as 0.006123.');
  if (figure.num === 0n) return refused('A rate is above nought.');
  const millionths = (figure.num * 1_000_000n) / figure.den;
  if (millionths > MOST_RATE_MILLIONTHS) return refused('Write a rate of a million or less.');
  const value = stored(millionths);
  return { ok: true, value, exact: true, echo: showRate(value) };
}

/** A rate as "1.15". */
export function showRate(rateMillionths: number): string {
  return showDecimal(exactly(rateMillionths), 6);
}

/** One currency in another: one whole unit of `from` costs `rateMillionths` millionths of a whole unit of `to`. */
export interface Exchange {
  readonly from: string;
  readonly to: string;
  readonly rateMillionths: number;
}

/**
 * An amount in minor units of one currency in minor units of another, rounded once, a half away from nought. The
 * digits of either's minor unit are those of ISO 4217: yen have none, dinars three.
 */
export function atRate(minor: number, { from, to, rateMillionths }: Exchange): number {
  const num = exactly(minor) * exactly(rateMillionths) * 10n ** BigInt(minorDigits(to));
  return stored(divideRounded(num, 1_000_000n * 10n ** BigInt(minorDigits(from)), 'near'));
}
