import { describe, expect, it } from 'vitest';
import { bathFor } from '../../../src/dye/bath.ts';
import { atDepth, dyesAtDepth, withDyes } from '../../../src/dye/depth.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { measuredFrom, sharedStocks } from '../../../src/dye/shared-stock.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import { swatchSideTicks, swatchWarnings } from '../../../src/dye/swatch.ts';

/** Dyes on weight of fabric in percent, one bath at a liquor ratio. */
function recipe(dyes: Readonly<Record<string, number>>, ratio = 20, more: Partial<Recipe> = {}): Recipe {
  return {
    dyeClass: 'disperse',
    method: '',
    dyes: Object.entries(dyes).map(([name, percent]) => ({ name, owfMilli: Math.round(percent * 1000) })),
    auxiliaries: [],
    liquorRatioMilli: ratio * 1000,
    temperatureC: 98,
    holdMinutes: 60,
    marks: {},
    ...more,
  };
}

/** One bath of a mass in grams with a dye from a stock, in grams in 100 mL. */
function measured(massG: number, percent: number, stockPercent: number) {
  const bathed = bathFor(massG * 1000, recipe({ Dye: percent }));
  if (!bathed.ok) throw new Error(bathed.reason);
  const made = measuredFrom([bathed.bath], [{ name: 'Dye', mgPer100Ml: stockPercent * 1000 }]);
  if (!made.ok) throw new Error(made.reason);
  return made.baths[0];
}

describe('published sums of swatches and stocks', () => {
  // dummies.com, depth of shade: 454 g of wool at 1, 2 and 0.1 % from 1 % and 0.1 % stocks.
  it.each([
    [454, 1, 1, 454],
    [454, 2, 1, 908],
    [454, 0.1, 1, 45.4],
    [454, 0.1, 0.1, 454],
  ])('%d g at %d %% from a %d %% stock takes %d mL', (massG, percent, stock, ml) => {
    expect(measured(massG, percent, stock)?.lines[0]?.volumeUl).toBe(ml * 1000);
  });

  // A wool dye supplier's page on calculating quantities.
  it.each([
    [125, 2, 2.5],
    [300, 3, 9],
  ])('%d g at %d %% takes %d g of dye', (massG, percent, dyeG) => {
    const bathed = bathFor(massG * 1000, recipe({ Dye: percent }));
    expect(bathed.ok && bathed.bath.lines[0]?.massMg).toBe(dyeG * 1000);
  });

  // textilepad, February 2022: 2 g of polyester at 1:20; dispersant 1 g/L and acid 1 mL/L in 40 mL.
  it('2 g at 1:20 are 40 mL; three dyes of a 1 % stock take 1.2, 0.8 and 1.6 mL', () => {
    const of = recipe({ One: 0.6, Two: 0.4, Three: 0.8 }, 20, {
      auxiliaries: [
        { kind: 'dispersant', name: 'Dispersant', form: 'as-sold', per: 'litre', mgPerLitre: 1000 },
      ],
    });
    const bathed = bathFor(2000, of);
    if (!bathed.ok) throw new Error(bathed.reason);
    expect(bathed.bath.volumeUl).toBe(40_000);
    expect(bathed.bath.lines.at(-1)?.massMg).toBe(40);
    const stocks = ['One', 'Two', 'Three'].map((name) => ({ name, mgPer100Ml: 1000 }));
    const made = measuredFrom([bathed.bath], stocks);
    if (!made.ok) throw new Error(made.reason);
    const [bath] = made.baths;
    expect(bath?.lines.slice(0, 3).map(({ volumeUl }) => volumeUl)).toEqual([1200, 800, 1600]);
    // The page prints "200 − 3.64 = 36.36": it takes the 3.6 mL of dye and 0.04 mL of acid from 40 mL, not from 200.
    const acidUl = 40;
    expect((bath?.freshWaterUl ?? 0) - acidUl).toBe(36_360);
    expect((bath?.freshWaterUl ?? 0) - acidUl).not.toBe(200_000 - 3640);
  });
});

