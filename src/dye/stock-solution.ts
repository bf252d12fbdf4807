/**
 * Stock solutions: so many grams dissolved and made up in a jug, from which small amounts are measured instead of
 * weighed, and weaker ones made from stronger. Strengths are milligrams in 100 mL: 1 g in 100 mL is 1000.
 */
import { type Bath, massUgOf, type StockStrength } from './bath.ts';

/**
 * A weighing should be this many of the balance's steps at least. The smallest weight that is right to 1 % is 82 steps
 * (2 × 0.41 of a step ÷ 1 %, from the least weight of USP chapter 41).
 */
export const STEPS_FOR_DYE = 100;
/** Salt, acid and the like bear an error of two and a half percent. */
export const STEPS_FOR_AUXILIARY = 20;
/** From here a measuring cylinder reads to half a percent (common practice). */
export const LEAST_MEASURED_UL = 20_000;
/** What is measured where a bath or a jug has no room for that: by pipette or syringe, and never below 1 mL. */
const VOLUMES_TO_TRY_UL = [LEAST_MEASURED_UL, 5_000, 1_000] as const;
/** 1, 0.5, 0.2 and on: strengths that are easily made up. A stock of dye is seldom made stronger than 1 % (common practice). */
export const STRENGTHS = [1000, 500, 200, 100, 50, 20, 10, 5, 2, 1] as const;
const STRONGEST = STRENGTHS[0];
/** Measuring jugs and flasks, in mL (common practice). */
export const JUGS_ML = [100, 250, 500, 1000, 2000] as const;
/** A weaker stock is weighed straight into a jug up to this; beyond, less dye is lost by making a strong one weaker. */
const MOST_STRAIGHT_ML = 500;
/** A step of a dilution is one to ten at most, so that what is taken is never too little to measure (common practice). */
const MOST_DILUTED = 10;

/** So much of the stock before, made up in a jug to a weaker one. */
export interface Dilution {
  readonly takeMl: number;
  readonly makeMl: number;
  readonly mgPer100Ml: number;
}

/** A stock solution proposed for one line of a bath. */
export interface ProposedStock extends StockStrength {
  /** the volume that each bath takes, in µL */
  readonly perBathUl: number;
  /** the jug in which the first solution is made up */
  readonly makeMl: number;
  /** what to weigh for that */
  readonly weighMg: number;
  /** the steps from the first solution to the one that is measured; left out where that is the same */
  readonly dilutions?: readonly Dilution[];
}

/** The least that a balance of this step weighs well enough, in mg. */
export function leastWeighedMg(balanceMg: number, part: 'dye' | 'auxiliary'): number {
  return balanceMg * (part === 'dye' ? STEPS_FOR_DYE : STEPS_FOR_AUXILIARY);
}

/**
 * The lines of a bath that the workroom's balance does not resolve, each with a stock solution to measure it from.
 * `bath` is one vessel's bath, `baths` how many alike are made. The strongest strength is taken of which `leastUl` or
 * more are measured, less where no jug holds enough for all the baths; the first weighing can be trusted. Liquids and
 * stocks are left alone, and so is what no jug serves: that wants a finer balance.
 */
export function proposeStocks(
  bath: Bath,
  baths: number,
  balanceMg: number,
  leastUl: number = LEAST_MEASURED_UL,
): readonly ProposedStock[] {
  return bath.lines.flatMap((each, line): ProposedStock[] => {
    if (each.volumeUl !== undefined || !isTooLittle(each, balanceMg)) return [];
    const massUg = massUgOf(each);
    for (const volumeUl of VOLUMES_TO_TRY_UL.filter((volume) => volume <= leastUl)) {
      const strength = STRENGTHS.find((tried) => volumeOf(massUg, tried) >= volumeUl);
      if (strength === undefined) continue;
      const perBathUl = volumeOf(massUg, strength);
      const made = makeUp(strength, (perBathUl * baths) / 1000, leastWeighedMg(balanceMg, each.part));
      if (made) return [{ line, mgPer100Ml: strength, perBathUl, ...made }];
    }
    return [];
  });
}

/** Whether something is there that the balance cannot weigh well enough. */
export function isTooLittle(
  line: Parameters<typeof massUgOf>[0] & { readonly part: 'dye' | 'auxiliary' },
  balanceMg: number,
): boolean {
  const massUg = massUgOf(line);
  return massUg > 0 && massUg < leastWeighedMg(balanceMg, line.part) * 1000;
}

/** So much of a strength: weighed straight, or made weaker step by step; undefined where no jug is large enough. */
export function makeUp(
  strength: number,
  wantedMl: number,
  leastMg: number,
): Pick<ProposedStock, 'makeMl' | 'weighMg' | 'dilutions'> | undefined {
  const straightMl = jugToWeighIn(strength, wantedMl, leastMg);
  if (straightMl !== undefined && (straightMl <= MOST_STRAIGHT_ML || strength === STRONGEST)) {
    return { makeMl: straightMl, weighMg: (straightMl * strength) / 100 };
  }
  const dilutions: Dilution[] = [];
  let [mgPer100Ml, neededMl] = [strength, wantedMl];
  while (mgPer100Ml < STRONGEST) {
    const makeMl = jugFor(neededMl);
    if (makeMl === undefined) return undefined;
    const stronger = Math.min(STRONGEST, mgPer100Ml * MOST_DILUTED);
    const takeMl = (makeMl * mgPer100Ml) / stronger;
    dilutions.unshift({ takeMl, makeMl, mgPer100Ml });
    [mgPer100Ml, neededMl] = [stronger, takeMl];
  }
  const firstMl = jugToWeighIn(STRONGEST, neededMl, leastMg);
  return firstMl === undefined || dilutions.length === 0
    ? undefined
    : { makeMl: firstMl, weighMg: (firstMl * STRONGEST) / 100, dilutions };
}

function jugFor(neededMl: number): number | undefined {
  return JUGS_ML.find((jugMl) => jugMl >= neededMl);
}

/** The smallest jug that holds what is needed and for which enough is weighed. */
function jugToWeighIn(strength: number, neededMl: number, leastMg: number): number | undefined {
  return JUGS_ML.find((jugMl) => jugMl >= neededMl && jugMl * strength >= leastMg * 100);
}

function volumeOf(massUg: number, mgPer100Ml: number): number {
  return Math.round((massUg * 100) / mgPer100Ml);
}
