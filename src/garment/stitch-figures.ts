import { readFigure, tidy } from '../quantity/figure.ts';
import { divideRounded, exactly, showDecimal, stored } from '../quantity/figure-show.ts';
import { type LengthUnit, readLength } from '../quantity/length.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { readScaled, showScaled } from '../quantity/scaled.ts';

const UM_PER = { mm: { num: 1000n, den: 1n }, in: { num: 25_400n, den: 1n } } as const;
const MOST_UM = 50_000n;
/** Thousandths of a stitch in an inch, for one stitch in the unit. */
const MILLI_IN_PER = { cm: 2540n, in: 1000n } as const;
const MOST_MILLI_IN = 100_000n;
const MOST_RATIO_MILLI = 100_000;

/**
 * Reads a thickness or the width of a stitch in whole micrometres, above 0 and at most 50 mm: "0.25 mm", "0.01 in". A
 * number alone takes `bareUnit`. Rounded once, to the nearest.
 */
export function readFine(typed: string, bareUnit: 'mm' | 'in'): Reading<number> {
  const read = readWithUnit(typed, bareUnit, /(mm|in|inch|inches|")$/i, (name) =>
    name === 'mm' ? 'mm' : 'in',
  );
  if (!read.ok) return read;
  const { num, den, unit, shown } = read;
  const size = UM_PER[unit];
  if (num * size.num > MOST_UM * den) return refused('Write 50 mm or less.');
  const value = stored(divideRounded(num * size.num, den, 'near'));
  if (value === 0) return refused('This is too thin to be measured: write more than 0.');
  const exact = (num * size.num) % den === 0n;
  const wrote = `${shown} ${unit}`;
  const kept = `${showDecimal(exactly(value), 3)} mm`;
  return { ok: true, value, exact, echo: wrote === kept ? wrote : `${wrote} ${exact ? '=' : '≈'} ${kept}` };
}

/** Micrometres as they are typed: "0.25 mm". */
export function showFine(um: number): string {
  return `${showDecimal(exactly(um), 3)} mm`;
}

/**
 * Reads how close the stitches are, in thousandths of a stitch in an inch, above 0 and at most 100 in an inch: "4 per
 * cm", "10/in", "10 spi". A number alone counts the stitches in `bareUnit`. Rounded once, to the nearest.
 */
export function readStitches(typed: string, bareUnit: 'cm' | 'in'): Reading<number> {
  const named = /(?:\/|per|a|in an|in a|to the)? ?(cm|in|inch|spi)$/i;
  const read = readWithUnit(typed, bareUnit, named, (name) => (name === 'cm' ? 'cm' : 'in'));
  if (!read.ok) return read;
  const { num, den, unit, shown } = read;
  const per = MILLI_IN_PER[unit];
  if (num * per > MOST_MILLI_IN * den) return refused('Write 100 stitches in an inch or less.');
  const value = stored(divideRounded(num * per, den, 'near'));
  if (value === 0) return refused('Write how many stitches there are: more than 0.');
  const exact = (num * per) % den === 0n;
  return { ok: true, value, exact, echo: `${shown} to the ${unit === 'cm' ? 'cm' : 'inch'}` };
}

/**
 * Reads measured thread for a length of seam in thousandths: one figure for all threads together, "5.4", or one for
 * each thread of the stitch, "1.3 + 4.1". At most three, each above 0 and at most 100.
 */
export function readRatios(typed: string): Reading<readonly number[]> {
  const parts = typed.split('+');
  if (parts.length > 3) return refused('A stitch here has three threads at most: write 3.2 + 5.1 + 5.1.');
  const values: number[] = [];
  for (const part of parts) {
    const read = readScaled(part, {
      per: 1000n,
      after: / ?(?:×|x|times)$/i,
      suchAs: '5.4 or as 1.3 + 4.1',
      signed: (number) => number,
      outside: (figure) =>
        figure.num * 1000n > BigInt(MOST_RATIO_MILLI) * figure.den ? 'Write 100 or less.' : undefined,
    });
    if (!read.ok) return read;
    if (read.value === 0) return refused('A measured thread is more than 0.');
    values.push(read.value);
  }
  return { ok: true, value: values, exact: true, echo: showRatios(values) };
}

/** "1.3 + 4.1". */
export function showRatios(milli: readonly number[]): string {
  return milli.map((one) => showScaled(one, 1000n)).join(' + ');
}

/** Reads a rate of sewing in ticks a minute: "1.5 m/min", "2 yd a minute"; a number alone takes `bareUnit`. */
export function readSewingRate(typed: string, bareUnit: LengthUnit): Reading<number> {
  const length = typed.trim().replace(/ ?(?:\/|per|a|an) ?(?:min|mins|minute|minutes)\.?$/i, '');
  const read = readLength(length, bareUnit);
  if (!read.ok) return read;
  if (read.value === 0) return refused('A rate is more than 0.');
  if (read.value > 16_000_000) return refused('Nobody sews more than 100 m in a minute.');
  return { ...read, echo: `${read.echo} a minute` };
}

type WithUnit<U> =
  | {
      readonly ok: true;
      readonly num: bigint;
      readonly den: bigint;
      readonly unit: U;
      readonly shown: string;
    }
  | { readonly ok: false; readonly reason: string };

function readWithUnit<U>(
  typed: string,
  bareUnit: U,
  named: RegExp,
  unitOf: (name: string) => U,
): WithUnit<U> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  if (tidied.text.startsWith('-')) return refused('This cannot be negative: write it without the minus.');
  const found = named.exec(tidied.text);
  const number = found ? tidied.text.slice(0, found.index) : tidied.text;
  const read = readFigure(number.trim());
  if (!read.ok) return read;
  const { num, den, shown } = read.figure;
  return { ok: true, num, den, shown, unit: found ? unitOf((found[1] ?? '').toLowerCase()) : bareUnit };
}
