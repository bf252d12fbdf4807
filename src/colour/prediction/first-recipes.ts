/** Recipes to try first for a shade: of one to three dyes, as a cloth's swatches have them. */

import { curveWithColour } from '../curve-from-lab.ts';
import { deltaE00, type Lab } from '../lab.ts';
import { type Curve, labInLight } from '../spectrum.ts';
import { dyedCurve, dyesIn } from './dye-model.ts';
import { LEAST_AMOUNT, nearestAmounts } from './nearest-amounts.ts';
import type { ShadePredictor } from './predictor.ts';

/** Beyond the deepest swatch of a dye a recipe is let go by this much, and it is told (our rule). */
export const BEYOND_DEEPEST = 1.5;
/** A shade that stays further off than this is not reached with these dyes. */
export const NOT_REACHED = 2;
/** Recipes that come this near to each other are as good as alike: no reading in a workroom tells them apart. */
const AS_GOOD = 0.5;
/** So many are shown even where some of them do not reach the shade. */
const FEW = 3;
/** What lies so much further off than the nearest is no recipe for the shade. */
const FAR = 5;
/** As many dyes at most: more cannot be told apart by a colour's three figures. */
const MOST_DYES = 3;
/** Of more dyes than these not every three is tried: there are 56 threes of eight, and 560 of sixteen. */
const MOST_IN_THREES = 8;
/** A dye of which a recipe has less than this part is not needed in it. */
const LEAST_PART = 0.004;

export interface WantedShade {
  /** D65, for the observer of the predictor */
  readonly lab: Lab;
  /** 19 of 20 such colours are right within this, in units of CIEDE2000; 0 where it is the shade itself */
  readonly uncertainty: number;
}

export interface DyesAtHand {
  /** the dyes that may be used, by their places */
  readonly usable: readonly number[];
  /** of every dye, the deepest swatch it was alone in, in % */
  readonly deepest: readonly number[];
  /** of every dye, what so much of it costs that makes 1 % of a kilogram of cloth; null where that is not known */
  readonly pricePerPercent: readonly (number | null)[];
}

export interface FirstRecipe {
  /** of every dye, in %, to three figures and thousandths of a percent at the finest */
  readonly amounts: readonly number[];
  /** the shade that is expected: D65, for the observer of the predictor */
  readonly lab: Lab;
  /** how far that stays from what is wanted, in units of CIEDE2000 */
  readonly difference: number;
  readonly isReached: boolean;
  /** 9 of 10 such dyeings come out within this of what is wanted, in units of CIEDE2000 */
  readonly within: number;
  /** the dyes of which it has more than any swatch */
  readonly beyondDeepest: readonly number[];
  /** how far in incandescent light it is likely to leave a cloth that it matches in daylight */
  readonly apartInIncandescent: number;
  /** for a kilogram of cloth; null where a price is not known */
  readonly pricePerKg: number | null;
}

/**
 * At most `count` recipes, no two of the same dyes: those that come nearest and as near, with fewer dyes first and then the cheaper,
 * then the others that reach the shade; where that is few, the next nearest too. Empty where no dye may be used.
 */
export function firstRecipes(
  predictor: ShadePredictor,
  wanted: WantedShade,
  dyes: DyesAtHand,
  count: number,
): FirstRecipe[] {
  const most = dyes.deepest.map((deepest) => deepest * BEYOND_DEEPEST);
  const recipeOf = (set: readonly number[]): FirstRecipe[] => {
    const search = { wanted: wanted.lab, dyes: set, most, shadeOf: predictor.shadeOf };
    const tried = [0.1, 0.5].map((part) =>
      nearestAmounts(
        search,
        most.map((amount) => (amount * part) / set.length),
      ),
    );
    const best = tried.reduce((one, other) => (other.difference < one.difference ? other : one));
    const whole = best.amounts.reduce((sum, each) => sum + each, 0);
    return set.every((dye) => (best.amounts[dye] as number) >= Math.max(LEAST_AMOUNT * 2, whole * LEAST_PART))
      ? [firstRecipeOf(predictor, wanted, dyes, best.amounts.map(rounded))]
      : [];
  };
  const few = setsOf(dyes.usable, 2).flatMap(recipeOf);
  const threes = setsOf(promising(few, dyes.usable)).filter(({ length }) => length === MOST_DYES);
  return inOrder([...few, ...threes.flatMap(recipeOf)]).slice(0, count);
}

