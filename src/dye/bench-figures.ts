import { readFigure, tidy } from '../quantity/figure.ts';
import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import { type Reading, refused } from '../quantity/reading.ts';
import { isAbove, readScaled, showScaled } from '../quantity/scaled.ts';

// The numbers that are typed at the dye bench and are none of length, mass or volume.

/** 1000 % on weight of fabric, in thousandths of a percent. */
export const MOST_OWF_MILLI = 1_000_000;

/** 200 litres a kilogram, in thousandths. */
export const MOST_LIQUOR_RATIO_MILLI = 200_000;

/**
 * Reads an amount on weight of fabric, in thousandths of a percent from nought to 1000 %: "2", "0.125 %", "½ % owf",
 * "4 oz/lb", "5 g/kg".
 * Rounded once; `exact` says whether it had to be.
 */
export function readOwf(typed: string): Reading<number> {
  const byMass = BY_MASS.find(({ after }) => after.test(typed.trim()));
  if (byMass) return readByMass(typed, byMass);
  return readScaled(typed, {
    per: 1000n,
    after: / ?%?(?: ?(?:owf|o\.w\.f\.))?$/i,
    suchAs: '1/2 or as 0.5',
    signed: (number) => `${number} % owf`,
    outside: (figure) =>
      isAbove(figure, MOST_OWF_MILLI, 1000n) ? `Write ${showOwf(MOST_OWF_MILLI)} or less.` : undefined,
  });
}

/** On weight of fabric as labels have it too: an ounce to the pound is a sixteenth, a gram to the kilogram a thousandth. */
const BY_MASS = [
  {
    after: /oz ?(?:\/|per|to|on) ?(?:1 ?)?lbs?(?: of (?:cloth|fabric|goods))?$/i,
    unit: 'oz/lb',
    oneMilli: 6250n,
  },
  { after: /g ?(?:\/|per|to|on) ?(?:1 ?)?kg(?: of (?:cloth|fabric|goods))?$/i, unit: 'g/kg', oneMilli: 100n },
] as const;

/** Whether an amount is written on weight of fabric by its masses. */
export function isByMass(text: string): boolean {
  return BY_MASS.some(({ after }) => after.test(text));
}

function readByMass(typed: string, { after, unit, oneMilli }: (typeof BY_MASS)[number]): Reading<number> {
  const tidied = tidy(typed);
  if (!tidied.ok) return tidied;
  const read = readFigure(tidied.text.replace(after, '').trim(), `4 ${unit} or as 0.5 ${unit}`);
  if (!read.ok) return read;
  const { num, den, shown } = read.figure;
  if (num * oneMilli > exactly(MOST_OWF_MILLI) * den) {
    return refused(`Write ${showOwf(MOST_OWF_MILLI)} or less.`);
  }
  const value = stored(divideRounded(num * oneMilli, den, 'near'));
  const exact = (num * oneMilli) % den === 0n;
  return { ok: true, value, exact, echo: `${shown} ${unit} ${exact ? '=' : '≈'} ${showOwf(value)}` };
}

/**
 * Reads a liquor ratio, litres of bath per kilogram of cloth, in thousandths from 1000 to 200 000: "20", "20:1",
 * "1:20", "20 L/kg". Rounded once; `exact` says whether it had to be.
 */
export function readLiquorRatio(typed: string): Reading<number> {
  return readScaled(typed, {
    per: 1000n,
    // Dyers write the ratio from either side; the cloth is always the 1.
    before: /^1 ?: ?(?!1$)/,
    after: / ?(?:: ?1|to 1|l ?\/ ?kg)$/i,
    suchAs: '20 or as 1:20',
    signed: (number) => `1:${number}`,
    outside: (figure) => {
      if (figure.num < figure.den)
        return 'A liquor ratio is 1 or more: litres of bath to each kilogram of cloth.';
      const most = isAbove(figure, MOST_LIQUOR_RATIO_MILLI, 1000n);
      return most ? `Write ${showLiquorRatio(MOST_LIQUOR_RATIO_MILLI)} or less.` : undefined;
    },
  });
}

/** 100 g in 100 mL, in milligrams. */
export const MOST_STOCK_MG = 100_000;

/**
 * Reads the strength of a stock solution, grams in 100 mL, in milligrams in 100 mL above nought and up to 100 000: "1",
 * "0.5 %", "20 g/100 mL". Rounded once; `exact` says whether it had to be.
 */
export function readStockStrength(typed: string): Reading<number> {
  return readScaled(typed, {
    per: 1000n,
    after: / ?(?:%|g ?(?:\/|in|per) ?100 ?ml)$/i,
    suchAs: '1 or as 0.5',
    signed: (number) => `${number} g in 100 mL`,
    outside: (figure) => {
      if (figure.num * 1000n < figure.den)
        return 'A stock solution holds something: write 0.001 g in 100 mL or more.';
      return isAbove(figure, MOST_STOCK_MG, 1000n)
        ? 'A stock solution holds 100 g in 100 mL at most; salt dissolves to about 30 g.'
        : undefined;
    },
  });
}

/** Milligrams in 100 mL as "0.5 g in 100 mL". */
export function showStockStrength(mgPer100Ml: number): string {
  return `${showScaled(mgPer100Ml, 1000n)} g in 100 mL`;
}

/** Thousandths of a percent as "0.125 % owf". */
export function showOwf(owfMilli: number): string {
  return `${showScaled(owfMilli, 1000n)} % owf`;
}

/** Thousandths as "1:20". */
export function showLiquorRatio(liquorRatioMilli: number): string {
  return `1:${showScaled(liquorRatioMilli, 1000n)}`;
}
