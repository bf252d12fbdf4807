import { describe, expect, it } from 'vitest';
import { bathFor } from '../../../src/dye/bath.ts';
import type { Content } from '../../../src/dye/fibre.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { limitsPassedByWeighing } from '../../../src/dye/weighed-limits.ts';

/** 50 g in a litre: a reduction clear of 1 g of caustic soda, and vinegar in the bath. */
const RECIPE: Recipe = {
  dyeClass: 'disperse',
  method: '',
  dyes: [{ name: 'Rust', owfMilli: 2000 }],
  auxiliaries: [
    { kind: 'acetic-acid', name: 'vinegar', form: 'vinegar-5', per: 'litre', mgPerLitre: 20_000 },
    { kind: 'soda-ash', name: 'soda', form: 'anhydrous', per: 'litre', mgPerLitre: 100 },
  ],
  liquorRatioMilli: 20_000,
  temperatureC: 98,
  holdMinutes: 60,
  marks: {},
};
const BLEND: Content = [
  { fibre: 'polyester', shareBp: 7000 },
  { fibre: 'viscose', shareBp: 3000 },
];

const passedBy = (content: Content, kind: 'clear' | 'set', name: string, massMg: number, recipe = RECIPE) => {
  const bathed = bathFor(50_000, recipe);
  const step = orderOfWork(recipe, content).find((each) => each.kind === kind);
  if (!bathed.ok || !step) throw new Error('no bath');
  return limitsPassedByWeighing({ recipe, content, bath: bathed.bath, water: null }, step, [
    { name, massMg },
  ]).map(({ says }) => says);
};

describe('what was weighed', () => {
  it('for a bath beside the dye bath is held to the limits of the cloth', () => {
    // Viscose: at most 10 g/L of caustic soda.
    expect(passedBy(BLEND, 'clear', 'caustic soda', 10_000)).toEqual([]);
    expect(passedBy(BLEND, 'clear', 'caustic soda', 10_100)).toEqual([
      expect.stringMatching(/^Viscose: caustic soda dissolves part of it/),
    ]);
  });

  it('for the bath is held to them too, and what the plan passes already is not told again', () => {
    const acetate: Content = [{ fibre: 'triacetate', shareBp: 10_000 }];
    // 0.1 g/L of soda is about pH 10.2 in soft water, which triacetate does not stand when hot.
    expect(passedBy(acetate, 'set', 'soda', 10_000)).toEqual([]);
    const less = RECIPE.auxiliaries.map((each) =>
      each.name === 'soda' && each.per === 'litre' ? { ...each, mgPerLitre: 10 } : each,
    );
    const mild = { ...RECIPE, auxiliaries: less };
    expect(passedBy(acetate, 'set', 'soda', 10, mild)).toEqual([]);
    expect(passedBy(acetate, 'set', 'soda', 1000, mild)).toEqual([
      expect.stringMatching(/^Triacetate: hot alkali.*pH 1\d\.\d from soda/),
    ]);
    expect(passedBy(acetate, 'set', 'nothing of the plan', 1000, mild)).toEqual([]);
  });
});
