/**
 * A whole bench plan from a mass and a recipe: the bath with its stock solutions, shared over vessels, and stocks
 * proposed for what the balance does not resolve.
 */
import { type Bath, bathFor, type DyeStrength, type StockStrength, withStocks } from './bath.ts';
import { type Bench, benchOf, type SmallMeasure } from './measuring.ts';
import type { Recipe } from './recipe.ts';
import { displacedUl, type SplitOption, splitOptions } from './splitting.ts';
import { LEAST_MEASURED_UL, type ProposedStock, proposeStocks } from './stock-solution.ts';
import { fillMl, shareBath } from './vessel.ts';

export interface PlanAsked extends Bench {
  readonly massMg: number;
  /** The share of the cloth that the class dyes, in hundredths of a percent. */
  readonly dyedBp: number;
  readonly recipe: Recipe;
  /** Strengths that were asked for, by line of the bath: dyes first, then auxiliaries. */
  readonly stocks: readonly StockStrength[];
  /** Of dyes whose lot is not as strong as the recipe's. */
  readonly strengths?: readonly DyeStrength[];
  /** To the brim; left out, everything is one bath. */
  readonly vesselMl?: number;
  /** Strips that the cloth is cut into, so that no bath gets a broken one. */
  readonly strips?: number;
  /** How the cloth is parted when it is not left to the plan: unequal baths. */
  readonly parts?: readonly number[];
  /** The mass in each bath, where lengths of unlike width make the parts; else it follows from the parts. */
  readonly massesMg?: readonly number[];
}

export interface BathPlan {
  /** All together, stocks counted inside it. */
  readonly bath: Bath;
  /** One a vessel load; together exactly `bath`. */
  readonly baths: readonly Bath[];
  readonly parts: readonly number[];
  readonly equal: boolean;
  /** Ways of sharing, fewest baths first; one only where no vessel is named. */
  readonly options: readonly SplitOption[];
  readonly proposed: readonly ProposedStock[];
  /** What the amounts were planned to be measured with; a plan of before does not tell it. */
  readonly balanceMg?: number;
  readonly measuresWith?: SmallMeasure;
  readonly offBp?: number;
  /** Liquor and cloth that the vessel may hold at this heat, in mL; null without a vessel. */
  readonly fillMl: number | null;
}

export type PlannedBaths =
  | { readonly ok: true; readonly plan: BathPlan }
  | { readonly ok: false; readonly at: 'mass' | 'vessel' | 'stocks' | 'parts'; readonly reason: string };

/**
 * Plans a bath. Refused, with what it is about: no cloth, stocks that overfill the bath, a vessel too small for one
 * strip or for the parts that were asked for, parts that are not those of the strips.
 */
export function planBath(asked: PlanAsked): PlannedBaths {
  const dry = bathFor(asked.massMg, asked.recipe, asked.dyedBp, asked.strengths);
  if (!dry.ok) return { ok: false, at: 'mass', reason: dry.reason };
  const bathed = withStocks(dry.bath, asked.stocks);
  if (!bathed.ok) return { ok: false, at: 'stocks', reason: bathed.reason };
  const sharing = shareOut(asked, bathed.bath);
  if (!sharing.ok) return sharing;
  const { options, holdsMl } = sharing;
  const parts = asked.parts ?? (options.find(({ addedStrips }) => addedStrips === 0)?.parts || [1]);
  const weights = asked.massesMg ?? parts;
  const proposed = stocksThatFit(bathed.bath, weights, asked);
  const withAll = withStocks(bathed.bath, proposed);
  const bath = withAll.ok ? withAll.bath : bathed.bath;
  return {
    ok: true,
    plan: {
      bath,
      baths: shareBath(bath, weights),
      parts,
      equal: new Set(weights).size === 1,
      options,
      proposed,
      ...benchOf(asked),
      fillMl: holdsMl,
    },
  };
}

type Shared =
  | { readonly ok: true; readonly options: readonly SplitOption[]; readonly holdsMl: number | null }
  | Extract<PlannedBaths, { ok: false }>;

function shareOut(asked: PlanAsked, bath: Bath): Shared {
  const { vesselMl, parts, strips, recipe } = asked;
  if (parts && strips !== undefined && parts.reduce((sum, part) => sum + part, 0) !== strips) {
    const reason = `The parts must make the ${strips} strips of this cloth together, such as ${example(strips)}.`;
    return { ok: false, at: 'parts', reason };
  }
  if (vesselMl === undefined) {
    return { ok: true, options: [{ parts: [strips ?? 1], equal: true, addedStrips: 0 }], holdsMl: null };
  }
  const holdsMl = fillMl(vesselMl, recipe.temperatureC);
  const sharing = { massMg: bath.massMg, volumeUl: bath.volumeUl, holdsUl: holdsMl * 1000 };
  const found = splitOptions(strips === undefined ? sharing : { ...sharing, strips });
  if (!found.ok) return { ok: false, at: 'vessel', reason: found.reason };
  if (!parts) return { ok: true, options: found.options, holdsMl };
  const largest = Math.max(...parts) / parts.reduce((sum, part) => sum + part, 0);
  const loadUl = (bath.volumeUl + displacedUl(bath.massMg)) * largest;
  if (loadUl > holdsMl * 1000) {
    const reason = `The largest part makes ${(loadUl / 1_000_000).toFixed(2)} L of liquor and cloth, and the vessel may be filled with ${(holdsMl / 1000).toFixed(2)} L.`;
    return { ok: false, at: 'parts', reason };
  }
  return { ok: true, options: found.options, holdsMl };
}

function example(strips: number): string {
  return `${Math.ceil(strips / 2)} ${Math.floor(strips / 2)}`;
}

/** Stocks for small weighings; in a bath too small for 20 mL of each, stronger ones are measured by syringe. */
function stocksThatFit(bath: Bath, weights: readonly number[], bench: Bench): readonly ProposedStock[] {
  const [first = bath] = shareBath(bath, weights);
  for (const leastUl of [LEAST_MEASURED_UL, 5_000, 1_000]) {
    const stocks = proposeStocks(first, weights.length, bench, leastUl);
    if (withStocks(bath, stocks).ok) return stocks;
  }
  return [];
}
