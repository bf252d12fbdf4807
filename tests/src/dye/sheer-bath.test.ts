import { describe, expect, it } from 'vitest';
import type { Content } from '../../../src/dye/fibre.ts';
import {
  type ClothInBath,
  m2PerLitre,
  ratioFor,
  sheerBathCare,
  withRatio,
} from '../../../src/dye/sheer-bath.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import { COMMON_PRACTICE, type Provenance } from '../../../src/quantity/provenance.ts';

const nylon: Content = [{ fibre: 'nylon', shareBp: 10_000 }];
const silk: Content = [{ fibre: 'silk', shareBp: 10_000 }];
/** So many m² at so many g/m². */
const cloth = (m2: number, gPerM2: number, sheer = true): ClothInBath => ({
  sheer,
  areaMm2: m2 * 1_000_000,
  massMg: m2 * gPerM2 * 1000,
});
const recipe = (ratio: number, mark: Provenance = COMMON_PRACTICE, temperatureC = 98) => ({
  liquorRatioMilli: ratio * 1000,
  temperatureC,
  marks: { liquorRatioMilli: mark },
});
const LABEL: Provenance = { basis: 'label', source: 'the label' };

describe('square metres in a litre', () => {
  // 1000 ÷ (g/m² × litres a kilogram), worked out by hand: a cloth of 20 g/m² at three ratios.
  it.each([
    [20, 2.5],
    [40, 1.25],
    [60, 0.83],
  ])('of cloth of 20 g/m² at 1:%s are %s', (ratio, m2) => {
    expect(m2PerLitre(20_000, ratio * 1000)).toBeCloseTo(m2, 2);
  });
});

describe('the liquor ratio of a bath', () => {
  it('of sheer cloth is at least a litre to the square metre, which is our rule', () => {
    // 10 m² of 20 g/m² weigh 200 g: by mass at 1:20 that is 4 L, by area 10 L, which is 1:50.
    expect(ratioFor(recipe(20), nylon, [cloth(10, 20)])).toEqual({
      ratioMilli: 50_000,
      mark: { basis: 'our rule', source: 'our rule: 1 m² of sheer cloth moves freely in a litre' },
      warnings: [],
    });
    // 30 g/m² wants 1:33.3, rounded up.
    expect(ratioFor(recipe(20), nylon, [cloth(10, 30)]).ratioMilli).toBe(34_000);
  });

  it('is that of the recipe where the cloth is dense, heavy, or has room enough', () => {
    const byRecipe = { ratioMilli: 20_000, mark: COMMON_PRACTICE, warnings: [] };
    expect(ratioFor(recipe(20), nylon, [cloth(10, 20, false)])).toEqual(byRecipe);
    expect(ratioFor(recipe(20), silk, [cloth(10, 80)])).toEqual(byRecipe);
    expect(ratioFor(recipe(60), nylon, [cloth(10, 20)]).ratioMilli).toBe(60_000);
  });

  it('of sheer synthetic cloth in a hot bath is never below what the care of creases asks', () => {
    // 100 g/m² has room from 1:10, and folds set below 1:30.
    expect(ratioFor(recipe(20), nylon, [cloth(10, 100)])).toMatchObject({
      ratioMilli: 30_000,
      mark: { basis: 'common practice' },
    });
    expect(ratioFor(recipe(20, COMMON_PRACTICE, 60), nylon, [cloth(10, 100)]).ratioMilli).toBe(20_000);
  });

  it('counts sheer cloth by its area and the other by its mass', () => {
    // 10 L for the 10 m² of 20 g/m², and 20 L for a kilogram of dense cloth: 30 L for 1.2 kg.
    const mixed = ratioFor(recipe(20), silk, [cloth(10, 20), cloth(10, 100, false)]);
    expect(mixed.ratioMilli).toBe(25_000);
  });

  it('of the label, the workroom or the batch stands, with a warning where the cloth is packed', () => {
    const packed = [
      { id: 'sheer-bath', text: expect.stringContaining('from 1:50'), source: expect.anything() },
    ];
    for (const mark of [LABEL, { basis: 'own', source: 'this workroom' } as const]) {
      expect(ratioFor(recipe(20, mark), nylon, [cloth(10, 20)])).toEqual({
        ratioMilli: 20_000,
        mark,
        warnings: packed,
      });
    }
    expect(ratioFor(recipe(20), nylon, [cloth(10, 20)], 40_000)).toMatchObject({
      ratioMilli: 40_000,
      mark: { basis: 'own' },
      warnings: packed,
    });
    expect(ratioFor(recipe(20), nylon, [cloth(10, 20)], 55_000).warnings).toEqual([]);
    expect(ratioFor(recipe(20), nylon, [cloth(10, 20, false)], 40_000).ratioMilli).toBe(40_000);
  });

  it('stops at what a recipe may ask', () => {
    expect(ratioFor(recipe(20), silk, [cloth(10, 2)]).ratioMilli).toBe(200_000);
    expect(ratioFor(recipe(20), silk, [{ sheer: true, areaMm2: 1, massMg: 0 }]).ratioMilli).toBe(20_000);
  });

  it('goes into the recipe with its mark, so that all amounts follow', () => {
    const starter = starterRecipe(nylon, 'acid-levelling', [{ name: 'Fern', owfMilli: 1000 }]);
    if (!starter) throw new Error('nylon has a recipe to start from');
    const ratio = ratioFor(starter, nylon, [cloth(10, 20)]);
    expect(withRatio(starter, ratio)).toMatchObject({
      liquorRatioMilli: 50_000,
      marks: { liquorRatioMilli: { basis: 'our rule' } },
    });
    expect(withRatio(starter, { ...ratio, ratioMilli: starter.liquorRatioMilli })).toBe(starter);
  });
});

describe('the care of a sheer bath', () => {
  it('is that it covers the cloth, and from 80 L that it is not lifted', () => {
    const ids = (litres: number) => sheerBathCare([{ volumeUl: litres * 1_000_000 }]).map(({ id }) => id);
    expect(ids(80)).toEqual(['sheer-covered']);
    expect(ids(81)).toEqual(['sheer-covered', 'bath-lifted']);
    expect(sheerBathCare([])).toHaveLength(1);
  });
});
