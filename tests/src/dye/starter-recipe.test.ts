import { describe, expect, it } from 'vitest';
import { bathFor } from '../../../src/dye/bath.ts';
import { classesFor } from '../../../src/dye/dye-class.ts';
import { conditionsFor } from '../../../src/dye/dye-conditions.ts';
import { type Content, FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe, startersFor } from '../../../src/dye/starter-recipe.ts';

const of = (...shares: [FibreCode, number][]): Content =>
  shares.map(([fibre, percent]) => ({ fibre, shareBp: percent * 100 }));
const shade = (percent: number) => [{ name: 'Demo red', owfMilli: percent * 1000 }];

const STARTERS = FIBRE_CODES.flatMap((fibre) =>
  startersFor(fibre).map((dyeClass) => ({
    fibre,
    dyeClass,
    // Polyester at the boil takes a tint alone.
    recipe: starterRecipe(of([fibre, 100]), dyeClass, shade(fibre === 'polyester' ? 0.4 : 1)),
  })),
);

/** The auxiliaries as "kind form amount". */
const listed = (recipe: Recipe | undefined) =>
  recipe?.auxiliaries.map((each) =>
    each.per === 'litre'
      ? `${each.kind} ${each.mgPerLitre / 1000} g/L`
      : `${each.kind} ${each.owfMilli / 1000} %`,
  );

describe('recipes to start from', () => {
  it('are there for the usual dye of every fibre that takes dye', () => {
    expect(STARTERS.length).toBeGreaterThanOrEqual(26);
    for (const fibre of FIBRE_CODES) expect(startersFor(fibre)[0]).toBe(classesFor(fibre)[0]);
  });

  it.each(STARTERS)('hold for $fibre with $dyeClass', ({ fibre, recipe }) => {
    if (!recipe) throw new Error('no recipe');
    expect(checkRecipe(recipe, of([fibre, 100])).problems).toEqual([]);
    expect(bathFor(500_000, recipe).ok).toBe(true);
  });

  it.each(STARTERS)('agree with the conditions for $fibre with $dyeClass', ({ fibre, dyeClass, recipe }) => {
    const way = conditionsFor(fibre, dyeClass).find(({ method }) => method === recipe?.method);
    if (!recipe || !way) throw new Error(`no conditions for ${recipe?.method}`);
    expect(way.vessel).toBe('open');
    expect(recipe.temperatureC).toBeGreaterThanOrEqual(way.temperatureC[0]);
    expect(recipe.temperatureC).toBeLessThanOrEqual(way.temperatureC[1]);
    expect([recipe.pHFrom, recipe.pHTo]).toEqual(way.pH);
    if (way.minutes) {
      expect(recipe.holdMinutes).toBeGreaterThanOrEqual(way.minutes[0]);
      expect(recipe.holdMinutes).toBeLessThanOrEqual(way.minutes[1]);
    }
  });

  it.each(STARTERS)('mark every figure for $fibre with $dyeClass', ({ recipe }) => {
    const kinds = recipe?.auxiliaries.map(({ kind }) => `auxiliaries.${kind}`) ?? [];
    const figures = ['liquorRatioMilli', 'temperatureC', 'holdMinutes', 'pH', ...kinds];
    expect(Object.keys(recipe?.marks ?? {}).sort()).toEqual(figures.sort());
    for (const { source } of Object.values(recipe?.marks ?? {})) expect(source).not.toBe('');
  });

  it('are none for what takes no dye, or for a class without one', () => {
    expect(startersFor('glass')).toEqual([]);
    expect(starterRecipe(of(['olefin', 100]), 'disperse', shade(1))).toBeUndefined();
    expect(starterRecipe(of(['silk', 100]), 'vat', shade(1))).toBeUndefined();
  });
});