describe('a recipe at another depth', () => {
  it('keeps the proportions of its dyes, together exactly the depth', () => {
    const dyes = atDepth(recipe({ Blue: 1.1, Green: 0.3 }), 'nylon', 100).dyes;
    // 100 × 1.1 ÷ 1.4 is 78.57 and 100 × 0.3 ÷ 1.4 is 21.43 thousandths.
    expect(dyes).toEqual([
      { name: 'Blue', owfMilli: 79 },
      { name: 'Green', owfMilli: 21 },
    ]);
    for (const depth of [1, 7, 99, 946, 2000, 20_000]) {
      const sum = atDepth(recipe({ Blue: 1.1, Green: 0.3, Red: 0.02 }), 'nylon', depth).dyes;
      expect(sum.reduce((all, { owfMilli }) => all + owfMilli, 0)).toBe(depth);
    }
  });

  it('drops a dye of which nothing is left', () => {
    const proportions = [
      { name: 'Blue', weight: 1 },
      { name: 'Green', weight: 0 },
    ];
    expect(dyesAtDepth(proportions, 50)).toEqual([{ name: 'Blue', owfMilli: 50 }]);
  });

  it('takes the salt that is offered for the new depth, and leaves what is the workroom’s own', () => {
    const cotton = [{ fibre: 'cotton' as const, shareBp: 10_000 }];
    const dyes = [{ name: 'Rust', owfMilli: 3000 }];
    const offered = starterRecipe(cotton, 'reactive', dyes);
    if (!offered) throw new Error('cotton has a starter');
    const pale = atDepth(offered, 'cotton', 100);
    const salt = (of: Recipe) =>
      of.auxiliaries.flatMap((each) =>
        each.kind === 'salt' && each.per === 'litre' ? [each.mgPerLitre] : [],
      );
    const asOffered = starterRecipe(cotton, 'reactive', [{ name: 'Rust', owfMilli: 100 }]);
    expect(salt(pale)).toEqual(asOffered && salt(asOffered));
    expect(salt(pale)[0]).toBeLessThan(salt(offered)[0] ?? 0);
    const own = {
      ...offered,
      auxiliaries: offered.auxiliaries.map((each) =>
        each.kind === 'salt' && each.per === 'litre' ? { ...each, mgPerLitre: 33_000 } : each,
      ),
    };
    expect(salt(withDyes(own, 'cotton', [{ name: 'Rust', owfMilli: 100 }]))).toEqual([33_000]);
  });

  it('leaves the syntan out where a pale shade is offered none, and takes it in for a deep one', () => {
    const nylon = [{ fibre: 'nylon' as const, shareBp: 10_000 }];
    const at = (depth: number) => starterRecipe(nylon, 'acid-levelling', [{ name: 'Blue', owfMilli: depth }]);
    const [pale, deep] = [at(100), at(3000)];
    if (!pale || !deep) throw new Error('nylon has a starter');
    const syntans = (of: Recipe) => of.auxiliaries.filter(({ kind }) => kind === 'syntan');
    expect(syntans(deep)).toHaveLength(1);
    expect(syntans(atDepth(deep, 'nylon', 100))).toEqual([]);
    expect(syntans(atDepth(pale, 'nylon', 3000))).toEqual(syntans(deep));
    expect(atDepth(pale, 'nylon', 3000).marks['auxiliaries.syntan']).toEqual(
      deep.marks['auxiliaries.syntan'],
    );
  });
});

