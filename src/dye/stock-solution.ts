/**
 * Stock solutions: so many grams dissolved and made up in a jug, from which small amounts are measured instead of
 * weighed, and weaker ones made from stronger. Strengths are milligrams in 100 mL: 1 g in 100 mL is 1000.
 */
import { type Bath, type BathLine, massUgOf, type StockStrength } from './bath.ts';
import {
  type Bench,
  byBalance,
  byJug,
  byVolume,
  leastWeighedTo,
  offBpOf,
  type Source,
  USUAL_OFF_BP,
} from './measuring.ts';

/** What is weighed for a stock is weighed to within this, since its error goes into every bath (our rule). */
const WEIGHED_FOR_STOCK_BP = 120;
/** From here a measuring cylinder reads to half a percent (common practice). */
export const LEAST_MEASURED_UL = 20_000;
/** What is measured where a bath or a jug has no room for that: by pipette or syringe, and never below 1 mL (our rule). */
const VOLUMES_TO_TRY_UL = [LEAST_MEASURED_UL, 5_000, 1_000] as const;
/** 1, 0.5, 0.2 and on: strengths that are easily made up. A stock of dye is seldom made stronger than 1 % (common practice). */
export const STRENGTHS = [1000, 500, 200, 100, 50, 20, 10, 5, 2, 1] as const;
const STRONGEST = STRENGTHS[0];
/** Measuring jugs and flasks, in mL (common practice). */
export const JUGS_ML = [100, 250, 500, 1000, 2000] as const;
/** A weaker stock is weighed straight into a jug up to this; beyond, less dye is lost by making a strong one weaker. */
const MOST_STRAIGHT_ML = 500;
/** A step of a dilution is one to ten at most, so that what is taken is never too little to measure (our rule). */
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

/** The least that is weighed for a stock, in mg. */
export function leastForStockMg(balanceMg: number): number {
  return leastWeighedTo(balanceMg, WEIGHED_FOR_STOCK_BP);
}

/**
 * The lines of a bath that cannot be measured to within what the bench allows, each with a stock solution to take it
 * from. `bath` is one vessel's bath, `baths` how many alike are made. The strongest strength is taken of which `leastUl`
 * or more are measured, less where no jug holds enough for all the baths or where that is not true enough; where none is,
 * the truest. Stocks that were asked for are left alone, and so is what no jug serves: that wants a finer balance.
 */
export function proposeStocks(
  bath: Bath,
  baths: number,
  bench: Bench,
  leastUl: number = LEAST_MEASURED_UL,
): readonly ProposedStock[] {
  const { offBp = USUAL_OFF_BP, balanceMg } = bench;
  const leastMg = leastForStockMg(balanceMg);
  return bath.lines.flatMap((each, line): ProposedStock[] => {
    if (each.stockMgPer100Ml !== undefined || !isTooLittle(each, bench)) return [];
    const massUg = massUgOf(each);
    const ways = VOLUMES_TO_TRY_UL.filter((volume) => volume <= leastUl).flatMap((volumeUl) => {
      const strength = STRENGTHS.find((tried) => volumeOf(massUg, tried) >= volumeUl);
      if (strength === undefined) return [];
      const perBathUl = volumeOf(massUg, strength);
      const made = makeUp(strength, (perBathUl * baths) / 1000, leastMg);
      if (!made) return [];
      const stock = { line, mgPer100Ml: strength, perBathUl, ...made };
      return [{ stock, off: offBpOf(fromStock(stock, bench)) }];
    });
    const good = ways.find(({ off }) => off <= offBp);
    const [truest] = [...ways].sort((a, b) => a.off - b.off);
    const taken = good ?? (truest && truest.off < offBpOf(withoutStock(each, bench)) ? truest : undefined);
    return taken ? [taken.stock] : [];
  });
}

/** Whether something is there that can neither be weighed nor measured to within what the bench allows. */
export function isTooLittle(line: Measured, bench: Bench): boolean {
  return massUgOf(line) > 0 && offBpOf(withoutStock(line, bench)) > (bench.offBp ?? USUAL_OFF_BP);
}

type Measured = Pick<BathLine, 'massMg' | 'massUg' | 'volumeUl' | 'stockMgPer100Ml'>;

/** What makes a line of a bath uncertain: of a stock that somebody asked for, no more than its measuring is known. */
export function sourcesOf(line: Measured, stock: ProposedStock | undefined, bench: Bench): readonly Source[] {
  if (massUgOf(line) === 0) return [];
  if (line.stockMgPer100Ml === undefined || line.volumeUl === undefined) return withoutStock(line, bench);
  return stock
    ? fromStock({ ...stock, perBathUl: line.volumeUl }, bench)
    : [byVolume(line.volumeUl, bench.measuresWith)];
}

/** Weighed, or measured as the liquid that it is: the truer of the two. */
function withoutStock(line: Measured, { balanceMg, measuresWith }: Bench): readonly Source[] {
  const weighed = byBalance(massUgOf(line), balanceMg);
  if (line.volumeUl === undefined || line.volumeUl === 0) return [weighed];
  const measured = byVolume(line.volumeUl, measuresWith);
  return [measured.relative <= weighed.relative ? measured : weighed];
}

/** Weighing and making up, each step of thinning, and what each bath takes. */
function fromStock(
  { weighMg, makeMl, dilutions = [], perBathUl }: Omit<ProposedStock, 'line' | 'mgPer100Ml'>,
  { balanceMg, measuresWith }: Bench,
): readonly Source[] {
  return [
    byBalance(weighMg * 1000, balanceMg),
    byJug(makeMl),
    ...dilutions.flatMap((step) => [byVolume(step.takeMl * 1000, measuresWith), byJug(step.makeMl)]),
    byVolume(perBathUl, measuresWith),
  ];
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
