import { readFigure, tidy } from './figure.ts';
import { divideRounded, exactly, MINUS, showFixed, stored } from './figure-show.ts';
import { type Reading, refused } from './reading.ts';
import { WHOLE_SHARE_BP } from './whole.ts';

/** A price for so much length: `minor` units of money for `perTicks` ticks, as a supplier quotes it. */
export interface PricePerLength {
  readonly minor: number;
  readonly perTicks: number;
}

/** A thousand million of the major unit is the most that may be typed. */
const MOST_MAJOR = 1_000_000_000n;

/** Decimals of a currency's minor unit by ISO 4217: 0, 2, 3 or 4. Throws on what is not three capital letters. */
export function minorDigits(currency: string): number {
  if (!/^[A-Z]{3}$/.test(currency)) throw new RangeError(`${currency} is not a currency code of ISO 4217.`);
  return NOT_TWO_DIGITS.get(currency) ?? 2;
}

/**
 * Reads an amount of money in whole minor units, nought or more: "12.50", "12,50", "£12.50", "12.50 EUR".
 *
 * A symbol or code may stand before or after if it is one of `currency`. Refused are more decimals than the currency
 * has, fractions, and "1,500", which could be either amount. Nothing is ever rounded.
 */
export function readMoney(typed: string, currency: string): Reading<number> {
  const digits = minorDigits(currency);
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const mark = markOf(tidied.text);
  if (mark !== '' && mark.toUpperCase() !== currency && !SYMBOLS.get(mark)?.includes(currency)) {
    return refused(`${mark} is not ${currency}: write the amount in ${currency}.`);
  }
  const number = tidied.text.replace(mark, '').trim();
  if (/^-|^\(/.test(number) || tidied.text.startsWith('-')) {
    return refused('An amount cannot be negative: write it without the minus.');
  }
  const read = readFigure(number, example(currency));
  if (!read.ok) return read;
  const { figure } = read;
  if (figure.form === 'fraction')
    return refused(`Write ${number} with decimals, such as ${example(currency)}.`);
  if (figure.places > digits) {
    return refused(
      `${currency} has ${decimals(digits)}, and ${number} has ${figure.places}: write ${example(currency)}.`,
    );
  }
  if (figure.num > MOST_MAJOR * figure.den) return refused(`An amount here can be ${MOST_MAJOR} at most.`);
  const value = stored((figure.num * 10n ** BigInt(digits)) / figure.den);
  return { ok: true, value, exact: true, echo: showMoney(value, currency) };
}

// A sign of currency, or three letters that could be a code.
const MARK_BEFORE = /^-?(\p{Sc}|[a-z]{3}(?![a-z]))/iu;
const MARK_AFTER = /(\p{Sc}|(?<![a-z])[a-z]{3})$/iu;

/** What stands before or after the number: a symbol or a code, or ''. */
function markOf(text: string): string {
  return MARK_BEFORE.exec(text)?.[1] ?? MARK_AFTER.exec(text)?.[1] ?? '';
}

/** An amount in its currency with every decimal: "€12.50", "¥1500", "CAD 12.50"; a true minus before a negative. */
export function showMoney(minor: number, currency: string): string {
  const amount = exactly(minor);
  const shown = showFixed(amount < 0n ? -amount : amount, minorDigits(currency));
  const mark = SHOWN_AS.get(currency) ?? `${currency} `;
  return `${amount < 0n ? MINUS : ''}${mark}${shown}`;
}

/**
 * What this length costs at this price, in minor units: exact, rounded once, a half up (away from nought).
 *
 * Throws on a price for no length, or on a cost beyond the exact integers.
 */
export function costOf(lengthTicks: number, price: PricePerLength): number {
  return stored(divideRounded(exactly(lengthTicks) * exactly(price.minor), exactly(price.perTicks), 'near'));
}

/**
 * The tax on an amount, both in minor units: `taxBp` hundredths of a percent of it, rounded once, a half up (away from
 * nought). Throws on a tax beyond the exact integers.
 */
export function taxOn(amountMinor: number, taxBp: number): number {
  return stored(divideRounded(exactly(amountMinor) * exactly(taxBp), BigInt(WHOLE_SHARE_BP), 'near'));
}

/**
 * Shares out an amount by weight so that the shares add up to it exactly (largest remainder).
 *
 * Weights are whole numbers of any one unit, none negative; a weight of nought gets nothing, and if all are nought the
 * shares are as equal as they can be. Equal remainders are served in order. A negative total is shared like a
 * positive one. Throws on a negative weight, or an amount with nobody to bear it.
 */
export function apportion(totalMinor: number, weights: readonly number[]): number[] {
  const total = exactly(totalMinor);
  if (weights.some((weight) => weight < 0)) throw new RangeError('A weight cannot be negative.');
  if (weights.length === 0) {
    if (total === 0n) return [];
    throw new RangeError('An amount needs at least one weight to be shared by.');
  }
  const given = weights.map(exactly);
  const weighed = given.every((weight) => weight === 0n) ? given.map(() => 1n) : given;
  const sum = weighed.reduce((so, weight) => so + weight, 0n);
  const amount = total < 0n ? -total : total;
  const shares = weighed.map((weight, index) => ({
    index,
    share: (amount * weight) / sum,
    rest: (amount * weight) % sum,
  }));
  const left = amount - shares.reduce((so, { share }) => so + share, 0n);
  // The sort is stable, so equal remainders keep their order.
  const served = shares
    .toSorted((a, b) => (a.rest === b.rest ? 0 : a.rest > b.rest ? -1 : 1))
    .slice(0, Number(left));
  for (const entry of served) entry.share += 1n;
  return shares.map(({ share }) => stored(total < 0n ? -share : share));
}

function example(currency: string): string {
  return showFixed((125n * 10n ** BigInt(minorDigits(currency))) / 10n, minorDigits(currency));
}

function decimals(digits: number): string {
  return digits === 0 ? 'no decimals' : `${digits} decimals`;
}

/** Currencies of ISO 4217 whose minor unit is not a hundredth. */
const NOT_TWO_DIGITS: ReadonlyMap<string, number> = new Map([
  ...[
    'BIF',
    'CLP',
    'DJF',
    'GNF',
    'ISK',
    'JPY',
    'KMF',
    'KRW',
    'PYG',
    'RWF',
    'UGX',
    'UYI',
    'VND',
    'VUV',
    'XAF',
  ].map((code) => [code, 0] as const),
  ...['XOF', 'XPF'].map((code) => [code, 0] as const),
  ...['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'].map((code) => [code, 3] as const),
  ...['CLF', 'UYW'].map((code) => [code, 4] as const),
]);

/** Symbols that may be typed, with the currencies that use them. */
const SYMBOLS: ReadonlyMap<string, readonly string[]> = new Map([
  ['£', ['GBP', 'GIP', 'FKP', 'SHP', 'EGP']],
  ['€', ['EUR']],
  [
    '$',
    ['USD', 'CAD', 'AUD', 'NZD', 'SGD', 'HKD', 'TWD', 'MXN', 'CLP', 'COP', 'ARS', 'BBD', 'BZD', 'FJD', 'JMD'],
  ],
  ['¥', ['JPY', 'CNY']],
]);

/** Only one currency is shown by each symbol, so that a shown amount is never in doubt. */
const SHOWN_AS: ReadonlyMap<string, string> = new Map([
  ['GBP', '£'],
  ['EUR', '€'],
  ['USD', '$'],
  ['JPY', '¥'],
]);