describe('the figures of a starting recipe', () => {
  it('for nylon with acid dye are those published', () => {
    // tradetextile.com, archive page 38365: acetic acid 1 to 3 %, levelling agent 0.3 to 0.5 %, 20:1, pH 4 to 6.
    const recipe = starterRecipe(of(['nylon', 100]), 'acid-levelling', shade(2));
    expect(recipe).toMatchObject({ liquorRatioMilli: 20_000, pHFrom: 4, pHTo: 6 });
    // Vinegar of 5 g in 100 mL, 1.006 g/mL: 20.12 g hold a gram of acid.
    expect(listed(recipe)).toEqual(['acetic-acid 20.12 %', 'levelling-agent 0.5 %', 'syntan 4 %']);
  });

  it('for polyester are for the open pot, with acid and dispersing agent by the litre', () => {
    // textilelearner.blogspot.com, January 2012: dispersing agent 1 g/L, acetic acid 1 g/L, pH 4 to 5.5, 60 min.
    const recipe = starterRecipe(of(['polyester', 100]), 'disperse', shade(0.4));
    expect(recipe).toMatchObject({ temperatureC: 98, holdMinutes: 60, pHFrom: 4, pHTo: 5.5 });
    expect(listed(recipe)).toEqual(['dispersant 1 g/L', 'acetic-acid 20.12 g/L']);
  });

  it('for cotton take salt and soda by depth', () => {
    // hindawi.com/journals/jma/2016/9739380, table 2: 0.5 % 20 and 5 g/L, 4 % 70 and 20 g/L.
    const recipe = (percent: number) => starterRecipe(of(['cotton', 100]), 'reactive', shade(percent));
    expect(listed(recipe(0.5))).toEqual(['salt 20 g/L', 'soda-ash 5 g/L']);
    expect(listed(recipe(4))).toEqual(['salt 70 g/L', 'soda-ash 20 g/L']);
    expect(recipe(4)?.auxiliaries[1]?.form).toBe('anhydrous');
  });

  it('for cotton with direct dye take 5, 10 or 20 % of salt', () => {
    // textiletipszone.blogspot.com, August 2024: light, medium, dark within 1 to 4 % of dye; soda 1 to 3 %.
    const recipe = (percent: number) => starterRecipe(of(['cotton', 100]), 'direct', shade(percent));
    expect([1, 2, 4].map((percent) => listed(recipe(percent))?.[0])).toEqual([
      'salt 5 %',
      'salt 10 %',
      'salt 20 %',
    ]);
  });

  it("for wool use Glauber's salt crystals with levelling dye and none with milling dye", () => {
    // Broadbent, p. 246.
    const wool = of(['wool', 100]);
    const levelling = starterRecipe(wool, 'acid-levelling', shade(1));
    expect(levelling?.auxiliaries.find(({ kind }) => kind === 'glauber-salt')?.form).toBe('decahydrate');
    const milling = starterRecipe(wool, 'acid-milling', shade(1));
    expect(milling?.auxiliaries.map(({ kind }) => kind)).not.toContain('glauber-salt');
  });

  it('for silk stay below the boil', () => {
    expect(starterRecipe(of(['silk', 100]), 'acid-levelling', shade(1))?.temperatureC).toBe(85);
  });
});

describe('a starting recipe for a blend', () => {
  it('is that of the largest share that the class dyes', () => {
    const blend = of(['polyester', 60], ['wool', 30], ['silk', 10]);
    expect(starterRecipe(blend, 'acid-levelling', shade(1))?.method).toBe('fast acid, with acetic acid');
    expect(starterRecipe(blend, 'disperse', shade(1))?.method).toBe('at the boil, no carrier');
  });

  it('keeps to the heat that the most delicate fibre stands, and says why', () => {
    const recipe = starterRecipe(of(['nylon', 95], ['metallised', 5]), 'acid-levelling', shade(1));
    expect(recipe?.temperatureC).toBe(60);
    expect(recipe?.marks.temperatureC).toEqual({ basis: 'from memory', source: 'from memory' });
    expect(starterRecipe(of(['nylon', 90], ['elastane', 10]), 'acid-levelling', shade(1))?.temperatureC).toBe(
      98,
    );
  });
});
