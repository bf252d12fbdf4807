import { describe, expect, it } from 'vitest';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { FibreCode } from '../../../src/dye/fibre.ts';
import { FIBRES } from '../../../src/dye/fibre.ts';
import { rampOf, rampSteps } from '../../../src/dye/ramp.ts';
import { bathAuxiliaries, type Recipe } from '../../../src/dye/recipe.ts';
import { starterRecipe, startersFor } from '../../../src/dye/starter-recipe.ts';

const of = (fibre: FibreCode) => [{ fibre, shareBp: 10_000 }];

function starter(fibre: FibreCode, dyeClass: DyeClass): Recipe {
  const made = starterRecipe(of(fibre), dyeClass, [{ name: 'Dye', owfMilli: 1000 }]);
  if (!made) throw new Error(`no recipe for ${dyeClass} on ${fibre}`);
  return made;
}

describe('a ramp', () => {
  it('sets polyester at 60 °C, rises by 1 °C a minute, holds an hour, and cools as slowly to 60 °C', () => {
    // Start: textilelearner.blogspot.com, January 2012; rate 1 to 1.5 °C a minute: fersantekstil.com.
    const points = rampOf(starter('polyester', 'disperse'), of('polyester'));
    expect(points.map(({ minute, temperatureC, kind }) => [minute, temperatureC, kind])).toEqual([
      [0, 60, 'set'],
      [10, 60, 'add'],
      [20, 60, 'heat'],
      [58, 98, 'hold'],
      [118, 98, 'cool'],
      [156, 60, 'end'],
    ]);
    expect(points[0]?.adds).toEqual(['dispersing agent', 'acetic acid']);
    expect(points[1]?.adds).toEqual(['Dye']);
  });

  // Broadbent, p. 394; xingwuchemical.com: 1 °C in 2 to 4 minutes through 75 to 85 °C, hold at 85 to 90; 15 min from memory.
  it('goes slowly through the degrees in which acrylic takes its dye, and waits there', () => {
    const steps = rampSteps(starter('acrylic', 'basic'), of('acrylic')).filter(({ kind }) => kind === 'heat');
    expect(steps.map(({ toC, rateCPerMinute, minutes }) => [toC, rateCPerMinute, minutes])).toEqual([
      [70, 1, 10],
      [85, 0.4, 38],
      [85, 0, 15],
      [98, 1, 13],
    ]);
  });

  it('gives reactive dye its salt by thirds, and the soda last, when the bath is warm', () => {
    const steps = rampSteps(starter('cotton', 'reactive'), of('cotton'));
    expect(steps.map(({ kind, adds }) => [kind, ...adds])).toEqual([
      ['set'],
      ['add', 'Dye'],
      ['add', 'salt (sodium chloride)'],
      ['add', 'salt (sodium chloride)'],
      ['add', 'salt (sodium chloride)'],
      ['heat'],
      ['add', 'soda ash'],
      ['hold'],
    ]);
  });

  it('reaches the heat of the recipe, and puts in every dye and auxiliary, for every recipe to start from', () => {
    for (const { code } of FIBRES) {
      for (const dyeClass of startersFor(code)) {
        const recipe = starter(code, dyeClass);
        const points = rampOf(recipe, of(code));
        const minutes = points.map(({ minute }) => minute);
        expect(minutes).toEqual([...minutes].sort((a, b) => a - b));
        expect(Math.max(...points.map(({ temperatureC }) => temperatureC))).toBe(recipe.temperatureC);
        const added = new Set(points.flatMap(({ adds }) => adds));
        expect([...added].sort()).toEqual(
          [...recipe.dyes, ...bathAuxiliaries(recipe)].map(({ name }) => name).sort(),
        );
      }
    }
  });

  it("goes by the recipe's own rates, marked as the recipe marks them", () => {
    const label = { basis: 'label', source: 'the label' } as const;
    const made = starter('polyester', 'disperse');
    const recipe = {
      ...made,
      heatRateMilli: 500,
      coolRateMilli: 1500,
      marks: { ...made.marks, rates: label },
    };
    // 60 to 98 °C at 0.5 are 76 minutes; 98 to 60 at 1.5 are 25.33, rounded up.
    const steps = rampSteps(recipe, of('polyester')).filter(({ rateCPerMinute }) => rateCPerMinute !== 0);
    expect(steps.map(({ kind, minutes, mark }) => [kind, minutes, mark])).toEqual([
      ['heat', 76, label],
      ['cool', 26, label],
    ]);
  });

  it('never hurries what must be passed slowly, and counts whole minutes exactly', () => {
    const rates = (heatRateMilli: number) =>
      rampSteps({ ...starter('acrylic', 'basic'), heatRateMilli }, of('acrylic'))
        .filter(({ kind }) => kind === 'heat')
        .map(({ rateCPerMinute, minutes }) => [rateCPerMinute, minutes]);
    expect(rates(2000)).toEqual([
      [2, 5],
      [0.4, 38],
      [0, 15],
      [2, 7],
    ]);
    // 15 °C at 0.3 °C a minute are 50 minutes, and 13 °C are 43.3, rounded up.
    expect(rates(300).filter(([rate]) => rate !== 0)).toContainEqual([0.3, 50]);
    expect(rates(300).at(-1)).toEqual([0.3, 44]);
  });
});
