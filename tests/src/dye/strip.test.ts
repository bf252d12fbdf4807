import { describe, expect, it } from 'vitest';
import { AUXILIARY_KINDS, auxiliaryForm, groupsOf } from '../../../src/dye/auxiliaries.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { checkRecipe } from '../../../src/dye/recipe-check.ts';
import {
  BISULPHITE_PER_CHLORINE,
  STRIP_METHODS,
  stripHeat,
  stripMethod,
  stripRecipe,
} from '../../../src/dye/strip.ts';

const dosesOf = (code: Parameters<typeof stripMethod>[0]) =>
  stripMethod(code).doses.map((dose) => ('mgPerLitre' in dose ? dose.mgPerLitre : -dose.owfMilli));

describe('stripping', () => {
  // A craft supplier's page: 500 g of cloth, 8 L, thiourea dioxide 10 g and soda 20 g. That is 2 % on fabric, 1.25 g/L, 16:1.
  it('takes thiourea dioxide as published: 10 g and 20 g of soda to 500 g in 8 L', () => {
    const { liquorRatioMilli } = stripMethod('thiourea-dioxide');
    const litres = (0.5 * liquorRatioMilli) / 1000;
    expect(litres).toBe(8);
    const [dioxide = 0, soda = 0] = dosesOf('thiourea-dioxide').map((mg) => (mg * litres) / 1000);
    expect(dioxide).toBe(10);
    expect(soda).toBe(20);
    expect((dioxide / 500) * 100).toBe(2);
  });

  it.each([
    ['cotton', 100, [15, 20]],
    ['wool', 90, [5, 10]],
    ['silk', 85, [15, 20]],
  ] as const)('works it on %s at %i °C', (fibre, toC, minutes) => {
    expect(stripHeat(stripMethod('thiourea-dioxide'), [fibre])).toMatchObject({ toC, minutes });
  });

  it('takes the coolest of a blend, and none of a fibre that it is not given for', () => {
    const method = stripMethod('thiourea-dioxide');
    expect(stripHeat(method, ['cotton', 'silk'])?.toC).toBe(85);
    expect(stripHeat(method, ['acetate'])).toBeNull();
  });

  // textileapex, reactive notes: hydros 5 g/L with soda 2 g/L, boil 20 to 30 minutes; acetic 5 to 10 g/L, 85 to 90 °C.
  it('takes hydrosulphite and the acid half-strip as published', () => {
    expect(dosesOf('hydros')).toEqual([5000, 2000]);
    expect(stripHeat(stripMethod('hydros'), ['cotton'])).toMatchObject({ toC: 100, minutes: [20, 30] });
    expect(dosesOf('acid-half')).toEqual([5000]);
  });

  // textilelearner, January 2012, stripping of acid dyes: Glauber's salt 20 %, ammonia 0.5 %, on fabric.
  it('takes salt and ammonia for acid dye as published', () => {
    expect(dosesOf('glauber-boil')).toEqual([-20_000]);
    expect(dosesOf('ammonia')[0]).toBe(-500);
  });

  // The same page halves the soda for wool: 10 g to 500 g in 8 L.
  it('takes half the soda on wool, and our limit of hot alkali stands before it', () => {
    const content = [{ fibre: 'wool', shareBp: 10_000 }] as const;
    const recipe = stripRecipe(stripMethod('thiourea-dioxide'), content);
    expect(recipe?.auxiliaries.map((each) => each.per === 'litre' && each.mgPerLitre)).toEqual([1250, 1250]);
    const { problems } = checkRecipe(recipe as Recipe, content);
    expect(problems.map(({ message }) => message).join(' ')).toContain('hot alkali dissolves it');
  });

  it('makes recipes that their fibres stand, or says why not', () => {
    for (const method of STRIP_METHODS) {
      for (const fibre of ['cotton', 'viscose', 'silk', 'wool', 'nylon'] as const) {
        const content = [{ fibre, shareBp: 10_000 }];
        const recipe = stripRecipe(method, content);
        if (!recipe) continue;
        const { problems } = checkRecipe(recipe, content);
        const said = problems.map(({ message }) => message).join(' ');
        // Only alkali on silk and wool is refused, by the limits of those fibres.
        if (problems.length > 0)
          expect(said, `${method.name} on ${fibre}`).toMatch(/^(Silk|Wool): hot alkali/);
      }
    }
  });

  // Bisulphite for chlorine, by molar masses: 1.47 g a gram.
  it('takes chlorine out with 1.47 times as much bisulphite', () => {
    expect(BISULPHITE_PER_CHLORINE).toBeCloseTo(1.47, 2);
  });

  it('names only what is sold in that form, and says what it must not meet', () => {
    for (const { doses, name } of STRIP_METHODS) {
      for (const { kind, form } of doses) {
        expect(AUXILIARY_KINDS, name).toContain(kind);
        expect(auxiliaryForm(kind, form), `${name}: ${kind} ${form}`).toBeDefined();
        expect(groupsOf(kind, form), name).not.toBeNull();
      }
    }
  });
});
