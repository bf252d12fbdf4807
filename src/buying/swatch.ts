import { readFigure, tidy } from '../quantity/figure.ts';
import { divideRounded, exactly, showDecimal, stored } from '../quantity/figure-show.ts';
import { type Reading, refused } from '../quantity/reading.ts';

/** The smallest swatch whose mass tells that of the cloth: 100 cm² (ASTM D3776, option C), in square millimetres. */
export const LEAST_SWATCH_MM2 = 10_000;

/** A hundred square metres. */
const MOST_SWATCH_MM2 = 100_000_000;

/** A square inch is 645.16 mm², exactly. */
const SQUARE_MM = { 'cm²': { num: 100n, den: 1n }, 'in²': { num: 64_516n, den: 100n } } as const;
export type AreaUnit = keyof typeof SQUARE_MM;

const WRITTEN = /^(.*?) ?(cm2|sq ?cm|in2|sq ?in|sq ?inches)$/i;

/**
 * Reads the area of a swatch in whole square millimetres, 100 cm² or more: "100", "100 cm²", "16 sq in". A number
 * alone takes `bareUnit`. Rounded once to the nearest; `exact` says whether it had to be.
 */
export function readSwatchArea(typed: string, bareUnit: AreaUnit): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const [, number = tidied.text, name = ''] = WRITTEN.exec(tidied.text) ?? [];
  const unit = name === '' ? bareUnit : /cm/i.test(name) ? 'cm²' : 'in²';
  const read = readFigure(number.trim(), '100 cm²');
  if (!read.ok) return read;
  const { figure } = read;
  const [num, den] = [figure.num * SQUARE_MM[unit].num, figure.den * SQUARE_MM[unit].den];
  if (num < BigInt(LEAST_SWATCH_MM2) * den)
    return refused('A swatch to weigh has 100 cm² (15½ sq in) or more.');
  if (num > BigInt(MOST_SWATCH_MM2) * den) return refused('A swatch has 100 square metres at most.');
  const value = stored(divideRounded(num, den, 'near'));
  return { ok: true, value, exact: num % den === 0n, echo: showSwatchArea(value) };
}

/** An area in square millimetres as "100 cm²". */
export function showSwatchArea(areaMm2: number): string {
  return `${showDecimal(exactly(areaMm2), 2)} cm²`;
}

/**
 * Mass per area of a weighed swatch in milligrams per square metre, rounded to the nearest. Source: ASTM D3776,
 * option C: mass of the swatch by its area. Throws RangeError on no area.
 */
export function massPerAreaOf(swatch: { readonly areaMm2: number; readonly massMg: number }): number {
  return stored(divideRounded(exactly(swatch.massMg) * 1_000_000n, exactly(swatch.areaMm2), 'near'));
}
