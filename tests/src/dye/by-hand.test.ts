import { describe, expect, it } from 'vitest';
import { bathFor } from '../../../src/dye/bath.ts';
import { type ByHand, verdictByHand } from '../../../src/dye/by-hand.ts';
import type { DyeClass } from '../../../src/dye/dye-class.ts';
import type { Content, FibreCode } from '../../../src/dye/fibre.ts';
import { orderOfWork } from '../../../src/dye/order-of-work.ts';
import type { Recipe } from '../../../src/dye/recipe.ts';
import { starterRecipe } from '../../../src/dye/starter-recipe.ts';
import type { WorkKind } from '../../../src/dye/work-step.ts';

const all = (fibre: FibreCode): Content => [{ fibre, shareBp: 10_000 }];

/** The bath of a kilogram of cloth at a step of its work. */
function at(fibre: FibreCode, dyeClass: DyeClass, kind: WorkKind, change: Partial<Recipe> = {}) {
  const made = starterRecipe(all(fibre), dyeClass, [{ name: 'Fern', owfMilli: 400 }]);
  if (!made) throw new Error('no recipe');
  const recipe = { ...made, ...change };
  const bathed = bathFor(1_000_000, recipe);
  const step = orderOfWork(recipe, all(fibre)).find((each) => each.kind === kind);
  if (!bathed.ok || !step) throw new Error('no such step');
  return {
    recipe,
    content: all(fibre),
    bath: bathed.bath,
    step,
    before: [],
    material: '' as const,
    water: null,
  };
}
const grams = (kind: ByHand['kind'], form: string, mass: number, name: string = kind): ByHand => ({
  kind,
  form,
  name,
  massMg: mass * 1000,
});
const refused = (...given: Parameters<typeof verdictByHand>) => verdictByHand(...given).refused.join(' ');

describe('an auxiliary added by hand', () => {
  // International Chemical Safety Card 1717: dithionite with acid gives sulphur dioxide.
  it('is looked up against what is in the bath', () => {
    const nylon = at('nylon', 'acid-levelling', 'hold');
    expect(refused(nylon, grams('hydrosulphite', 'as-sold', 10))).toMatch(/sulphur dioxide/);
    expect(refused(nylon, grams('acetic-acid', 'vinegar-5', 50))).toBe('');
    // Chlorine Institute: hypochlorite with acid gives chlorine.
    expect(refused(nylon, grams('other', 'hypochlorite', 10, 'bleach'))).toMatch(/chlorine, a poisonous gas/);
  });

  it('is looked up against what went in by hand before, and against the vessel', () => {
    const cotton = at('cotton', 'reactive', 'hold');
    const acid = grams('citric-acid', 'as-sold', 5);
    const plain = { ...cotton, recipe: { ...cotton.recipe, auxiliaries: [] } };
    expect(refused(plain, grams('other', 'bisulphite', 5, 'antichlor'))).toBe('');
    expect(refused({ ...plain, before: [acid] }, grams('other', 'bisulphite', 5, 'antichlor'))).toMatch(
      /sulphur dioxide/,
    );
    expect(refused({ ...plain, material: 'aluminium' }, grams('soda-ash', 'anhydrous', 5))).toMatch(
      /hydrogen/,
    );
  });

  it('goes into the bath of its step: the scour has none of the acid of the dye bath', () => {
    const scour = at('nylon', 'acid-metal-complex', 'prepare');
    expect(refused(scour, grams('ammonium-sulphate', 'as-sold', 10))).toMatch(/ammonia gas/);
    expect(
      refused(at('nylon', 'acid-metal-complex', 'hold'), grams('ammonium-sulphate', 'as-sold', 10)),
    ).toBe('');
    expect(refused(at('nylon', 'acid-levelling', 'weigh'), grams('salt', 'as-sold', 10))).toMatch(
      /no bath at this step/,
    );
  });

  it('is held to what the cloth stands, by its dose in this bath', () => {
    // 20 L: 2 g of sulphuric acid to the litre are about pH 1.7, and nylon stands no less than 2.5 hot (our rule).
    const nylon = at('nylon', 'acid-levelling', 'hold');
    expect(refused(nylon, grams('sulphuric-acid', 'as-sold', 40))).toMatch(
      /Nylon: hot strong acid.*pH 1\.\d/,
    );
    const wool = at('wool', 'acid-levelling', 'hold');
    expect(refused(wool, grams('soda-ash', 'anhydrous', 20))).toMatch(/Wool: hot alkali dissolves it/);
    expect(refused(wool, grams('caustic-soda', 'as-sold', 1))).toMatch(/Wool: caustic soda/);
  });

  it('counts thread and trim that are in the bath', () => {
    const cotton = at('cotton', 'reactive', 'hold', { also: ['elastane'] });
    expect(refused(cotton, grams('other', 'hypochlorite', 5, 'bleach'))).toMatch(/Elastane: chlorine/);
  });

  it('tells the order that it wants, where it may go in', () => {
    const cotton = at('cotton', 'vat', 'hold');
    expect(verdictByHand(cotton, grams('hydrosulphite', 'as-sold', 10)).warned.join(' ')).toMatch(
      /Fill the bath first, then sprinkle/,
    );
  });
});
