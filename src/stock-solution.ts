/**
 * Stock solutions: so many grams dissolved and made up to 100 mL, from which small amounts are measured instead of
 * weighed. Strengths are milligrams in 100 mL: 1 g in 100 mL is 1000.
 */
import type { Bath, Stock } from './bath.ts';

/** A weighing should be this many of the balance's steps at least, so that half a step is half a percent of it. */
export const STEPS_FOR_DYE = 100;
/** Salt, acid and the like bear an error of two and a half percent. */
export const STEPS_FOR_AUXILIARY = 20;
/** From here a measuring cylinder reads to half a percent (common practice). */
export const LEAST_MEASURED_UL = 20_000;
/** 1, 0.5, 0.2 and on: strengths that are easily made up. A stock of dye is seldom made stronger than 1 % (common practice). */
const STRENGTHS = [1000, 500, 200, 100, 50, 20, 10, 5, 2, 1] as const;

/** A stock solution proposed for one line of a bath. */
export interface ProposedStock extends Stock {
  /** the volume that each bath takes, in µL */
  readonly perBathUl: number;
  /** what to make up in all, in whole 100 mL */
  readonly makeMl: number;
  /** what to weigh for that */
  readonly weighMg: number;
}

/** The least that a balance of this step weighs well enough, in mg (common practice: half a step is ½ % of a dye). */
export function leastWeighedMg(balanceMg: number, part: 'dye' | 'auxiliary'): number {
  return balanceMg * (part === 'dye' ? STEPS_FOR_DYE : STEPS_FOR_AUXILIARY);
}

/**
 * The lines of a bath that the workroom's balance does not resolve, each with a stock solution to measure it from.
 * `bath` is one vessel's bath, `baths` how many alike are made. The strongest strength is taken of which
 * `leastUl` or more are measured; enough is made up that its own weighing can be trusted. Liquids and stocks are left alone.
 */
export function proposeStocks(
  bath: Bath,
  baths: number,
  balanceMg: number,
  leastUl = LEAST_MEASURED_UL,
): readonly ProposedStock[] {
  return bath.lines.flatMap(({ part, massMg, volumeUl }, line): ProposedStock[] => {
    if (volumeUl !== undefined || massMg <= 0 || massMg >= leastWeighedMg(balanceMg, part)) return [];
    const strength =
      STRENGTHS.find((each) => volumeOf(massMg, each) >= leastUl) ?? STRENGTHS[STRENGTHS.length - 1] ?? 1;
    const perBathUl = volumeOf(massMg, strength);
    const least = leastWeighedMg(balanceMg, part);
    const hundreds = Math.max(Math.ceil((perBathUl * baths) / 100_000), Math.ceil(least / strength));
    return [{ line, mgPer100Ml: strength, perBathUl, makeMl: hundreds * 100, weighMg: hundreds * strength }];
  });
}

function volumeOf(massMg: number, mgPer100Ml: number): number {
  return Math.round((massMg * 100_000) / mgPer100Ml);
}
