import { describe, expect, it } from 'vitest';
import { afterBaths } from '../../../src/dye/after-baths.ts';
import { chemicalsOfDoses } from '../../../src/dye/bath-chemicals.ts';
import type { ChemicalGroup } from '../../../src/dye/chemical-group.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import { type Content, FIBRE_CODES, type FibreCode } from '../../../src/dye/fibre.ts';
import { type BathOnFibre, limitsPassed } from '../../../src/dye/fibre-limits.ts';
import { scourFor } from '../../../src/dye/order-facts.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import { starterRecipe, startersFor } from '../../../src/dye/starter-recipe.ts';
import { aux, recipe } from './bare-recipe.ts';

const gPerLitre = (group: ChemicalGroup, grams: number) => ({
  name: group,
  groups: [group],
  mgPerLitre: grams * 1000,
});
const all = (fibre: FibreCode): Content => [{ fibre, shareBp: 10_000 }];
const blend = (one: FibreCode, other: FibreCode): Content => [
  { fibre: one, shareBp: 9900 },
  { fibre: other, shareBp: 100 },
];
const problems = (made: Recipe, content: Content) => checkRecipe(made, content).problems;

const VAT: BathOnFibre = {
  chemicals: [gPerLitre('caustic', 5), gPerLitre('hydros', 5)],
  temperatureC: 50,
  minutes: 45,
};

describe('what the program offers itself', () => {
  const PAIRS = FIBRE_CODES.flatMap((one) => FIBRE_CODES.map((other) => [one, other] as const));

  it.each(FIBRE_CODES)('%s: every recipe to start from is lawful, pale and dark', (fibre) => {
    for (const dyeClass of startersFor(fibre)) {
      // Polyester at the boil takes a tint alone.
      for (const owfMilli of fibre === 'polyester' ? [100, 500] : [200, 4000]) {
        const made = starterRecipe(all(fibre), dyeClass, [{ name: 'Demo', owfMilli }]);
        if (!made) throw new Error(`none for ${dyeClass}`);
        expect(problems(made, all(fibre))).toEqual([]);
      }
    }
  });

  it.each(PAIRS)('%s with %s: scour and clear pass no limit', (one, other) => {
    const content = one === other ? all(one) : blend(one, other);
    const classes: readonly DyeClass[] = ['reactive', 'vat', 'disperse', 'acid-levelling', 'basic', 'direct'];
    const metallised = content.some(({ fibre }) => fibre === 'metallised');
    // Syntan wants pH 4 to 5, and is refused on metallised yarn: see below.
    const fixers = [aux('fixer', 'as-sold', 1000), ...(metallised ? [] : [aux('syntan', 'as-sold', 1000)])];
    const lawful = classes
      .map((dyeClass) => recipe(dyeClass, 60, ...fixers))
      // No bath follows one that may not be made at all.
      .filter((made) => made.dyeClass !== 'vat' || limitsPassed(VAT, content)[0]?.limit.act !== 'refuse');
    const sides = [scourFor(content), ...lawful.flatMap((made) => afterBaths(made, content))];
    for (const { doses, toC, minutes } of sides) {
      const bathed = { chemicals: chemicalsOfDoses(doses), temperatureC: toC, minutes };
      const refused = limitsPassed(bathed, content).filter(({ limit }) => limit.act === 'refuse');
      // How hot a side bath may be is held to the heat limit where the order of work is made.
      const harmed = refused.filter(({ limit }) => limit.over.aboveC === undefined);
      expect(harmed.map(({ says }) => says)).toEqual([]);
    }
  });

  it('no syntan, which wants pH 4 to 5, where there is metallised yarn that stands pH 5 to 8', () => {
    const made = recipe('acid-milling', 60, aux('syntan', 'as-sold', 1000));
    const found = problems({ ...made, pHFrom: 6, pHTo: 7 }, blend('nylon', 'metallised'));
    expect(found).toEqual([
      {
        field: 'auxiliaries.0.kind',
        message: expect.stringMatching(/Metallised.*acid and alkali eat the metal/),
      },
    ]);
  });
});
