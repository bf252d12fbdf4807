import { readFigure, tidy } from './figure.ts';
import { stored } from './figure-show.ts';
import { type Reading, refused } from './reading.ts';
import { isAbove, readScaled, showScaled } from './scaled.ts';

/** The most that may be counted of anything. */
export const MOST_COUNTED = 1_000_000_000;

/** A hundred percent, in hundredths of a percent. */
export const WHOLE_SHARE_BP = 10_000;

/** Reads a count: a whole number from `min` (0) to `max` (a thousand million). "1 500" is read, "1,500" refused. */
export function readWhole(typed: string, bounds: { min?: number; max?: number } = {}): Reading<number> {
  const { min = 0, max = MOST_COUNTED } = bounds;
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const read = readFigure(tidied.text, '12');
  if (!read.ok) return read;
  const { figure } = read;
  // "1.000" may be meant for a thousand, so decimals are refused even where they are all nought.
  if (figure.form !== 'whole') {
    return refused(`${typed.trim()} is not a whole number: write it without a part, such as 12.`);
  }
  if (figure.num < BigInt(min)) return refused(`Write ${min} or more.`);
  if (figure.num > BigInt(max)) return refused(`Write ${max} or less.`);
  return { ok: true, value: stored(figure.num), exact: true, echo: figure.shown };
}

/**
 * Reads a percentage in hundredths of a percent, from nought to `maxBp` (1000 % if not given): "65", "65 %", "0,25%",
 * "½ %". Rounded once; `exact` says whether it had to be.
 */
export function readPercent(typed: string, bounds: { maxBp?: number } = {}): Reading<number> {
  const { maxBp = 10 * WHOLE_SHARE_BP } = bounds;
  return readScaled(typed, {
    per: 100n,
    after: / ?(?:%|percent|per cent|pct)$/i,
    suchAs: '12 1/2 or as 12.5',
    signed: (number) => `${number} %`,
    outside: (figure) => (isAbove(figure, maxBp, 100n) ? `Write ${showPercent(maxBp)} or less.` : undefined),
  });
}

/** Reads a share of a whole, such as a fibre's of a cloth: a percentage from nought to 100 %. See `readPercent`. */
export function readShare(typed: string): Reading<number> {
  return readPercent(typed, { maxBp: WHOLE_SHARE_BP });
}

/** Hundredths of a percent as "65 %", "0.25 %". */
export function showPercent(shareBp: number): string {
  return `${writePercent(shareBp)} %`;
}

/** The same without its sign, for a field that is filled in beforehand: "65", "0.25". */
export function writePercent(shareBp: number): string {
  return showScaled(shareBp, 100n);
}

/** The widest colour difference that a person may allow between matching lots, in hundredths of a CIEDE2000 unit. */
export const MOST_CENTI_DELTA_E = 2000;

/** Reads a colour difference in hundredths of a CIEDE2000 unit, from nought to 20: "1", "0.8", "½". Rounded once. */
export function readColourDifference(typed: string): Reading<number> {
  return readScaled(typed, {
    per: 100n,
    after: / ?(?:δ|d)e(?:00)?$/iu,
    suchAs: '1/2 or as 0.5',
    signed: (number) => number,
    outside: (figure) =>
      isAbove(figure, MOST_CENTI_DELTA_E, 100n) ? `Write ${MOST_CENTI_DELTA_E / 100} or less.` : undefined,
  });
}

/** Hundredths as "1", "0.85". */
export function showColourDifference(centiDeltaE: number): string {
  return showScaled(centiDeltaE, 100n);
}