/** The dyes that threes are looked for among: all where they are few, else those of the recipes that come nearest. */
function promising(found: readonly FirstRecipe[], usable: readonly number[]): number[] {
  const nearest = found.toSorted((one, other) => one.difference - other.difference);
  const inOrderOfUse = nearest.flatMap(({ amounts }) => usable.filter((dye) => (amounts[dye] ?? 0) > 0));
  const first = [...new Set([...inOrderOfUse, ...usable])].slice(0, MOST_IN_THREES);
  return usable.filter((dye) => first.includes(dye));
}

/** All sets of one to three of some dyes, or of fewer. */
function setsOf(dyes: readonly number[], most = MOST_DYES): number[][] {
  if (most === 0) return [];
  return dyes.flatMap((dye, at) => [
    [dye],
    ...setsOf(dyes.slice(at + 1), most - 1).map((others) => [dye, ...others]),
  ]);
}

/** To three figures, as a recipe is weighed. */
function rounded(amount: number): number {
  return Math.round(Number(amount.toPrecision(3)) * 1000) / 1000;
}

/** What is to be known of a recipe for a shade. */
export function firstRecipeOf(
  predictor: ShadePredictor,
  wanted: WantedShade,
  { deepest, pricePerPercent }: DyesAtHand,
  amounts: readonly number[],
): FirstRecipe {
  const lab = predictor.shadeOf(amounts);
  const difference = deltaE00(wanted.lab, lab);
  const used = amounts.flatMap((amount, dye) => (amount > 0 ? [{ amount, dye }] : []));
  const prices = used.map(({ amount, dye }) => {
    const price = pricePerPercent[dye] ?? null;
    return price === null ? null : price * amount;
  });
  return {
    amounts,
    lab,
    difference,
    isReached: difference <= NOT_REACHED,
    within: difference + Math.hypot(predictor.withinOf(amounts), wanted.uncertainty),
    beyondDeepest: used.flatMap(({ amount, dye }) => (amount > (deepest[dye] ?? 0) ? [dye] : [])),
    apartInIncandescent: apartInIncandescent(predictor, amounts),
    pricePerKg: prices.reduce<number | null>(
      (sum, price) => (sum === null || price === null ? null : sum + price),
      0,
    ),
  };
}

/**
 * In incandescent light, the difference between the dyed cloth and the smoothest curve that has its colour in daylight: a cloth of
 * other dyes that matches by day is likely to be about as far off (special metamerism index for illuminant A, CIE 15).
 */
function apartInIncandescent({ model }: ShadePredictor, amounts: readonly number[]): number {
  const dyed = dyedCurve(model, amounts);
  const { observer } = model;
  const smooth = curveWithColour(labInLight(dyed, 'daylight', observer), observer);
  const underA = (curve: Curve) => labInLight(curve, 'incandescent', observer);
  return deltaE00(underA(dyed), underA(smooth));
}

function inOrder(found: readonly FirstRecipe[]): FirstRecipe[] {
  const byDifference = found.toSorted((one, other) => one.difference - other.difference);
  const nearest = byDifference[0]?.difference ?? 0;
  const good = byDifference.filter(({ difference }) => difference <= nearest + AS_GOOD);
  const others = byDifference
    .slice(good.length)
    .filter(
      ({ isReached, difference }, at) => isReached || (good.length + at < FEW && difference <= nearest + FAR),
    );
  const price = ({ pricePerKg }: FirstRecipe) => pricePerKg ?? Number.POSITIVE_INFINITY;
  good.sort(
    (one, other) =>
      dyesIn(one.amounts) - dyesIn(other.amounts) ||
      price(one) - price(other) ||
      one.difference - other.difference,
  );
  return [...good, ...others];
}
