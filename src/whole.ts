import { type Figure, type FigureReading, readFigure, tidy } from './figure.ts';
import { divideRounded, exactly, showDecimal, stored } from './figure-show.ts';
import { type Reading, refused } from './reading.ts';

/** The most that may be counted of anything. */
export const MOST_COUNTED = 1_000_000_000;

/** A hundred percent, in hundredths of a percent. */
export const WHOLE_SHARE_BP = 10_000;

/** Twenty times; more cloth than that does not go into a seam. Common practice. */
export const MOST_FULLNESS_MILLI = 20_000;

/** Reads a count: a whole number from `min` (0) to `max` (a thousand million). "1 500" is read, "1,500" refused. */
export function readWhole(typed: string, bounds: { min?: number; max?: number } = {}): Reading<number> {
  const { min = 0, max = MOST_COUNTED } = bounds;
  const read = readNumber(typed, /$/, '12');
  if (!read.ok) return read;
  if (read.figure.form !== 'whole')
    return refused(`${typed.trim()} is not a whole number: write it without a part, such as 12.`);
  if (read.figure.num < BigInt(min)) return refused(`Write ${min} or more.`);
  if (read.figure.num > BigInt(max)) return refused(`Write ${max} or less.`);
  return {
    ok: true,
    value: stored(read.figure.num),
    exact: true,
    echo: read.figure.shown,
  };
}

/**
 * Reads a percentage in hundredths of a percent, from nought to `maxBp` (1000 %, since shades and salts on weight of
 * fabric can pass 100 %): "65", "65 %", "0,25%", "½ %". Rounded once; `exact` says whether it had to be.
 */
export function readPercent(typed: string, bounds: { maxBp?: number } = {}): Reading<number> {
  const { maxBp = 10 * WHOLE_SHARE_BP } = bounds;
  const read = readNumber(typed, / ?(?:%|percent|per cent|pct)$/, '12 1/2 or as 12.5');
  if (!read.ok) return read;
  const { figure } = read;
  if (figure.num * 100n > BigInt(maxBp) * figure.den) return refused(`Write ${showPercent(maxBp)} or less.`);
  const { value, exact } = scaled(figure, 100n);
  return {
    ok: true,
    value,
    exact,
    echo: echo(`${figure.shown} %`, showPercent(value), exact),
  };
}

/** Reads a share of a whole, such as a fibre's of a cloth: a percentage from nought to 100 %. See `readPercent`. */
export function readShare(typed: string): Reading<number> {
  return readPercent(typed, { maxBp: WHOLE_SHARE_BP });
}

/**
 * Reads a fullness, flat length ÷ finished length, in thousandths from 1000 to 20 000: "2.5", "2½", "2.5×", "2.5 : 1",
 * "2½ to 1". A percentage is refused: some mean the whole by it, others what is added. Rounded once; see `exact`.
 */
export function readFullness(typed: string): Reading<number> {
  const read = readNumber(typed, / ?(?:x|×|times|: ?1|to 1)$/, '2 1/2 or as 2.5');
  if (!read.ok)
    return read.reason.includes('%')
      ? refused('Write a fullness as times the finished length, such as 2.5.')
      : read;
  const { figure } = read;
  if (figure.num < figure.den)
    return refused('A fullness is 1 or more: 1 is flat, 2 is twice the finished length.');
  if (figure.num * 1000n > BigInt(MOST_FULLNESS_MILLI) * figure.den) {
    return refused(`Write a fullness of ${showFullness(MOST_FULLNESS_MILLI)} or less.`);
  }
  const { value, exact } = scaled(figure, 1000n);
  return {
    ok: true,
    value,
    exact,
    echo: echo(`${figure.shown}×`, `${showFullness(value)}×`, exact),
  };
}

/** Hundredths of a percent as "65 %", "0.25 %". */
export function showPercent(shareBp: number): string {
  return `${showDecimal(exactly(shareBp), 2)} %`;
}

/** Thousandths as "2.5", "2.333". */
export function showFullness(fullnessMilli: number): string {
  return showDecimal(exactly(fullnessMilli), 3);
}

/** One number, with or without what may stand after it. */
function readNumber(typed: string, after: RegExp, suchAs?: string): FigureReading {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  return readFigure(tidied.text.replace(after, '').trim(), suchAs);
}

function scaled(figure: Figure, scale: bigint): { value: number; exact: boolean } {
  const num = figure.num * scale;
  return {
    value: stored(divideRounded(num, figure.den, 'near')),
    exact: num % figure.den === 0n,
  };
}

function echo(typed: string, shown: string, exact: boolean): string {
  if (typed === shown) return typed;
  return `${typed} ${exact ? '=' : '≈'} ${shown}`;
}