describe('one stock for several baths', () => {
  const bathsOf = (massG: number, depths: readonly number[]) =>
    depths.map((depth) => {
      const bathed = bathFor(massG * 1000, atDepth(recipe({ Blue: 3, Red: 1 }), 'polyester', depth));
      if (!bathed.ok) throw new Error(bathed.reason);
      return bathed.bath;
    });

  it('is measured for every bath: the dye in it is what the bath asks, to a microlitre of stock', () => {
    for (const [massG, depths] of [
      [5, [100, 200, 400, 800, 1600]],
      [360, [100, 178, 316, 562, 1000]],
      [2, [500, 1000]],
    ] as const) {
      const baths = bathsOf(massG, depths);
      const shared = sharedStocks(baths, 10);
      if (!shared.ok) throw new Error(shared.reason);
      expect(shared.stocks.map(({ name }) => name)).toEqual(['Blue', 'Red']);
      for (const {
        perBathUl,
        totalUl,
        makeMl,
        jugs,
        mgPer100Ml,
        weighMg,
        dilutions,
        name,
      } of shared.stocks) {
        expect(perBathUl.reduce((sum, each) => sum + each, 0)).toBe(totalUl);
        expect(totalUl).toBeLessThanOrEqual((dilutions?.at(-1)?.makeMl ?? makeMl) * jugs * 1000);
        expect(Math.min(...perBathUl)).toBeGreaterThanOrEqual(1000);
        if (!dilutions) expect((weighMg * 100) / makeMl).toBe(mgPer100Ml);
        // A balance of 0.01 g weighs a gram of dye well enough.
        expect(weighMg).toBeGreaterThanOrEqual(1000);
        baths.forEach((bath, at) => {
          const wanted = bath.lines.find((line) => line.name === name)?.massUg ?? 0;
          const held = ((perBathUl[at] ?? 0) * mgPer100Ml) / 100;
          expect(Math.abs(held - wanted)).toBeLessThanOrEqual(mgPer100Ml / 200 + 1e-9);
        });
      }
      shared.baths.forEach((bath) => {
        const stocksUl = bath.lines.reduce((sum, line) => sum + (line.volumeUl ?? 0), 0);
        expect(bath.freshWaterUl).toBe(bath.volumeUl - stocksUl);
      });
    }
  });

  it('is refused where the palest and the deepest lie too far apart for one', () => {
    const shared = sharedStocks(bathsOf(2, [1, 20_000]), 10);
    expect(shared).toMatchObject({ ok: false });
  });
});

describe('what a swatch can tell', () => {
  const ids = (massG: number, lab: number, bulk: number, dye: Recipe['dyeClass'] = 'acid-levelling') =>
    swatchWarnings({ massMg: massG * 1000, labRatioMilli: lab * 1000, bulkRatioMilli: bulk * 1000 }, [
      dye,
    ]).map(({ id }) => id);

  it('is less where it is small, and where its ratio is another than that of the pot', () => {
    expect(ids(5, 20, 20)).toEqual(['loose-swatch']);
    expect(ids(4.9, 20, 20)).toContain('small-swatch');
    expect(ids(1.9, 20, 20)).toContain('tiny-swatch');
    expect(ids(5, 40, 20)).toContain('lab-ratio');
  });

  it('runs the other way in a shorter bath, and further with reactive dye', () => {
    const said = (lab: number, bulk: number, dye: Recipe['dyeClass']) =>
      swatchWarnings({ massMg: 5000, labRatioMilli: lab * 1000, bulkRatioMilli: bulk * 1000 }, [dye]).find(
        ({ id }) => id === 'lab-ratio',
      )?.text;
    expect(said(40, 20, 'acid-levelling')).toContain('deeper than the swatch.');
    expect(said(40, 20, 'reactive')).toContain('deeper than the swatch, and a good deal so');
    expect(said(20, 40, 'direct')).toContain('paler than the swatch, and to want more salt');
  });

  it('is cut from a square: 5 g of 20 g/m² is half a metre each way', () => {
    expect(swatchSideTicks(5000, 20_000)).toBe(80_000);
    expect(() => swatchSideTicks(5000, 0)).toThrow(RangeError);
  });
});
