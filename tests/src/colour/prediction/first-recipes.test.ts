import { describe, expect, it } from 'vitest';
import { deltaE00, type Lab } from '../../../../src/colour/lab.ts';
import { type DyesAtHand, firstRecipes } from '../../../../src/colour/prediction/first-recipes.ts';
import { predictorFor } from '../../../../src/colour/prediction/predictor.ts';
import { BOOTH, type DyeWorld, dyeWorld, EXACT, someMixture, swatchesOf, UPTAKE_LAWS } from './dye-worlds.ts';
import { quantile, tryIn } from './trials.ts';

const world = dyeWorld(23, 'exhaustion');
const predictor = predictorFor(swatchesOf(world, EXACT, 12), world.dyes, '2');
const AT_HAND: DyesAtHand = { usable: [0, 1, 2, 3], deepest: [4, 4, 4, 4], pricePerPercent: [2, 3, 5, 1] };
const recipesFor = (lab: Lab, hand: Partial<DyesAtHand> = {}, count = 6, uncertainty = 0) =>
  firstRecipes(predictor, { lab, uncertainty }, { ...AT_HAND, ...hand }, count);

describe('first recipes for a shade that can be had', () => {
  const wanted = world.shadeOf([0.8, 0, 0.5, 0]);

  it('reach it, with different dyes, one to three each', () => {
    const recipes = recipesFor(world.shadeOf([0.3, 0.3, 0.3, 0]));
    expect(recipes.length).toBeGreaterThanOrEqual(2);
    const sets = recipes.map(({ amounts }) => amounts.map((amount) => amount > 0).join());
    expect(new Set(sets).size).toBe(sets.length);
    for (const { amounts, isReached, difference } of recipes) {
      expect(amounts.filter((amount) => amount > 0).length).toBeGreaterThanOrEqual(1);
      expect(amounts.filter((amount) => amount > 0).length).toBeLessThanOrEqual(3);
      expect(isReached).toBe(difference <= 2);
    }
  });

  it('are none that lie much further off than the nearest', () => {
    // Of these dyes the others come within 16 and 31 only.
    expect(recipesFor(wanted)).toHaveLength(1);
    for (const { difference } of recipesFor(world.shadeOf([0.2, 0.2, 0.4, 0.1])))
      expect(difference).toBeLessThanOrEqual(5.1);
  });

  it('have fewer dyes first, where they are as good', () => {
    const [first] = recipesFor(wanted);
    expect(first?.amounts.map((amount) => amount > 0)).toEqual([true, false, true, false]);
    expect(first?.amounts[0]).toBeGreaterThan(0.6);
    expect(first?.amounts[0]).toBeLessThan(1.1);
  });

  it('can be weighed: thousandths of a percent, three figures', () => {
    for (const { amounts } of recipesFor(wanted))
      for (const amount of amounts)
        expect(amount).toBe(Math.round(Number(amount.toPrecision(3)) * 1000) / 1000);
  });

  it('cost what their dyes cost, and nothing is said where a price is not known', () => {
    const [first] = recipesFor(wanted);
    expect(first?.pricePerKg).toBeCloseTo(2 * (first?.amounts[0] ?? 0) + 5 * (first?.amounts[2] ?? 0), 9);
    expect(recipesFor(wanted, { pricePerPercent: [2, 3, null, 1] })[0]?.pricePerKg).toBeNull();
  });

  it('are of the dyes that may be used', () => {
    for (const { amounts } of recipesFor(wanted, { usable: [0, 2, 3] })) expect(amounts[1]).toBe(0);
    expect(recipesFor(wanted, { usable: [] })).toEqual([]);
  });

  it('say how far they may be out: more where the shade itself is not well known', () => {
    const [sure] = recipesFor(wanted);
    const [unsure] = recipesFor(wanted, {}, 6, 5);
    expect(sure?.within).toBeGreaterThan(sure?.difference ?? 0);
    expect(unsure?.within).toBeGreaterThan(4.9);
    expect(unsure?.within).toBeGreaterThan(sure?.within ?? 0);
  });

  it('tell which dyes go deeper than any swatch, and never go far beyond', () => {
    const [deep] = recipesFor(world.shadeOf([0, 0, 3.5, 0]), { deepest: [4, 4, 3, 4] });
    expect(deep?.beyondDeepest).toEqual([2]);
    expect(recipesFor(world.shadeOf([0, 0, 1, 0]))[0]?.beyondDeepest).toEqual([]);
    for (const { amounts } of recipesFor({ l: 5, a: 0, b: 0 }))
      expect(Math.max(...amounts)).toBeLessThanOrEqual(6);
  });

  it('are no more than were asked for', () => {
    expect(recipesFor(wanted, {}, 1)).toHaveLength(1);
  });
});

describe('first recipes for a shade that these dyes do not give', () => {
  it('come as near as they can and say that they do not reach it', () => {
    const recipes = recipesFor({ l: 60, a: -70, b: 60 });
    expect(recipes.length).toBeGreaterThan(0);
    for (const { isReached, difference, within } of recipes) {
      expect(isReached).toBe(false);
      expect(within).toBeGreaterThan(difference);
    }
    const differences = recipes.map(({ difference }) => difference);
    expect(Math.min(...differences)).toBe(differences[0]);
  });
});

describe('in incandescent light', () => {
  it('recipes that match by day differ, and it is told of each how far it may leave another cloth', () => {
    const wanted = world.shadeOf([0.3, 0.3, 0.3, 0]);
    const recipes = recipesFor(wanted);
    for (const { apartInIncandescent } of recipes) {
      expect(apartInIncandescent).toBeGreaterThanOrEqual(0);
      expect(apartInIncandescent).toBeLessThan(12);
    }
    expect(Math.max(...recipes.map((each) => each.apartInIncandescent))).toBeGreaterThan(0.3);
  });
});

describe.each(UPTAKE_LAWS)('dyed by the first recipe in a world of %s', (law) => {
  it('a shade comes out within 2 by the median, as read in a booth', () => {
    const found = [11, 47, 83].flatMap(
      (seed) => tryIn(dyeWorld(seed, law), BOOTH, { mixtures: 12, recipes: 0, targets: 8 }).first,
    );
    expect(quantile(found, 0.5)).toBeLessThan(2);
  });
});

describe('against trying every amount', () => {
  it('nothing on a fine grid of two dyes comes nearer than what is found', () => {
    const tried = dyeWorld(23, 'exhaustion');
    for (let shade = 0; shade < 5; shade++) {
      const wanted = mixedOfTwo(tried);
      const found = firstRecipes(
        predictor,
        { lab: wanted, uncertainty: 0 },
        { ...AT_HAND, usable: [0, 2] },
        3,
      );
      const nearest = Math.min(...found.map(({ difference }) => difference));
      let onGrid = Number.POSITIVE_INFINITY;
      for (let one = -3; one <= 0.75; one += 0.05)
        for (let other = -3; other <= 0.75; other += 0.05)
          onGrid = Math.min(onGrid, deltaE00(wanted, predictor.shadeOf([10 ** one, 0, 10 ** other, 0])));
      expect(nearest).toBeLessThan(onGrid + 0.1);
    }
  });
});

function mixedOfTwo(from: DyeWorld): Lab {
  const [one = 0.5, other = 0.5] = someMixture(from).filter((amount) => amount > 0);
  return from.shadeOf([one, 0, other, 0]);
}
