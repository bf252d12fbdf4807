/**
 * One stock solution of each dye for several baths of different depths, so that an error of one weighing is the same in
 * all of them.
 */

import { divideRounded, exactly, stored } from '../quantity/figure-show.ts';
import { type Bath, massUgOf, type StockStrength, withStocks } from './bath.ts';
import { type Dilution, leastForStockMg, makeUp, STRENGTHS } from './stock-solution.ts';

/** What stays in the jug and the cylinder: so much more is made than is measured (common practice). */
const SPARE_BP = 500;

/**
 * What the palest bath takes at least: 5 mL by a graduated pipette, right to 0.02 mL (USP chapter 31), which wants fewer
 * dilutions than a cylinder would; else 1 mL, and never less (our rule).
 */
const LEAST_TRIED_UL = [5_000, 1_000] as const;

/** A stock of one dye: what is made up once, and what each bath takes of it. */
export interface SharedStock {
  readonly name: string;
  readonly mgPer100Ml: number;
  /** what each bath takes, in µL; 0 where it has none of the dye */
  readonly perBathUl: readonly number[];
  readonly totalUl: number;
  /** the jug, how many times it is filled, and what is weighed for each time */
  readonly makeMl: number;
  readonly jugs: number;
  readonly weighMg: number;
  readonly dilutions?: readonly Dilution[];
}

export type SharedStocks =
  | {
      readonly ok: true;
      readonly stocks: readonly SharedStock[];
      /** the baths with their dyes measured from the stocks, and the water that is left to add */
      readonly baths: readonly Bath[];
    }
  | { readonly ok: false; readonly reason: string };

/**
 * A stock for each dye of the baths: the strongest of which the palest bath still takes enough to measure well, less
 * where a bath has no room for that. `balanceMg` is the step of the balance. Refused where the depths lie too far apart
 * for one stock, or the stocks overfill a bath.
 */
export function sharedStocks(baths: readonly Bath[], balanceMg: number): SharedStocks {
  const names = [...new Set(baths.flatMap((bath) => bath.lines.filter(isDye).map(({ name }) => name)))];
  let reason = '';
  for (const leastUl of LEAST_TRIED_UL) {
    const stocks = names.flatMap((name) => stockOf(name, baths, leastUl, balanceMg) ?? []);
    if (stocks.length < names.length) {
      reason = 'No one stock serves the palest and the deepest bath: dye more cloth at once, or part them.';
      continue;
    }
    const measured = measuredFrom(baths, stocks);
    if (measured.ok) return { ok: true, stocks, baths: measured.baths };
    reason = measured.reason;
  }
  return { ok: false, reason };
}

/**
 * The baths with every dye measured from a stock, and the water that is then left to add: bath − Σ stocks. Refused
 * where a bath has not the room.
 */
export function measuredFrom(
  baths: readonly Bath[],
  stocks: readonly { readonly name: string; readonly mgPer100Ml: number }[],
): { readonly ok: true; readonly baths: readonly Bath[] } | { readonly ok: false; readonly reason: string } {
  const measured: Bath[] = [];
  for (const bath of baths) {
    const strengths = bath.lines.flatMap((line, at): StockStrength[] => {
      const stock = isDye(line) ? stocks.find(({ name }) => name === line.name) : undefined;
      return stock ? [{ line: at, mgPer100Ml: stock.mgPer100Ml }] : [];
    });
    const bathed = withStocks(bath, strengths);
    if (!bathed.ok) return bathed;
    measured.push(bathed.bath);
  }
  return { ok: true, baths: measured };
}

function stockOf(
  name: string,
  baths: readonly Bath[],
  leastUl: number,
  balanceMg: number,
): SharedStock | undefined {
  const massesUg = baths.map(({ lines }) => {
    const line = lines.find((each) => isDye(each) && each.name === name);
    return line ? massUgOf(line) : 0;
  });
  const leastUg = Math.min(...massesUg.filter((massUg) => massUg > 0));
  for (const mgPer100Ml of STRENGTHS.filter((tried) => volumeUl(leastUg, tried) >= leastUl)) {
    const perBathUl = massesUg.map((massUg) => volumeUl(massUg, mgPer100Ml));
    const totalUl = perBathUl.reduce((sum, each) => sum + each, 0);
    const wantedMl = Math.ceil((totalUl * (10_000 + SPARE_BP)) / 10_000_000);
    // More than the largest jug holds is made up in several jugs of it, alike, and poured together.
    for (let jugs = 1; jugs <= MOST_JUGS; jugs += 1) {
      const made = makeUp(mgPer100Ml, wantedMl / jugs, leastForStockMg(balanceMg));
      if (made) return { name, mgPer100Ml, perBathUl, totalUl, jugs, ...made };
    }
  }
  return undefined;
}

const MOST_JUGS = 5;

function isDye({ part }: { readonly part: 'dye' | 'auxiliary' }): boolean {
  return part === 'dye';
}

function volumeUl(massUg: number, mgPer100Ml: number): number {
  return stored(divideRounded(exactly(massUg) * 100n, exactly(mgPer100Ml), 'near'));
}
